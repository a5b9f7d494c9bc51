"""The one fact used throughout, and what follows from it for pairs and for players.

For whole counts k with a given sum, the sum of k(k-1)/2 is least when they
differ by at most one (k(k-1)/2 is convex).
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass


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


def pairs_and_players(total: int, each: int, mates: list[int], most: list[int]) -> tuple[int, int]:
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


def best_of(*values: int) -> Bound:
    """Return the largest of the bounds with the argument it rests on."""
    best = max(values)
    return Bound(best, _PROOFS[values.index(best)]) if best > 0 else TRIVIAL
