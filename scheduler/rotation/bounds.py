"""What no plan can beat: lower bounds on the measures, each with its proof.

Every bound here holds for every plan that keeps the musts and the numbers of
courts, whatever its other measures. `spread(total, cells)` is the one fact
used throughout: for whole counts k with a given sum, the sum of k(k-1)/2 is
least when they differ by at most one (k(k-1)/2 is convex).
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from math import ceil, floor, gcd

from scheduler.domain.event import Kind, WishKind
from scheduler.rotation.problem import ANYONE, LEVEL_UNITS, BlockKind, Demand, Problem, Shape


@dataclass(frozen=True, slots=True)
class Bound:
    """A lower bound and the name of what proves it."""

    value: float
    proof: str


TRIVIAL = Bound(0, "no count is below zero")


def spread(total: int, cells: int) -> int:
    """Return the least sum of k(k-1)/2 over `cells` whole counts k with the given sum."""
    if cells <= 0:
        return 0
    low, more = divmod(total, cells)
    return cells * low * (low - 1) // 2 + more * low


def bounds_of(problem: Problem) -> dict[str, Bound]:
    """Return the best bound known for every measure that does not hang on serving."""
    opponents = _opponents(problem)
    gap_sum = _gap_sum(problem)
    matches = sum(_matches(shape) for shape in problem.shapes)
    blend = problem.event.exchange * opponents.value + gap_sum.value
    return {
        "rest_unfairness": _rest_unfairness(problem),
        "partner_repeats": _partners(problem),
        "wishes_missed": TRIVIAL,
        "blend_price": Bound(
            round(blend, 6), "exchange times the opponents' bound plus the gaps' bound"
        ),
        "opponent_repeats": opponents,
        "level_gap_mean": Bound(round(gap_sum.value / matches, 6) if matches else 0, gap_sum.proof),
        "level_gap_max": Bound(_gap_max(problem, gap_sum, matches), gap_sum.proof),
        "back_to_back_rests": _back_to_back(problem),
        "meeting_repeats": _meetings(problem),
        "drill_repeats": _drills(problem),
        "court_repeats": _courts(problem),
        "station_repeats": _stations(problem),
    }


# ---- who can meet whom, and how often everybody must ----------------------------------


def _matches(shape: Shape) -> int:
    return sum(block.kind is BlockKind.MATCH for block in shape.blocks)


_ALL, _SAME, _OTHER = "all", "same", "other"
"""Whom somebody can meet in a role: everybody, their own group, or the other group."""

_WHOM = {
    (Kind.MIXED, "partners"): _OTHER,
    (Kind.GROUP_AGAINST_GROUP, "partners"): _SAME,
    (Kind.GROUP_AGAINST_GROUP, "opponents"): _OTHER,
}


def _is_pure(shape: Shape) -> bool:
    """Return whether all matches of a round are of its kind, none of leftovers."""
    return all(mask != ANYONE for block in shape.blocks for mask in block.masks)


def _whom(shape: Shape, role: str) -> str:
    return _WHOM.get((shape.kind, role), _ALL) if _is_pure(shape) else _ALL


def _met(
    problem: Problem,
    wanted: Callable[[Shape], bool],
    barred: set[WishKind],
    whom: Callable[[Shape], str] = lambda _: _ALL,
) -> list[int]:
    """Return for each player a bit set of those who share a wanted round and may meet."""
    mates = [0] * problem.players
    for shape in problem.shapes:
        if wanted(shape):
            for player, those in _in_reach(shape, whom(shape)):
                mates[player] |= those
    for player in range(problem.players):
        mates[player] &= ~(1 << player)
    for demand in problem.demands:
        if demand.must and demand.kind in barred and demand.wish.round is None:
            mates[demand.player] &= ~(1 << demand.other)
            mates[demand.other] &= ~(1 << demand.player)
    return mates


def _in_reach(shape: Shape, whom: str) -> Iterator[tuple[int, int]]:
    """Yield each player of a round with the bit set of those within reach."""
    everyone = sum(1 << player for player in shape.players)
    group: dict[int, int] = {}
    for player, bit in zip(shape.players, shape.bits, strict=True):
        group[bit] = group.get(bit, 0) | 1 << player
    for player, bit in zip(shape.players, shape.bits, strict=True):
        own = group[bit]
        yield player, {_ALL: everyone, _SAME: own, _OTHER: everyone & ~own}[whom]


def _turns(problem: Problem, wanted: Callable[[Shape], bool]) -> list[int]:
    """Return for each player the most matches possible in the wanted rounds."""
    turns = [0] * problem.players
    for shape in problem.shapes:
        if wanted(shape) and _matches(shape):
            for player in shape.players:
                turns[player] += 1
    return turns


def _pairs_and_players(total: int, each: int, mates: list[int], most: list[int]) -> tuple[int, int]:
    """Bound repeats twice: over all pairs at once, and player by player.

    Over all pairs: `total` meetings fall on the pairs that can meet, so the
    repeats are at least ``spread(total, pairs)``. Player by player: somebody
    in k matches meets ``each * k`` times among a mates, which costs at least
    ``spread(each * k, a)``; every pair is seen from both ends, so half the sum
    over players counts. How many matches each has is free (but for the sum
    and for presence), so the sum is made as small as possible, one match
    after the other to whoever it costs least: the costs are convex, hence
    this greedy is exact.
    """
    degrees = [mask.bit_count() for mask in mates]
    over_pairs = spread(total, sum(degrees) // 2)
    seats = 2 * total // each
    heap = [
        (spread(each, degree), 0, player)
        for player, degree in enumerate(degrees)
        if most[player] > 0 and degree > 0
    ]
    heapq.heapify(heap)
    cost = 0
    for _ in range(seats):
        if not heap:
            break
        step, k, player = heapq.heappop(heap)
        cost += step
        k += 1
        if k < most[player]:
            rise = spread(each * (k + 1), degrees[player]) - spread(each * k, degrees[player])
            heapq.heappush(heap, (rise, k, player))
    return over_pairs, -(-cost // 2)


_PROOFS = (
    "pigeonhole over all pairs, convexity",
    "pigeonhole player by player, convexity",
    "people of one court in two rounds, summed over pairs of rounds",
)


def _best(*values: int) -> Bound:
    best = max(values)
    return Bound(best, _PROOFS[values.index(best)]) if best > 0 else TRIVIAL


def _partners(problem: Problem) -> Bound:
    """Bound partner repeats.

    Fixed teams of ``pairs`` rounds count once and are left out, which can
    only lower the bound; so are the partnerships that a must makes.
    """

    def counts(shape: Shape) -> bool:
        return not shape.is_drill and not shape.keeps_teams

    total = 2 * sum(_matches(shape) for shape in problem.shapes if counts(shape))
    for one, other in problem.uncounted_partners:
        total -= sum({one, other} <= set(s.players) for s in problem.shapes if counts(s))
    barred = {WishKind.NOT_PARTNERS, WishKind.NOT_SAME_COURT}
    mates = _met(problem, counts, barred, lambda shape: _whom(shape, "partners"))
    return _best(*_pairs_and_players(max(total, 0), 1, mates, _turns(problem, counts)))


def _opponents(problem: Problem) -> Bound:
    """Bound opponent repeats; people who must be partners never oppose.

    Where all rounds are mixed doubles, everybody opposes one of each group in
    every match, so the two sorts of pairs are bounded apart and added.
    """

    def counts(shape: Shape) -> bool:
        return not shape.is_drill

    total = 4 * sum(_matches(shape) for shape in problem.shapes)
    barred = {WishKind.NOT_SAME_COURT, WishKind.PARTNERS}
    turns = _turns(problem, counts)
    rounds = [shape for shape in problem.shapes if _matches(shape)]
    if rounds and all(shape.kind is Kind.MIXED and _is_pure(shape) for shape in rounds):
        apart = [
            max(_pairs_and_players(total // 2, 1, _met(problem, counts, barred, whom), turns))
            for whom in (lambda _: _SAME, lambda _: _OTHER)
        ]
        return _best(sum(apart))
    mates = _met(problem, counts, barred, lambda shape: _whom(shape, "opponents"))
    return _best(*_pairs_and_players(total, 2, mates, turns))


def _meetings(problem: Problem) -> Bound:
    """Bound meetings in either role; teams that count once or not at all are left out."""

    def counts(shape: Shape) -> bool:
        return not shape.is_drill

    if problem.uncounted_partners or problem.all_teams:
        return _opponents(problem)
    total = 6 * sum(_matches(shape) for shape in problem.shapes)
    mates = _met(problem, counts, {WishKind.NOT_SAME_COURT})
    by_pairs, by_players = _pairs_and_players(total, 3, mates, _turns(problem, counts))
    rounds = [(set(s.players), _matches(s)) for s in problem.shapes if counts(s)]
    return _best(by_pairs, by_players, _round_pairs(rounds))


def _round_pairs(rounds: list[tuple[set[int], int]]) -> int:
    """Bound the pairs that share a court twice, two rounds at a time.

    The sum of M(M-1)/2 counts, over every two rounds, the pairs together in
    both. At least x people play a match in both, where x is those present in
    both less those without a match in the one and in the other; they fall
    into a * b cells, one for each court of the first and of the second round, and
    two in one cell are together in both: ``spread(x, a * b)``.
    """
    total = 0
    for (one, a), (other, b) in combinations(rounds, 2):
        off = len(one) - 4 * a + len(other) - 4 * b
        total += spread(max(0, len(one & other) - off), a * b)
    return total


def _drills(problem: Problem) -> Bound:
    """Bound repeats in drill groups.

    Everybody present is in a group. Over all pairs and two rounds at a time
    as for matches; nobody rests, so all who are in both rounds fall into
    cells.
    """
    drills = [shape for shape in problem.shapes if shape.is_drill]
    total = sum(b.size * (b.size - 1) // 2 for shape in drills for b in shape.blocks)
    mates = _met(problem, lambda shape: shape.is_drill, {WishKind.NOT_SAME_COURT})
    by_pairs = spread(total, sum(mask.bit_count() for mask in mates) // 2)
    by_rounds = sum(
        spread(len(set(one.players) & set(other.players)), len(one.blocks) * len(other.blocks))
        for one, other in combinations(drills, 2)
    )
    return _best(by_pairs, 0, by_rounds)


def _stations(problem: Problem) -> Bound:
    """Bound visits to a station again: k drills on a stations cost ``spread(k, a)``.

    Holds only where every court of the drills is a station; else people may
    be elsewhere.
    """
    stationed = problem.event.station_by_court
    if not all(court.name in stationed for court in problem.event.courts):
        return TRIVIAL
    return _visits(problem, [shape for shape in problem.shapes if shape.is_drill])


def _courts(problem: Problem) -> Bound:
    return _visits(problem, list(problem.shapes))


def _ties_to_a_court(demand: Demand) -> bool:
    return demand.must and demand.kind is WishKind.ON_COURT and demand.wish.round is None


def _visits(problem: Problem, shapes: list[Shape]) -> Bound:
    """Bound returns to a court.

    Somebody on court k times, with a courts open to them in all, returns at
    least ``spread(k, a)`` times. Who plays how often is free up to presence
    and the number of seats; the greedy of `_pairs_and_players` applies.
    """
    tied = {d.player: 1 << d.other for d in problem.demands if _ties_to_a_court(d)}
    open_to = [0] * problem.players
    most = [0] * problem.players
    for shape in shapes:
        courts = sum(1 << court for court in shape.courts)
        for player in shape.players:
            open_to[player] |= courts & tied.get(player, courts)
            most[player] += 1
    seats = sum(block.size for shape in shapes for block in shape.blocks)
    rises = sorted(
        k // open_to[player].bit_count()
        for player in range(problem.players)
        for k in range(most[player])
        if open_to[player]
    )
    value = sum(rises[:seats])
    return Bound(value, "pigeonhole of visits over open courts") if value else TRIVIAL


# ---- rests --------------------------------------------------------------------------


def _rest_unfairness(problem: Problem) -> Bound:
    """Bound how far somebody is from their share of rests.

    With everybody within d of their share, each has at least
    ``ceil(share - d)`` and at most ``floor(share + d)`` rests, and the sums of
    these must enclose the number of rests there are. The least d for which
    they do is one of the distances from a share to a whole number beside it.
    """
    shares = problem.shares
    rests = sum(len(shape.rest) for shape in problem.shapes)
    steps = {share % 1 for share in shares} | {1 - share % 1 for share in shares} | {Fraction(0)}
    for d in sorted(steps):
        low = [ceil(share - d) for share in shares]
        high = [floor(share + d) for share in shares]
        fits = all(a <= b for a, b in zip(low, high, strict=True))
        if fits and sum(low) <= rests <= sum(high):
            return Bound(round(float(d), 6), "whole rests beside a fractional share")
    return TRIVIAL


def _back_to_back(problem: Problem) -> Bound:
    """Bound rests in two rounds running: more rests than people means some rest in both."""
    value = sum(
        max(0, len(a.rest) + len(b.rest) - len(set(a.players) | set(b.players)))
        for a, b in pairwise(problem.shapes)
    )
    return Bound(value, "more rests than people in two rounds") if value else TRIVIAL


# ---- levels ----------------------------------------------------------------------------

_MOST_FOR_GAPS = 80
"""Above so many players the search for forced gaps is left out; it grows with the cube."""


def _gap_sum(problem: Problem) -> Bound:
    """Bound the sum of level gaps over all matches.

    (1) Forced gaps: whoever plays is in a match whose gap is at least the
    least gap over all choices of partner and opponents. A match's gap is at
    least the mean of that over its four players, so a round's gaps add up to
    at least a quarter of the sum over its players, those with the largest
    left out where people rest. (2) Parity: levels being multiples of a unit
    u, a match's gap has the parity of its four levels' sum; where nobody
    rests, the gaps add up to an odd number of units if the levels do.
    """
    total = 0
    for shape in problem.shapes:
        seats = 4 * _matches(shape)
        if seats:
            total += max(_forced_gaps(problem, shape, seats), _odd_gap(problem, shape, seats))
    proof = "least gaps of single players, parity of the levels"
    return Bound(total / LEVEL_UNITS, proof) if total else TRIVIAL


def _odd_gap(problem: Problem, shape: Shape, seats: int) -> int:
    levels = [problem.levels[player] for player in shape.players]
    unit = gcd(*levels)
    if unit == 0 or seats != len(levels):
        return 0
    return unit if sum(levels) // unit % 2 else 0


def _forced_gaps(problem: Problem, shape: Shape, seats: int) -> int:
    if len(shape.players) > _MOST_FOR_GAPS:
        return 0
    levels = sorted(problem.levels[player] for player in shape.players)
    least = sorted(_least_gap(levels, i) for i in range(len(levels)))
    return -(-sum(least[:seats]) // 4)


def _least_gap(levels: list[int], i: int) -> int:
    """Return the least gap of a match with the i-th of some sorted levels in it."""
    others = levels[:i] + levels[i + 1 :]
    best = max(levels) * 4
    for mate in range(len(others)):
        rest = others[:mate] + others[mate + 1 :]
        best = min(best, _nearest_sum(rest, levels[i] + others[mate]))
        if best == 0:
            break
    return best


def _nearest_sum(values: list[int], wanted: int) -> int:
    """Return how near the sum of two of some sorted values comes to a wanted sum."""
    low, high = 0, len(values) - 1
    best = wanted + sum(values[-2:])
    while low < high:
        off = values[low] + values[high] - wanted
        best = min(best, abs(off))
        if off == 0:
            break
        if off < 0:
            low += 1
        else:
            high -= 1
    return best


def _gap_max(problem: Problem, gap_sum: Bound, matches: int) -> float:
    """Bound the widest gap by the mean one, moved up to a gap that levels can make."""
    unit = gcd(*problem.levels) if problem.levels else 0
    if not matches or not unit:
        return 0
    mean = gap_sum.value * LEVEL_UNITS / matches
    return ceil(round(mean / unit, 9)) * unit / LEVEL_UNITS
