/* Simulated annealing over patterns of labels, free or developed under a group.
 *
 * A pattern is a number of base rounds of labels. Pairs of labels fall into
 * cells: the orbits of a group, or single pairs where the group is trivial. A
 * cell costs what its two counts (times partners, times opponents) say in the
 * table of its class. Compiled to WebAssembly; nothing here allocates.
 */
typedef signed int i32;
typedef unsigned int u32;
typedef unsigned char u8;
typedef unsigned short u16;
typedef unsigned long long u64;

#define EXPORT(name) __attribute__((export_name(#name)))

enum { POINTS = 128, ROUNDS = 64, CELLS = POINTS * POINTS / 2, CLASSES = 16, MOST = 16 };

static i32 points, courts, rounds;
static u16 cell_of[POINTS * POINTS];      /* cell of two labels */
static u8 class_of[CELLS];                /* class of a cell */
static i32 price[CLASSES * 256];          /* class, partners << 4 | opponents */
static i32 more[2 * CLASSES * 256];       /* what one more partner (opponent) costs */
static i32 less[2 * CLASSES * 256];       /* what one fewer saves, as a change */
static u8 orbit_of[POINTS];               /* orbit of a label */
static u8 rest_class[POINTS];             /* class of an orbit of labels */
static i32 rest_price[CLASSES * 64];      /* class, rests */
static u8 seat[ROUNDS * POINTS];          /* labels: four a court, then who rests */
static u8 kept[ROUNDS * POINTS];          /* the best seats met */
static u8 first_code[CELLS];              /* counts there are beforehand */
static u8 code[CELLS];
static u8 rests[POINTS];
static i32 minus_log[4096];               /* -1024 log of the middle of each 4096th */
static u8 kind_of[POINTS];                /* only labels of one kind change places */
static i32 cost, best;
static u64 state = 88172645463325252ull;
static u8 pair_code[POINTS * POINTS];     /* counts by two labels, trivial group only */

/* Where the caller finds the arrays. */
EXPORT(cell_of) void *at_cell_of(void) { return cell_of; }
EXPORT(class_of) void *at_class_of(void) { return class_of; }
EXPORT(price) void *at_price(void) { return price; }
EXPORT(orbit_of) void *at_orbit_of(void) { return orbit_of; }
EXPORT(rest_class) void *at_rest_class(void) { return rest_class; }
EXPORT(rest_price) void *at_rest_price(void) { return rest_price; }
EXPORT(seat) void *at_seat(void) { return seat; }
EXPORT(kept) void *at_kept(void) { return kept; }
EXPORT(first_code) void *at_first_code(void) { return first_code; }
EXPORT(kind_of) void *at_kind_of(void) { return kind_of; }
EXPORT(minus_log) void *at_minus_log(void) { return minus_log; }

static inline u32 draw(void) {
    state ^= state >> 12;
    state ^= state << 25;
    state ^= state >> 27;
    return (u32)(state * 2685821657736338717ull >> 32);
}

static inline i32 below(i32 n) { return (i32)((u64)draw() * (u32)n >> 32); }

EXPORT(sow)
void sow(u64 number) {
    state = number * 0x9E3779B97F4A7C15ull + 0x1234567ull;
    if (!state) state = 1;
    for (i32 k = 0; k < 8; k++) draw();
}

/* ---- counts ---------------------------------------------------------------- */

static inline i32 relation(i32 p, i32 q) { return (p ^ q) == 1 ? 16 : 1; }

static void count_round(i32 round) {
    const u8 *at = seat + round * POINTS;
    for (i32 m = 0; m < 4 * courts; m += 4)
        for (i32 p = 0; p < 4; p++)
            for (i32 q = p + 1; q < 4; q++)
                code[cell_of[at[m + p] * POINTS + at[m + q]]] += (u8)relation(p, q);
    for (i32 k = 4 * courts; k < points; k++) rests[orbit_of[at[k]]]++;
}

static void copy(u8 *to, const u8 *from) {
    for (i32 k = 0; k < rounds * POINTS; k++) to[k] = from[k];
}

static void prepare_steps(void) {
    for (i32 c = 0; c < CLASSES; c++)
        for (i32 k = 0; k < 256; k++) {
            i32 at = c * 256 + k, p = k >> 4, o = k & 15;
            more[at] = p < MOST - 1 ? price[at + 16] - price[at] : 1000000;
            less[at] = p > 0 ? price[at - 16] - price[at] : 0;
            more[CLASSES * 256 + at] = o < MOST - 1 ? price[at + 1] - price[at] : 1000000;
            less[CLASSES * 256 + at] = o > 0 ? price[at - 1] - price[at] : 0;
        }
}

/* Count everything afresh from the seats; cells and orbits are numbered from 0. */
EXPORT(start)
i32 start(i32 n, i32 c, i32 b, i32 cells, i32 orbits) {
    points = n;
    courts = c;
    rounds = b;
    prepare_steps();
    for (i32 k = 0; k < cells; k++) code[k] = first_code[k];
    for (i32 k = 0; k < orbits; k++) rests[k] = 0;
    for (i32 r = 0; r < b; r++) count_round(r);
    cost = 0;
    for (i32 k = 0; k < cells; k++) cost += price[class_of[k] * 256 + code[k]];
    for (i32 k = 0; k < orbits; k++) cost += rest_price[rest_class[k] * 64 + rests[k]];
    best = cost;
    copy(kept, seat);
    for (i32 x = 0; x < n; x++)
        for (i32 y = 0; y < n; y++)
            pair_code[x * POINTS + y] = x == y ? 0 : code[cell_of[x * POINTS + y]];
    return cost;
}

/* ---- exchanges under a group: apply, look, take back ------------------------- */

static i32 step(i32 x, i32 y, i32 by) {
    i32 cell = cell_of[x * POINTS + y];
    const i32 *prices = price + class_of[cell] * 256;
    i32 before = prices[code[cell]];
    code[cell] = (u8)(code[cell] + by);
    return prices[code[cell]] - before;
}

static i32 step_rests(i32 x, i32 by) {
    i32 orbit = orbit_of[x];
    const i32 *prices = rest_price + rest_class[orbit] * 64;
    i32 before = prices[rests[orbit]];
    rests[orbit] = (u8)(rests[orbit] + by);
    return prices[rests[orbit]] - before;
}

/* The change when x leaves (by -1) or takes (by 1) place p of a match. */
static i32 step_match(const u8 *match, i32 p, i32 x, i32 by) {
    return step(x, match[p ^ 1], 16 * by) + step(x, match[p ^ 2], by) + step(x, match[p ^ 3], by);
}

static i32 exchange(u8 *at, i32 p, i32 q) {
    i32 x = at[p], y = at[q], change;
    u8 *match = at + (p & ~3), *other = at + (q & ~3);
    if (match == other) {
        i32 a = at[p ^ 1], b = at[q ^ 1];
        change = step(x, a, -15) + step(y, b, -15) + step(x, b, 15) + step(y, a, 15);
    } else {
        change = step_match(match, p & 3, x, -1) + step_match(match, p & 3, y, 1);
        if (q < 4 * courts)
            change += step_match(other, q & 3, y, -1) + step_match(other, q & 3, x, 1);
        else
            change += step_rests(y, -1) + step_rests(x, 1);
    }
    at[p] = (u8)y;
    at[q] = (u8)x;
    return change;
}

static inline i32 accepts(i32 change, i32 temperature) {
    return change <= 0 || change <= (i32)((u64)temperature * (u32)minus_log[draw() & 4095] >> 20);
}

static void arrived(i32 change) {
    cost += change;
    if (cost < best) {
        best = cost;
        copy(kept, seat);
    }
}

/* Temperature in 1024ths of a unit of price. Ends early once the cost is at `target`. */
EXPORT(anneal_developed)
i32 anneal_developed(i32 moves, i32 temperature, i32 target) {
    for (i32 k = 0; k < moves && best > target; k++) {
        u8 *at = seat + below(rounds) * POINTS;
        i32 p = below(4 * courts), q = below(points);
        if ((p ^ q) < 2 || kind_of[at[p]] != kind_of[at[q]]) continue;
        i32 change = exchange(at, p, q);
        if (accepts(change, temperature)) arrived(change);
        else exchange(at, p, q);
    }
    return best;
}

/* ---- exchanges without a group: all pairs touched are distinct ---------------- */

static inline i32 up(i32 rel, i32 x, i32 y) { return more[rel * CLASSES * 256 + pair_code[x * POINTS + y]]; }
static inline i32 down(i32 rel, i32 x, i32 y) { return less[rel * CLASSES * 256 + pair_code[x * POINTS + y]]; }

static inline void shift(i32 x, i32 y, i32 by) {
    pair_code[x * POINTS + y] = (u8)(pair_code[x * POINTS + y] + by);
    pair_code[y * POINTS + x] = (u8)(pair_code[y * POINTS + x] + by);
}

static inline i32 turn(i32 rel, i32 x, i32 y) {
    i32 before = pair_code[x * POINTS + y], after = before + (rel ? -15 : 15);
    return price[after] - price[before];
}

static inline void shift_match(const u8 *match, i32 p, i32 x, i32 by) {
    shift(x, match[p ^ 1], 16 * by);
    shift(x, match[p ^ 2], by);
    shift(x, match[p ^ 3], by);
}

static inline i32 move_change(const u8 *match, i32 p, i32 x, i32 y) {
    i32 a = match[p ^ 1], b = match[p ^ 2], c = match[p ^ 3];
    return down(0, x, a) + down(1, x, b) + down(1, x, c) + up(0, y, a) + up(1, y, b) + up(1, y, c);
}

static i32 free_change(const u8 *at, i32 p, i32 q) {
    i32 x = at[p], y = at[q];
    const u8 *match = at + (p & ~3), *other = at + (q & ~3);
    if (match == other) {
        i32 a = at[p ^ 1], b = at[q ^ 1];
        return turn(1, x, a) + turn(1, y, b) + turn(0, x, b) + turn(0, y, a);
    }
    i32 change = move_change(match, p & 3, x, y);
    if (q < 4 * courts) return change + move_change(other, q & 3, y, x);
    i32 i = rests[x], j = rests[y];
    return change + rest_price[j - 1] - rest_price[j] + rest_price[i + 1] - rest_price[i];
}

static void free_exchange(u8 *at, i32 p, i32 q) {
    i32 x = at[p], y = at[q];
    const u8 *match = at + (p & ~3), *other = at + (q & ~3);
    if (match == other) {
        i32 a = at[p ^ 1], b = at[q ^ 1];
        shift(x, a, -15);
        shift(y, b, -15);
        shift(x, b, 15);
        shift(y, a, 15);
    } else {
        shift_match(match, p & 3, x, -1);
        shift_match(match, p & 3, y, 1);
        if (q < 4 * courts) {
            shift_match(other, q & 3, y, -1);
            shift_match(other, q & 3, x, 1);
        } else {
            rests[y]--;
            rests[x]++;
        }
    }
    at[p] = (u8)y;
    at[q] = (u8)x;
}

EXPORT(anneal_free)
i32 anneal_free(i32 moves, i32 temperature, i32 target) {
    for (i32 k = 0; k < moves && best > target; k++) {
        u8 *at = seat + below(rounds) * POINTS;
        i32 p = below(4 * courts), q = below(points);
        if ((p ^ q) < 2 || kind_of[at[p]] != kind_of[at[q]]) continue;
        i32 change = free_change(at, p, q);
        if (!accepts(change, temperature)) continue;
        free_exchange(at, p, q);
        arrived(change);
    }
    return best;
}
