"""What nobody can beat in level gaps."""

from __future__ import annotations

from math import ceil, gcd

from scheduler.rotation.bounds.pigeonhole import TRIVIAL, Bound
from scheduler.rotation.bounds.reach import matches_of
from scheduler.rotation.problem import LEVEL_UNITS, Problem, Shape

_MOST_FOR_GAPS = 80
"""Above so many players the search for forced gaps is left out; it grows with the cube."""


def gap_sum_bound(problem: Problem) -> Bound:
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
        seats = 4 * matches_of(shape)
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


def gap_mean_bound(problem: Problem, gap_sum: Bound) -> Bound:
    """Bound the mean gap by the sum of all."""
    matches = _all_matches(problem)
    return Bound(round(gap_sum.value / matches, 6) if matches else 0, gap_sum.proof)


def _all_matches(problem: Problem) -> int:
    return sum(matches_of(shape) for shape in problem.shapes)


def gap_max_bound(problem: Problem, gap_sum: Bound) -> Bound:
    """Bound the widest gap by the mean one, moved up to a gap that levels can make."""
    unit = gcd(*problem.levels) if problem.levels else 0
    matches = _all_matches(problem)
    if not matches or not unit:
        return Bound(0, gap_sum.proof)
    mean = gap_sum.value * LEVEL_UNITS / matches
    return Bound(ceil(round(mean / unit, 9)) * unit / LEVEL_UNITS, gap_sum.proof)
