"""What nobody can beat in drill groups."""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from itertools import combinations

from scheduler.domain.event import WishKind
from scheduler.rotation.bounds.pigeonhole import Bound, best_of, spread
from scheduler.rotation.bounds.reach import met
from scheduler.rotation.problem import Problem, Shape


def drills_bound(problem: Problem) -> Bound:
    """Bound repeats in drill groups.

    Everybody present is in a group. Over all pairs and two rounds at a time
    as for matches; nobody rests, so all who are in both rounds fall into
    cells.
    """
    drills = _drills(problem)
    total = sum(b.size * (b.size - 1) // 2 for shape in drills for b in shape.blocks)
    mates = met(problem, lambda shape: shape.is_drill, {WishKind.NOT_SAME_COURT})
    by_pairs = spread(total, sum(mask.bit_count() for mask in mates) // 2)
    by_rounds = sum(
        spread(_in_both(one, other), len(one.blocks) * len(other.blocks))
        for one, other in combinations(drills, 2)
    )
    return best_of(by_pairs, 0, by_rounds)


def drills_beside_stations(problem: Problem, returns: int) -> int:
    """Bound repeats in drill groups for plans with so many returns to a station.

    Drill repeats count, over every two rounds, the pairs that share a group
    in both. The people in both rounds fall into cells, one for each court of
    the first and each of the second round, and two in one cell are such a
    pair. Whoever comes to one station in both rounds is on the diagonal
    (both cells' courts the same station), and the number of these over all
    pairs of rounds is the number of returns, sum of V(V-1)/2. With w of the x
    people on a diagonal of at most d cells and the others in at most o
    cells off it, two rounds cost at least ``spread(x - w, o) + spread(w, d)``
    (convexity). Both terms are convex in w, so sharing the returns out among
    the pairs of rounds one by one, each to where it costs least, gives the
    least sum.

    How many cells: a round that has s station courts open, others open, and
    fewer groups than courts chooses; of the stations of either round at
    least ``a + b - n`` are used by both, where a and b groups at least stand
    at stations and n stations are open in one or the other; so at most
    ``len(groups) * len(groups) - (a + b - n)`` cells are off the diagonal.
    On it lie at most the stations open in both, and no more than the groups of
    either round.

    Parameters
    ----------
    problem
        The event as arrays.
    returns
        The plan's ``station_repeats``.

    Returns
    -------
    int
        No plan with exactly that many returns has fewer drill repeats.
    """
    pairs = [_Crossing.of(problem, *two) for two in combinations(_drills(problem), 2)]
    total = sum(pair.cost(0) for pair in pairs)
    heap = [(pair.rise(0), number, 0) for number, pair in enumerate(pairs) if pair.most]
    heapq.heapify(heap)
    for _ in range(returns):
        if not heap:
            break
        rise, number, w = heapq.heappop(heap)
        total += rise
        if w + 1 < pairs[number].most:
            heapq.heappush(heap, (pairs[number].rise(w + 1), number, w + 1))
    return total


def _drills(problem: Problem) -> list[Shape]:
    return [shape for shape in problem.shapes if shape.is_drill]


def _in_both(one: Shape, other: Shape) -> int:
    """Return how many at least are in a group in both of two drills."""
    both = len(set(one.players) & set(other.players))
    return max(0, both - len(one.rest) - len(other.rest))


@dataclass(frozen=True, slots=True)
class _Crossing:
    """Two drills crossing: people in both, cells off the diagonal and on it at the most."""

    people: int
    off: int
    on: int

    @classmethod
    def of(cls, problem: Problem, one: Shape, other: Shape) -> _Crossing:
        """Return the cells of two drills, the diagonal being the stations used by both."""
        first, second = _stations(problem, one), _stations(problem, other)
        a, b = len(one.blocks), len(other.blocks)
        in_use = [
            max(0, len(shape.blocks) - (len(shape.courts) - len(stations)))
            for shape, stations in ((one, first), (other, second))
        ]
        shared = max(0, sum(in_use) - len(first | second))
        return cls(_in_both(one, other), a * b - shared, min(a, b, len(first & second)))

    @property
    def most(self) -> int:
        """How many can be on the diagonal."""
        return self.people if self.on else 0

    def cost(self, returning: int) -> int:
        """Return the least repeats with so many people on the diagonal."""
        return spread(self.people - returning, self.off) + spread(returning, self.on)

    def rise(self, returning: int) -> int:
        """Return what one more person on the diagonal adds to the repeats."""
        return self.cost(returning + 1) - self.cost(returning)


def _stations(problem: Problem, shape: Shape) -> set[int]:
    stationed = problem.event.station_by_court
    return {court for court in shape.courts if problem.event.courts[court].name in stationed}
