/* The inner loop of the local search, compiled to WebAssembly.
 *
 * The search keeps a seating of every round and changes it by small exchanges.
 * All prices are whole numbers (i64) and all randomness comes from one seed, so
 * a run gives the same seating on every machine. What a price means is not
 * known here: the tables come from scheduler/rotation/kernel/arrays.py. The tests
 * hold the same sum written out plainly and compare.
 *
 * Build: python -m scheduler.rotation.kernel.build   (needs clang and wasm-ld)
 */

typedef int i32;
typedef long long i64;
typedef unsigned char u8;
typedef unsigned short u16;
typedef unsigned int u32;
typedef unsigned long long u64;

#define EXPORT(name) __attribute__((export_name(#name)))

enum { REST, MATCH, GROUP, SPARE };                    /* kinds of block */
enum { PLAYING, RESTING, ABSENT, ON_SPARE };           /* what a player does in a round */
enum { FROZEN = 1, KEEPS_TEAMS = 2, DRILL = 4 };       /* flags of a round */
enum { PARTNER, OPPONENT, TOGETHER, BOTH_REST, RELATIONS };

/* A place in a round. What never changes, then who sits there and what comes of it. */
struct seat {
    i32 block, round;
    i32 match;                      /* of those people may change places in; see find_matches */
    i32 mate, left;                 /* in a match: partner's seat, first of the other team's */
    i32 player, level;
    i32 gap;                        /* in a match: levels of this team less those of the other */
};

/* What one relation more and one less of a pair cost, for the inner loop to look up. */
struct turns { i64 dearer[2], cheaper[2]; };

/* Filled in by Python, field by field, in this order (scheduler/rotation/kernel/__init__.py). */
struct problem {
    i32 players, rounds, courts;
    i32 codes;                      /* size of one table of pair prices */
    i32 opponent_step, group_step;  /* code of a pair = partners + opponents*step + groups*step */
    i32 station_step;               /* code of a visit = visits + station visits*step */
    i32 classes;                    /* number of tables of pair prices */
    i32 free_seats, free_rests, free_rounds;
    i32 gap_price, wide_gap_price, wide_from;       /* of a thousandth of a level; beyond wide_from too */
    i32 visits_count;               /* whether courts are priced in this stage */
    i32 *round_seat, *round_block, *round_place;    /* first of each round, one more at the end */
    i32 *round_flags, *round_unary, *round_linear;  /* flags; index of the tables, -1 for none */
    i32 *round_spread, *round_mix, *round_mean;
    struct seat *seat;
    i32 *block_kind, *block_seat, *block_size;      /* the last block of a round holds its rests */
    i32 *seat_mask;                                 /* of the sets of people, those let in */
    i32 *place_court;                               /* court of the k-th block, then idle courts */
    i32 *free_seat, *free_rest, *free_round;        /* lists to draw from */
    i32 *level, *mate, *twin;       /* twin: the one somebody must never share a court with */
    i32 *kin;                       /* people with one number may change places everywhere; -1: none */
    i32 *by_level, *rank;           /* players sorted by level, and each one's place there */
    i32 *fewest_rests, *most_rests, *most_plays, *most_running;
    u8 *at_station;                                 /* [court] whether its drills are a station */
    u8 *bit;                                        /* [round][player] sets for the masks */
    i32 *code;                                      /* [player][player] */
    u8 *class_of;                                   /* [player][player] which price table */
    i64 *pair_price;                                /* [class][code] */
    i64 *step_price;                                /* [class][code][more of 3, less of 3] */
    struct turns *turns;                            /* [player][player] as PARTNER, OPPONENT */
    i64 *dearer_drill, *cheaper_drill;              /* [player][player] TOGETHER */
    i64 *linear;                                    /* [table][relation][player][player] */
    i64 *unary;                                     /* [table][player][court or rest] */
    u16 *visits;                                    /* [player][court] */
    i64 *visit_price;                               /* [code] */
    i64 *rest_price;                                /* unfair, back to back, on a spare court */
    i64 *rests_cost;                                /* of each player as things stand */
    i64 *plays_price, *running_price;               /* of each round over a player's limit */
    u8 *doing;                                      /* [player][round] */
    i32 *where;                                     /* [round][player] seat or -1 */
    i32 *best_player, *best_court;
    i32 *minus_log;                                 /* -1024 ln((k + 1/2) / 4096), k = 0..4095 */
};

static struct problem P;
static i64 cost, best;
static i32 at_best;
static u64 state;

EXPORT(problem) struct problem *problem(void) { return &P; }
EXPORT(cost) i64 current_cost(void) { return cost; }
EXPORT(best) i64 best_cost(void) { return best; }
EXPORT(seed) void seed(i64 value) { state = (u64)value * 0x9E3779B97F4A7C15ULL + 0x2545F4914F6CDD1DULL; }

static u64 draw(void) {  /* splitmix64 (Steele, Lea, Flood 2014) */
    u64 z = (state += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
}

static i32 below(i32 limit) { return (i32)(((draw() >> 32) * (u64)limit) >> 32); }

/* ---- relations of two people in one block ------------------------------- */

static inline i32 relation(i32 kind, i32 a, i32 b) {
    if (kind == MATCH) return (a >> 1) == (b >> 1) ? PARTNER : OPPONENT;
    return kind == REST ? BOTH_REST : TOGETHER;
}

/* What a relation adds to a pair's code. Fixed teams are counted once, in their price table. */
static inline i32 step_of(i32 round, i32 kind, i32 rel) {
    if (kind == MATCH) {
        if (rel == OPPONENT) return P.opponent_step;
        return P.round_flags[round] & KEEPS_TEAMS ? 0 : 1;
    }
    return kind == GROUP ? P.group_step : 0;
}

static inline const i64 *linear_of(i32 round, i32 rel) {
    i32 table = P.round_linear[round];
    if (table < 0) return 0;
    return P.linear + ((i64)table * RELATIONS + rel) * P.players * P.players;
}

static inline i64 change_of(i32 i, i32 j, i32 step) {
    i32 at = i * P.players + j;
    const i64 *table = P.pair_price + (i32)P.class_of[at] * P.codes;
    i32 code = P.code[at];
    return table[code + step] - table[code];
}

static void reprice(i32 i, i32 j) {
    i32 n = P.players, at = i * n + j, back = j * n + i;
    const i64 *step = P.step_price + ((i64)P.class_of[at] * P.codes + P.code[at]) * 6;
    struct turns turns = {{step[PARTNER], step[OPPONENT]}, {step[3 + PARTNER], step[3 + OPPONENT]}};
    P.turns[at] = P.turns[back] = turns;
    P.dearer_drill[at] = P.dearer_drill[back] = step[TOGETHER];
    P.cheaper_drill[at] = P.cheaper_drill[back] = step[3 + TOGETHER];
}

static inline void shift(i32 i, i32 j, i32 step) {
    if (!step) return;
    P.code[i * P.players + j] += step;
    P.code[j * P.players + i] += step;
    reprice(i, j);
}

/* ---- prices of one block and of one player ------------------------------ */

static i64 magnitude(i64 x) { return x < 0 ? -x : x; }

static i64 gap_price(i64 gap) {
    i64 wide = gap - P.wide_from;
    return gap * P.gap_price + (wide > 0 ? wide * P.wide_gap_price : 0);
}

/* Price of the levels in a block, with `other` in the place of `seat` (or none: seat -1). */
static i64 level_price(i32 round, i32 block, i32 seat, i32 other) {
    i32 kind = P.block_kind[block], first = P.block_seat[block], size = P.block_size[block];
    if (kind == REST || kind == SPARE) return 0;
    i64 sum = 0, gap = 0;
    i32 low = 0x7fffffff, high = 0;
    for (i32 k = 0; k < size; k++) {
        i32 player = first + k == seat ? other : P.seat[first + k].player;
        i32 level = P.level[player];
        sum += level;
        gap += k < 2 ? level : -level;
        if (level < low) low = level;
        if (level > high) high = level;
    }
    i64 price = kind == MATCH ? gap_price(magnitude(gap)) : 0;
    if (P.round_spread[round]) price += (i64)(high - low) * P.round_spread[round];
    if (P.round_mix[round]) price += magnitude(sum - (i64)size * P.round_mean[round]) * P.round_mix[round];
    return price;
}

static inline i64 level_change(i32 round, i32 block, i32 p, i32 i, i32 j) {
    if (P.block_kind[block] == MATCH && !P.round_spread[round] && !P.round_mix[round]) {
        i32 gap = P.seat[p].gap, after = gap + P.level[j] - P.level[i];
        return gap_price(magnitude(after)) - gap_price(magnitude(gap));
    }
    return level_price(round, block, p, j) - level_price(round, block, -1, 0);
}

static void measure_gap(i32 block) {
    struct seat *four = P.seat + P.block_seat[block];
    if (P.block_kind[block] != MATCH) return;
    for (i32 k = 0; k < 4; k++) four[k].level = P.level[four[k].player];
    i32 gap = four[0].level + four[1].level - four[2].level - four[3].level;
    for (i32 k = 0; k < 4; k++) four[k].gap = k < 2 ? gap : -gap;
}

/* Price of when one player rests and plays. */
static i64 rest_price(i32 player) {
    const u8 *doing = P.doing + player * P.rounds;
    i64 rests = 0, plays = 0, spare = 0, twice = 0, running = 0, over = 0;
    i32 limit = P.most_running[player];
    for (i32 r = 0; r < P.rounds; r++) {
        i32 now = doing[r];
        if (now == RESTING) {
            rests++;
            if (r && doing[r - 1] == RESTING) twice++;
        }
        if (now == ON_SPARE) spare++;
        if (now == PLAYING || now == ON_SPARE) {
            plays++;
            if (++running > limit) over++;
        } else {
            running = 0;
        }
    }
    i64 off = rests < P.fewest_rests[player] ? P.fewest_rests[player] - rests
            : rests > P.most_rests[player] ? rests - P.most_rests[player] : 0;
    i64 extra = plays > P.most_plays[player] ? plays - P.most_plays[player] : 0;
    return off * off * P.rest_price[0] + twice * P.rest_price[1] + spare * spare * P.rest_price[2]
         + extra * P.plays_price[player] + over * P.running_price[player];
}

static inline i32 doing_in(i32 kind) { return kind == REST ? RESTING : kind == SPARE ? ON_SPARE : PLAYING; }

static inline i32 court_of(i32 round, i32 block) {
    if (P.block_kind[block] == REST) return P.courts;
    return P.place_court[P.round_place[round] + block - P.round_block[round]];
}

static inline i64 unary_price(i32 round, i32 player, i32 court) {
    i32 table = P.round_unary[round];
    return table < 0 ? 0 : P.unary[((i64)table * P.players + player) * (P.courts + 1) + court];
}

static inline i32 visit_step(i32 round, i32 court) {
    return P.round_flags[round] & DRILL && P.at_station[court] ? 1 + P.station_step : 1;
}

/* Price of one visit more (sign 1) or less (sign -1). */
static inline i64 visit_change(i32 round, i32 player, i32 court, i32 sign) {
    if (court == P.courts || !P.visits_count) return 0;
    i32 code = P.visits[player * P.courts + court];
    return P.visit_price[code + sign * visit_step(round, court)] - P.visit_price[code];
}

static inline void visit(i32 round, i32 player, i32 court, i32 sign) {
    if (court != P.courts) P.visits[player * P.courts + court] += sign * visit_step(round, court);
}

/* ---- exchange of two seats of one round ---------------------------------- */

/* Whether it is all one which of the two sits where: partners, or both in one drill or resting. */
static inline i32 same_team(i32 p, i32 q) {
    i32 block = P.seat[p].block;
    return block == P.seat[q].block && (P.block_kind[block] != MATCH || q == p || q == P.seat[p].mate);
}

/* Whether an exchange means anything and both people may sit where they would come to sit. */
static i32 allowed(i32 p, i32 q) {
    if (same_team(p, q)) return 0;
    const u8 *bit = P.bit + P.seat[p].round * P.players;
    return (P.seat_mask[p] & bit[P.seat[q].player]) && (P.seat_mask[q] & bit[P.seat[p].player]);
}

static i64 delta_within(i32 round, i32 p, i32 q) {
    i32 block = P.seat[p].block, first = P.block_seat[block];
    i32 i = P.seat[p].player, j = P.seat[q].player;
    i64 delta = 0;
    for (i32 k = 0; k < 4; k++) {
        i32 seat = first + k;
        if (seat == p || seat == q) continue;
        i32 x = P.seat[seat].player;
        i32 was = relation(MATCH, p - first, k), now = relation(MATCH, q - first, k);
        i32 step = step_of(round, MATCH, now) - step_of(round, MATCH, was);
        delta += change_of(i, x, step) + change_of(j, x, -step);
        const i64 *then = linear_of(round, was);
        if (then) {
            const i64 *next = linear_of(round, now);
            i32 n = P.players;
            delta += next[i * n + x] - then[i * n + x] + then[j * n + x] - next[j * n + x];
        }
    }
    i64 gap = P.seat[p].gap, after = gap + 2 * (P.level[j] - P.level[i]);
    return delta + gap_price(magnitude(after)) - gap_price(magnitude(gap));
}

static inline i64 less_of(i32 rel, i32 i, i32 x) {
    i32 at = i * P.players + x;
    return rel == TOGETHER ? P.cheaper_drill[at] : P.turns[at].cheaper[rel];
}

static inline i64 more_of(i32 rel, i32 i, i32 x) {
    i32 at = i * P.players + x;
    return rel == TOGETHER ? P.dearer_drill[at] : P.turns[at].dearer[rel];
}

/* What changes among the people around seat p when j comes to sit there instead of i. */
static i64 delta_around(i32 round, i32 p, i32 i, i32 j) {
    i32 block = P.seat[p].block, first = P.block_seat[block], kind = P.block_kind[block];
    i32 n = P.players;
    i64 delta = 0;
    i32 counts = kind == MATCH || kind == GROUP, plain = P.round_linear[round] < 0;
    if (!counts && plain) return 0;
    for (i32 k = 0; k < P.block_size[block]; k++) {
        if (first + k == p) continue;
        i32 x = P.seat[first + k].player, rel = relation(kind, p - first, k);
        if (counts && !(rel == PARTNER && P.round_flags[round] & KEEPS_TEAMS))
            delta += less_of(rel, i, x) + more_of(rel, j, x);
        if (plain) continue;
        const i64 *linear = linear_of(round, rel);
        delta += linear[j * n + x] - linear[i * n + x];
    }
    return delta + level_change(round, block, p, i, j);
}

static i64 rest_change(i32 round, i32 player, i32 next) {
    u8 *cell = P.doing + player * P.rounds + round;
    i32 now = *cell;
    *cell = (u8)next;
    i64 after = rest_price(player);
    *cell = (u8)now;
    return after - P.rests_cost[player];
}

static i64 delta_courts(i32 round, i32 here, i32 there, i32 i, i32 j) {
    return visit_change(round, i, here, -1) + visit_change(round, i, there, 1)
         + visit_change(round, j, there, -1) + visit_change(round, j, here, 1)
         + unary_price(round, i, there) - unary_price(round, i, here)
         + unary_price(round, j, here) - unary_price(round, j, there);
}

static i64 delta_places(i32 round, i32 p, i32 q, i32 i, i32 j) {
    i32 a = P.seat[p].block, b = P.seat[q].block;
    i32 here = court_of(round, a), there = court_of(round, b);
    i64 delta = here == there ? 0 : delta_courts(round, here, there, i, j);
    i32 was = doing_in(P.block_kind[a]), now = doing_in(P.block_kind[b]);
    if (was != now) delta += rest_change(round, i, now) + rest_change(round, j, was);
    return delta;
}

static i64 delta(i32 p, i32 q) {
    i32 round = P.seat[p].round;
    if (P.seat[p].block == P.seat[q].block) return delta_within(round, p, q);
    i32 i = P.seat[p].player, j = P.seat[q].player;
    return delta_around(round, p, i, j) + delta_around(round, q, j, i) + delta_places(round, p, q, i, j);
}

/* Size of a number and what it has above a limit, without branches no processor could foresee. */
static inline i32 size_of(i32 x) { i32 sign = x >> 31; return (x ^ sign) - sign; }
static inline i32 above(i32 x, i32 limit) { i32 over = x - limit; return over & ~(over >> 31); }

/* Change of the price of two gaps. */
static inline i64 gaps_change(i32 one, i32 other, i32 rise, i32 fall) {
    i32 a = size_of(one), b = size_of(other), c = size_of(one + rise), d = size_of(other + fall);
    i32 wide = above(c, P.wide_from) + above(d, P.wide_from) - above(a, P.wide_from) - above(b, P.wide_from);
    return (i64)(c + d - a - b) * P.gap_price + (i64)wide * P.wide_gap_price;
}

/* The same as `delta` for people of two matches: most of all tries, and so without branches. */
static inline i64 delta_of_matches(const struct seat *p, const struct seat *q) {
    const struct seat *seat = P.seat;
    i32 n = P.players, i = p->player, j = q->player, rise = q->level - p->level, round = p->round;
    i32 a = seat[p->mate].player, b = seat[p->left].player, c = seat[p->left + 1].player;
    i32 d = seat[q->mate].player, e = seat[q->left].player, f = seat[q->left + 1].player;
    const struct turns *of_i = P.turns + i * n, *of_j = P.turns + j * n;
    i64 sum = gaps_change(p->gap, q->gap, rise, -rise)
            + of_i[a].cheaper[PARTNER] + of_i[b].cheaper[OPPONENT] + of_i[c].cheaper[OPPONENT]
            + of_j[a].dearer[PARTNER] + of_j[b].dearer[OPPONENT] + of_j[c].dearer[OPPONENT]
            + of_j[d].cheaper[PARTNER] + of_j[e].cheaper[OPPONENT] + of_j[f].cheaper[OPPONENT]
            + of_i[d].dearer[PARTNER] + of_i[e].dearer[OPPONENT] + of_i[f].dearer[OPPONENT];
    if (P.visits_count || P.round_unary[round] >= 0)
        sum += delta_courts(round, court_of(round, p->block), court_of(round, q->block), i, j);
    if (P.round_linear[round] < 0) return sum;
    const i64 *with = linear_of(round, PARTNER), *against = linear_of(round, OPPONENT);
    i = i * n, j = j * n;
    return sum + with[j + a] - with[i + a] + with[i + d] - with[j + d]
         + against[j + b] - against[i + b] + against[j + c] - against[i + c]
         + against[i + e] - against[j + e] + against[i + f] - against[j + f];
}

/* Number the matches in which people may change places: from 1 where any two may, below -1
 * where not everybody may sit everywhere, 0 where there is more to it (fixed teams, like levels). */
static void find_matches(void) {
    for (i32 round = 0; round < P.rounds; round++) {
        i32 everybody = 255;
        for (i32 s = P.round_seat[round]; s < P.round_seat[round + 1]; s++)
            everybody &= P.bit[round * P.players + P.seat[s].player];
        i32 bare = !(P.round_flags[round] & KEEPS_TEAMS) && !P.round_spread[round] && !P.round_mix[round];
        for (i32 s = P.round_seat[round]; s < P.round_seat[round + 1]; s++) {
            i32 block = P.seat[s].block, open = P.seat_mask[s] & everybody;
            P.seat[s].match = !bare || P.block_kind[block] != MATCH ? 0 : open ? block + 1 : -block - 2;
        }
    }
}

/* Take one person's relations around a seat out of the counts (sign -1) or in (sign 1). */
static void count_around(i32 p, i32 player, i32 sign) {
    i32 block = P.seat[p].block, first = P.block_seat[block], kind = P.block_kind[block];
    if (kind != MATCH && kind != GROUP) return;
    for (i32 k = 0; k < P.block_size[block]; k++) {
        if (first + k == p) continue;
        i32 x = P.seat[first + k].player;
        shift(player, x, sign * step_of(P.seat[p].round, kind, relation(kind, p - first, k)));
    }
}

static void apply_within(i32 p, i32 q) {
    i32 round = P.seat[p].round, first = P.block_seat[P.seat[p].block];
    i32 i = P.seat[p].player, j = P.seat[q].player;
    for (i32 k = 0; k < 4; k++) {
        if (first + k == p || first + k == q) continue;
        i32 x = P.seat[first + k].player;
        i32 was = step_of(round, MATCH, relation(MATCH, p - first, k));
        i32 now = step_of(round, MATCH, relation(MATCH, q - first, k));
        shift(i, x, now - was);
        shift(j, x, was - now);
    }
}

static void do_next(i32 round, i32 player, i32 next) {
    u8 *cell = P.doing + player * P.rounds + round;
    if (*cell == next) return;
    *cell = (u8)next;
    P.rests_cost[player] = rest_price(player);
}

static void apply(i32 p, i32 q) {
    i32 round = P.seat[p].round, a = P.seat[p].block, b = P.seat[q].block;
    i32 i = P.seat[p].player, j = P.seat[q].player;
    if (a == b) {
        apply_within(p, q);
    } else {
        count_around(p, i, -1);
        count_around(q, j, -1);
        count_around(p, j, 1);
        count_around(q, i, 1);
        i32 here = court_of(round, a), there = court_of(round, b);
        visit(round, i, here, -1);
        visit(round, j, there, -1);
        visit(round, i, there, 1);
        visit(round, j, here, 1);
        do_next(round, i, doing_in(P.block_kind[b]));
        do_next(round, j, doing_in(P.block_kind[a]));
    }
    P.seat[p].player = j;
    P.seat[q].player = i;
    P.where[round * P.players + i] = q;
    P.where[round * P.players + j] = p;
    measure_gap(a);
    measure_gap(b);
}

/* ---- exchange of the courts of two blocks --------------------------------- */

static i64 delta_move(i32 round, i32 block, i32 from, i32 to) {
    i64 delta = 0;
    for (i32 k = 0; k < P.block_size[block]; k++) {
        i32 player = P.seat[P.block_seat[block] + k].player;
        delta += visit_change(round, player, from, -1) + visit_change(round, player, to, 1);
        delta += unary_price(round, player, to) - unary_price(round, player, from);
    }
    return delta;
}

static void apply_move(i32 round, i32 block, i32 from, i32 to) {
    for (i32 k = 0; k < P.block_size[block]; k++) {
        i32 player = P.seat[P.block_seat[block] + k].player;
        visit(round, player, from, -1);
        visit(round, player, to, 1);
    }
}

/* ---- taking and leaving changes -------------------------------------------- */

static void keep_best(void) {
    i32 seats = P.round_seat[P.rounds], places = P.round_place[P.rounds];
    for (i32 s = 0; s < seats; s++) P.best_player[s] = P.seat[s].player;
    for (i32 k = 0; k < places; k++) P.best_court[k] = P.place_court[k];
}

/* The best seating is copied only when it is about to be left. */
static inline void leaving(i64 change) {
    if (change > 0 && at_best) {
        keep_best();
        at_best = 0;
    }
}

static inline void arrived(i64 change) {
    cost += change;
    if (cost < best) {
        best = cost;
        at_best = 1;
    }
}

static inline i32 accepts(i64 change, i64 temperature) {
    return change <= 0 || change <= (temperature * P.minus_log[draw() & 4095]) >> 10;
}

static i32 other_seat(i32 p) {
    i32 round = P.seat[p].round, first = P.round_seat[round];
    return first + below(P.round_seat[round + 1] - first);
}

/* The seat of somebody near in level, in the same round: such exchanges leave the gaps alone. */
static inline i32 near_seat(i32 p, i32 span, u64 bits) {
    i32 step = (i32)(((bits & 0xFFFF) * (u64)(2 * span)) >> 16) - span;
    if (step >= 0) step++;
    i32 rank = P.rank[P.seat[p].player], place = rank + step;
    if ((u32)place >= (u32)P.players) place = rank - step;
    if ((u32)place >= (u32)P.players) return p;
    return P.where[P.seat[p].round * P.players + P.by_level[place]];
}

/* Change when the people at p and q change places; any number above the limit where they may not.
 * Two near ones in one match stay: that is tried often enough among any two. */
static inline i64 change_of_seats(i32 p, i32 q, i32 near, i64 limit) {
    const struct seat *here = P.seat + p, *there = P.seat + q;
    i32 same = here->block == there->block;
    if (here->match && there->match && (near || !same)) {
        if ((here->match | there->match) < 0 && !allowed(p, q)) return limit + 1;
        i64 change = delta_of_matches(here, there);
        return same ? limit + 1 : change;
    }
    if (P.round_flags[here->round] & KEEPS_TEAMS || !allowed(p, q)) return limit + 1;
    return delta(p, q);
}

/* Two people of a round change places. All that is drawn comes out of `bits`, 54 of them even. */
static inline void try_seats(i64 temperature, i32 near, u64 bits) {
    i32 p = P.free_seat[((bits & 0xFFFFFF) * (u64)P.free_seats) >> 24];
    i32 q = near ? near_seat(p, near, bits >> 24) : other_seat(p);
    if (q < 0) return;
    i64 limit = (temperature * P.minus_log[bits >> 40 & 4095]) >> 10;
    i64 change = change_of_seats(p, q, near, limit);
    if (change > limit) return;
    leaving(change);
    apply(p, q);
    arrived(change);
}

/* A chain of exchanges tried one after another and taken back together. */
struct chain { i32 length; i64 change; i32 p[256], q[256]; };
static struct chain chain;

static i32 extend(i32 p, i32 q) {
    if (!allowed(p, q)) return 0;
    chain.change += delta(p, q);
    apply(p, q);
    chain.p[chain.length] = p;
    chain.q[chain.length++] = q;
    return 1;
}

static void undo(void) {
    for (i32 k = chain.length; k--;) apply(chain.q[k], chain.p[k]);
}

static void begin(void) {
    chain.length = 0;
    chain.change = 0;
}

static void settle(i32 whole, i64 temperature) {
    if (!whole || !accepts(chain.change, temperature)) {
        undo();
        return;
    }
    if (chain.change > 0 && at_best) {
        undo();
        leaving(chain.change);
        for (i32 k = 0; k < chain.length; k++) apply(chain.p[k], chain.q[k]);
    }
    arrived(chain.change);
}

static i32 mate_seat(i32 p) {
    i32 block = P.seat[p].block, first = P.block_seat[block], round = P.seat[p].round;
    if (P.block_kind[block] == MATCH) return first + ((p - first) ^ 1);
    if (P.block_kind[block] == GROUP || P.block_size[block] < 2) return -1;
    i32 mate = P.mate[P.seat[p].player];
    i32 seat = mate < 0 ? -1 : P.where[round * P.players + mate];
    if (seat >= 0 && P.seat[seat].block == block) return seat;
    if (P.round_flags[round] & KEEPS_TEAMS) return -1;
    seat = first + below(P.block_size[block]);
    return seat == p ? -1 : seat;
}

/* Two partners change places with two others. */
static void try_teams(i64 temperature) {
    i32 p = P.free_seat[below(P.free_seats)], q = other_seat(p);
    i32 p2 = mate_seat(p), q2 = mate_seat(q);
    if (p2 < 0 || q2 < 0 || p == q || p == q2 || p2 == q || p2 == q2) return;
    i32 a = P.seat[p].block, b = P.seat[q].block;
    if (a == b) return;
    begin();
    settle(extend(p, q) && extend(p2, q2), temperature);
}

/* One rests where the other did and the other way round, in two rounds at once. */
static void try_rests(i64 temperature) {
    i32 p = P.free_rest[below(P.free_rests)], q = P.free_rest[below(P.free_rests)];
    i32 r = P.seat[p].round, s = P.seat[q].round, i = P.seat[p].player, j = P.seat[q].player;
    if (r == s || i == j || (P.round_flags[r] | P.round_flags[s]) & KEEPS_TEAMS) return;
    i32 pj = P.where[r * P.players + j], qi = P.where[s * P.players + i];
    if (pj < 0 || qi < 0) return;
    begin();
    settle(extend(p, pj) && extend(q, qi), temperature);
}

/* ---- what it costs that kin change places ------------------------------------- */

/* Change of the linear prices when the one at p is no longer i but j, both on court or resting. */
static i64 linear_turn(i32 round, i32 p, i32 q, i32 i, i32 j) {
    i32 block = P.seat[p].block, first = P.block_seat[block], n = P.players;
    i64 delta = 0;
    for (i32 s = first; s < first + P.block_size[block]; s++) {
        if (s == p || s == q) continue;
        i32 y = P.seat[s].player;
        const i64 *price = linear_of(round, relation(P.block_kind[block], p - first, s - first));
        delta += price[j * n + y] - price[i * n + y];
    }
    return delta;
}

static i64 unary_turn(i32 round, i32 p, i32 i, i32 j) {
    i32 court = court_of(round, P.seat[p].block);
    return unary_price(round, j, court) - unary_price(round, i, court);
}

/* Change of the pair prices when i and j take over each other's counts with everybody else. */
static i64 pair_turn(i32 i, i32 j) {
    i32 n = P.players;
    i64 delta = 0;
    for (i32 x = 0; x < n; x++) {
        i32 a = i * n + x, b = j * n + x;
        if (P.class_of[a] == P.class_of[b] || x == i || x == j) continue;
        const i64 *of_i = P.pair_price + (i32)P.class_of[a] * P.codes;
        const i64 *of_j = P.pair_price + (i32)P.class_of[b] * P.codes;
        delta += of_i[P.code[b]] + of_j[P.code[a]] - of_i[P.code[a]] - of_j[P.code[b]];
    }
    return delta;
}

/* Change of the levels' price when the two at p and q change places. */
static inline i64 levels_turn(i32 round, i32 p, i32 q) {
    const struct seat *a = P.seat + p, *b = P.seat + q;
    i32 rise = P.level[b->player] - P.level[a->player];
    if (a->block == b->block) return gap_price(magnitude(a->gap + 2 * rise)) - gap_price(magnitude(a->gap));
    if (a->match && b->match) return gaps_change(a->gap, b->gap, rise, -rise);
    return level_change(round, a->block, p, a->player, b->player) + level_change(round, b->block, q, b->player, a->player);
}

/* Change of cost when i and j, who are kin, change places in every round. */
static i64 relabel_delta(i32 i, i32 j) {
    i64 delta = P.classes > 1 ? pair_turn(i, j) : 0;
    for (i32 k = 0; k < P.free_rounds; k++) {
        i32 round = P.free_round[k], *where = P.where + round * P.players;
        i32 p = where[i], q = where[j];
        if (p < 0 || same_team(p, q)) continue;
        delta += levels_turn(round, p, q);
        if (P.round_linear[round] >= 0) delta += linear_turn(round, p, q, i, j) + linear_turn(round, q, p, j, i);
        if (P.round_unary[round] >= 0) delta += unary_turn(round, p, i, j) + unary_turn(round, q, j, i);
    }
    return delta;
}

static i32 are_kin(i32 i, i32 j) { return i != j && P.kin[i] >= 0 && P.kin[i] == P.kin[j]; }

/* ---- exchanges over the whole evening ------------------------------------------- */

/* Put two people in each other's place in every round where both are there. */
static i32 exchange_people(i32 i, i32 j) {
    for (i32 k = 0; k < P.free_rounds; k++) {
        i32 round = P.free_round[k];
        i32 p = P.where[round * P.players + i], q = P.where[round * P.players + j];
        if (p < 0 || q < 0) continue;
        if (same_team(p, q)) continue;
        if (P.round_flags[round] & KEEPS_TEAMS || !extend(p, q)) return 0;
    }
    return 1;
}

/* Two people change places for the whole evening; couples who are kept apart do so together. */
static void try_people(i64 temperature) {
    i32 i = below(P.players), j = below(P.players);
    if (i == j || P.twin[i] == j) return;
    begin();
    i32 whole = exchange_people(i, j);
    if (whole && P.twin[i] >= 0 && P.twin[j] >= 0) whole = exchange_people(P.twin[i], P.twin[j]);
    settle(whole && chain.length > 0, temperature);
}

/* The same for kin who are no half of a couple: what changes is known without doing it. */
static void try_kin(i64 temperature) {
    i32 i = below(P.players), j = below(P.players);
    if (!are_kin(i, j) || P.twin[i] >= 0 || P.twin[j] >= 0) return;
    i64 change = relabel_delta(i, j);
    if (!accepts(change, temperature)) return;
    leaving(change);
    begin();
    if (exchange_people(i, j)) arrived(change);
    else undo();
}

static void try_courts(i64 temperature) {
    i32 round = P.free_round[below(P.free_rounds)];
    i32 first = P.round_place[round], places = P.round_place[round + 1] - first;
    i32 blocks = P.round_block[round + 1] - P.round_block[round] - 1;
    if (places < 2 || blocks < 1) return;
    i32 a = below(blocks), b = below(places);
    if (a == b) return;
    i32 here = P.place_court[first + a], there = P.place_court[first + b];
    i32 block = P.round_block[round];
    i64 change = delta_move(round, block + a, here, there);
    if (b < blocks) change += delta_move(round, block + b, there, here);
    if (!accepts(change, temperature)) return;
    leaving(change);
    apply_move(round, block + a, here, there);
    if (b < blocks) apply_move(round, block + b, there, here);
    P.place_court[first + a] = there;
    P.place_court[first + b] = here;
    arrived(change);
}

/* ---- the search -------------------------------------------------------------- */

/* Make `moves` tries at one temperature. The shares (of 1024) say which exchange is
 * tried how often; what they leave is exchanges of two seats. Returns the cost. */
EXPORT(anneal)
i64 anneal(i32 moves, i64 temperature, i32 teams, i32 courts, i32 rests, i32 people, i32 kin,
           i32 near, i32 span) {
    i32 to_courts = teams + courts, to_rests = to_courts + rests, to_people = to_rests + people;
    i32 to_kin = to_people + kin, to_near = to_kin + near;
    for (i32 move = 0; move < moves; move++) {
        u64 bits = draw();
        i32 which = (i32)(bits >> 54);
        if (which >= to_kin) { if (P.free_seats) try_seats(temperature, which < to_near ? span : 0, bits); }
        else if (which < teams) { if (P.free_seats) try_teams(temperature); }
        else if (which < to_courts) try_courts(temperature);
        else if (which < to_rests) { if (P.free_rests) try_rests(temperature); }
        else if (which < to_people) try_people(temperature);
        else try_kin(temperature);
    }
    return cost;
}

/* ---- relabelling ---------------------------------------------------------------- */

static void exchange_codes(i32 i, i32 j) {
    i32 n = P.players;
    for (i32 x = 0; x < n; x++) {
        if (x == i || x == j) continue;
        i32 of_i = P.code[i * n + x], of_j = P.code[j * n + x];
        P.code[i * n + x] = P.code[x * n + i] = of_j;
        P.code[j * n + x] = P.code[x * n + j] = of_i;
    }
}

static void relabel_apply(i32 i, i32 j) {
    if (P.classes > 1) exchange_codes(i, j);
    for (i32 k = 0; k < P.free_rounds; k++) {
        i32 round = P.free_round[k];
        i32 *place = P.where + round * P.players;
        i32 p = place[i], q = place[j];
        if (p < 0) continue;
        P.seat[p].player = j;
        P.seat[q].player = i;
        place[i] = q;
        place[j] = p;
        measure_gap(P.seat[p].block);
        measure_gap(P.seat[q].block);
    }
}

/* Exchange two people everywhere, again and again, as long as they are kin: there in the same
 * rounds, with the same rests and limits. The pattern of meetings stays; gaps, wishes and what
 * was on earlier evenings change. The other counts are out of date afterwards until `recount`
 * or `back_to_best`. Returns the cost. */
EXPORT(relabel)
i64 relabel(i32 moves, i64 temperature) {
    for (i32 move = 0; move < moves; move++) {
        i32 i = below(P.players), j = below(P.players);
        if (!are_kin(i, j) || P.twin[i] == j) continue;
        i32 i2 = P.twin[i], j2 = P.twin[j], both = i2 >= 0 && j2 >= 0 && are_kin(i2, j2);
        i64 change = relabel_delta(i, j);
        if (both) {
            relabel_apply(i, j);
            change += relabel_delta(i2, j2);
            relabel_apply(i, j);
        }
        if (!accepts(change, temperature)) continue;
        leaving(change);
        relabel_apply(i, j);
        if (both) relabel_apply(i2, j2);
        arrived(change);
    }
    return cost;
}

static void place_everyone(void) {
    for (i32 k = 0; k < P.players * P.rounds; k++) P.doing[k] = ABSENT;
    for (i32 k = 0; k < P.players * P.rounds; k++) P.where[k] = -1;
    for (i32 round = 0; round < P.rounds; round++)
        for (i32 s = P.round_seat[round]; s < P.round_seat[round + 1]; s++) {
            i32 player = P.seat[s].player, block = P.seat[s].block;
            P.where[round * P.players + player] = s;
            P.doing[player * P.rounds + round] = (u8)doing_in(P.block_kind[block]);
        }
}

static i64 price_of_block(i32 round, i32 block) {
    i32 kind = P.block_kind[block], first = P.block_seat[block], n = P.players;
    i32 court = court_of(round, block);
    i64 price = level_price(round, block, -1, 0);
    measure_gap(block);
    for (i32 a = 0; a < P.block_size[block]; a++) {
        i32 i = P.seat[first + a].player;
        visit(round, i, court, 1);
        price += unary_price(round, i, court);
        for (i32 b = a + 1; b < P.block_size[block]; b++) {
            i32 j = P.seat[first + b].player, rel = relation(kind, a, b);
            i32 step = step_of(round, kind, rel);
            P.code[i * n + j] += step;
            P.code[j * n + i] += step;
            const i64 *linear = linear_of(round, rel);
            if (linear) price += linear[i * n + j];
        }
    }
    return price;
}

/* Count everything afresh from the seats. Returns the cost. */
EXPORT(recount)
i64 recount(void) {
    i32 n = P.players;
    cost = 0;
    for (i32 k = 0; k < n * n; k++) P.code[k] = 0;
    for (i32 k = 0; k < n * P.courts; k++) P.visits[k] = 0;
    place_everyone();
    for (i32 round = 0; round < P.rounds; round++)
        for (i32 b = P.round_block[round]; b < P.round_block[round + 1]; b++) cost += price_of_block(round, b);
    for (i32 i = 0; i < n; i++) {
        for (i32 j = i + 1; j < n; j++) {
            cost += P.pair_price[(i32)P.class_of[i * n + j] * P.codes + P.code[i * n + j]];
            reprice(i, j);
        }
        for (i32 c = 0; P.visits_count && c < P.courts; c++) cost += P.visit_price[P.visits[i * P.courts + c]];
        cost += P.rests_cost[i] = rest_price(i);
    }
    return cost;
}

/* Whether courts are priced from the next `start` on; where they are not, moves are cheaper. */
EXPORT(price_courts) void price_courts(i32 on) { P.visits_count = on; }

/* Start from the seats as they stand. Returns the cost. */
EXPORT(start)
i64 start(void) {
    find_matches();
    best = recount();
    at_best = 0;
    keep_best();
    return cost;
}

/* Go back to the best seating met since `start`. Returns its cost. */
EXPORT(back_to_best)
i64 back_to_best(void) {
    if (at_best) keep_best();
    i32 seats = P.round_seat[P.rounds], places = P.round_place[P.rounds];
    for (i32 s = 0; s < seats; s++) P.seat[s].player = P.best_player[s];
    for (i32 k = 0; k < places; k++) P.place_court[k] = P.best_court[k];
    at_best = 0;
    return recount();
}
