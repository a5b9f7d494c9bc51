"""The price of when each player rests and plays."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.sums import Sum
from scheduler.rotation.constraint_model.variables import RoundVariables
from scheduler.rotation.kernel.arrays import Data
from scheduler.rotation.problem import BlockKind, Problem, Seating

Whether = cp_model.LiteralT
"""An unknown, or a bool where it is settled."""


class Turns:
    """What each player does in each round, settled or not.

    Parameters
    ----------
    problem
        What is to be seated.
    rounds
        Unknowns of the rounds to be seated.
    settled
        Seatings of all others.
    """

    def __init__(
        self,
        problem: Problem,
        rounds: Mapping[int, RoundVariables],
        settled: Mapping[int, Seating],
    ) -> None:
        self._shapes = problem.shapes
        self._numbers = range(len(problem.shapes))
        self._players = range(problem.players)
        self._rounds = rounds
        self._settled = settled

    def add_prices(self, total: Sum, data: Data) -> None:
        """Add what everybody's rests and rounds on court cost; `data` are the kernel's arrays."""
        for player in self._players:
            self._add_rests(total, data, player)
            self._add_plays(total, data, player)

    def _add_rests(self, total: Sum, data: Data, player: int) -> None:
        unfair, back_to_back, spare = (int(price) for price in data["rest_price"])
        low, high = int(data["fewest_rests"][player]), int(data["most_rests"][player])
        rests = [self._rests(number, player) for number in self._numbers]
        on_spare = [self._on_spare(number, player) for number in self._numbers]
        _count(total, rests, lambda k: unfair * max(low - k, k - high, 0) ** 2)
        _count(total, on_spare, lambda k: spare * k * k)
        for both in pairwise(rests):
            _all_of(total, back_to_back, both)

    def _add_plays(self, total: Sum, data: Data, player: int) -> None:
        most, over = int(data["most_plays"][player]), int(data["plays_price"][player])
        plays = [self._plays(number, player) for number in self._numbers]
        _count(total, plays, lambda k: over * max(0, k - most))
        length, price = int(data["most_running"][player]) + 1, int(data["running_price"][player])
        for start in range(len(plays) - length + 1):
            _all_of(total, price, plays[start : start + length])

    def _rests(self, number: int, player: int) -> Whether:
        if number in self._settled:
            return player in self._settled[number].rest
        return next(iter(self._rounds[number].rests(player)), False)

    def _plays(self, number: int, player: int) -> Whether:
        if number in self._settled:
            return any(player in block for block in self._settled[number].blocks)
        if player not in self._rounds[number].shape.players:
            return False
        return next((~rests for rests in self._rounds[number].rests(player)), True)

    def _on_spare(self, number: int, player: int) -> Whether:
        for at, block in enumerate(self._shapes[number].blocks):
            if block.kind is BlockKind.SPARE and number in self._settled:
                return player in self._settled[number].blocks[at]
            if block.kind is BlockKind.SPARE:
                return next(iter(self._rounds[number].on_block(player, at)), False)
        return False


def _count(total: Sum, whether: Iterable[Whether], price_of: Callable[[int], int]) -> None:
    items = list(whether)
    unknown = [item for item in items if not isinstance(item, bool)]
    total.convex(price_of, sum(item is True for item in items), unknown)


def _all_of(total: Sum, price: int, whether: Iterable[Whether]) -> None:
    items = list(whether)
    unknown = [item for item in items if not isinstance(item, bool)]
    if unknown and not any(item is False for item in items):
        total.product(price, unknown)
