"""How often everybody may rest so that the evening counts as fair.

Without played rounds these are the whole numbers next to the fair share:
shares are a seating in fractions, and such a one can be rounded. What was
played may already be further away than the rounds ahead can mend, because
somebody went home or a court was lost; then the ranges are widened by as
little as possible, counted as squares.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scheduler.rotation.problem import Problem, Shape, Solution

Ranges = tuple[tuple[int, int], ...]
Step = tuple[int, int, int]  # the one who gives a rest, the one who takes it, the round


def fair_ranges(problem: Problem) -> Ranges:
    """Return the fewest and most rests of each player over the whole evening.

    Rounds of fixed pairs still to come are no flow, as whole pairs rest: there
    nothing is widened here, and where it must be the constraint model does it
    (`with_rests_of`).
    """
    ranges = tuple((floor(share), ceil(share)) for share in problem.shares)
    if not problem.played or any(problem.shapes[r].keeps_teams for r in problem.free):
        return ranges
    rests = _Rests(problem, ranges)
    rests.improve()
    return tuple(
        (min(low, n), max(high, n)) for (low, high), n in zip(ranges, rests.numbers, strict=True)
    )


def with_rests_of(problem: Problem, solution: Solution) -> Problem:
    """Return the problem with ranges that a solution, as fair as can be, is within."""
    rests = Counter(player for seating in solution for player in seating.rest)
    ranges = tuple(
        (min(low, rests[player]), max(high, rests[player]))
        for player, (low, high) in enumerate(problem.rest_ranges)
    )
    return replace(problem, known_ranges=ranges)


class _Rests:
    """Who rests in each round ahead, and how often in all; nothing else of a seating."""

    def __init__(self, problem: Problem, ranges: Ranges) -> None:
        self._problem = problem
        self._ranges = ranges
        self.numbers = [0] * problem.players
        for seating in problem.played:
            for player in seating.rest:
                self.numbers[player] += 1
        self._resting: dict[int, set[int]] = {}
        owed = [share - n for share, n in zip(problem.shares, self.numbers, strict=True)]
        for number in problem.free:
            resting = _furthest_behind(problem.shapes[number], owed)
            self._resting[number] = set(resting)
            for player in resting:
                self.numbers[player] += 1

    def improve(self) -> None:
        """Exchange rests along chains until no chain brings anybody nearer at no other's cost.

        Rests are a flow from rounds to people with a convex price on each
        total; without a cheaper chain the flow is the cheapest there is.
        """
        while any(self._mend(player) for player in range(len(self.numbers))):
            pass

    def _excess(self, player: int, more: int = 0) -> int:
        low, high = self._ranges[player]
        n = self.numbers[player] + more
        return max(0, low - n, n - high) ** 2

    def _mend(self, player: int) -> bool:
        """Find and make one chain that takes excess from a player; return whether there was."""
        if not self._excess(player):
            return False
        step = -1 if self.numbers[player] > self._ranges[player][1] else 1
        saved = self._excess(player) - self._excess(player, step)
        came: dict[int, Step | None] = {player: None}
        waiting = [player]
        for one in waiting:
            if one != player and saved > self._excess(one, -step) - self._excess(one):
                self._exchange(one, came)
                self.numbers[player] += step
                self.numbers[one] -= step
                return True
            for other, number in self._neighbours(one, step):
                if other not in came:
                    giver, taker = (one, other) if step < 0 else (other, one)
                    came[other] = (giver, taker, number)
                    waiting.append(other)
        return False

    def _neighbours(self, one: int, step: int) -> Iterator[tuple[int, int]]:
        """Yield who could take a rest from somebody (or, `step` being 1, give one), and where."""
        for number, resting in self._resting.items():
            shape = self._problem.shapes[number]
            if shape.keeps_teams or not resting or (one in resting) is not (step < 0):
                continue
            bit = dict(zip(shape.players, shape.bits, strict=True))
            if one in bit:
                for other in shape.players:
                    if bit[other] == bit[one] and (other in resting) is (step > 0):
                        yield other, number

    def _exchange(self, last: int, came: dict[int, Step | None]) -> None:
        step = came[last]
        while step is not None:
            giver, taker, number = step
            self._resting[number].remove(giver)
            self._resting[number].add(taker)
            before = giver if taker == last else taker
            step, last = came[before], before


def _furthest_behind(shape: Shape, owed: list[Fraction]) -> list[int]:
    """Return who rests in a round if the rests go to those most behind; settle what they owe."""
    chosen: list[int] = []
    free = dict(zip(shape.players, shape.bits, strict=True))
    for mask in shape.rest:
        player = max((p for p in free if free[p] & mask), key=lambda p: owed[p])
        chosen.append(player)
        owed[player] -= 1
        del free[player]
    return chosen
