"""The price of levels: gaps between teams, ranges and means of those on a court."""

from __future__ import annotations

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.sums import Sum
from scheduler.rotation.constraint_model.variables import RoundVariables
from scheduler.rotation.kernel.arrays import Data
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import BlockKind, Problem


class LevelPrices:
    """Adds what the levels in a round cost.

    Parameters
    ----------
    model
        Where auxiliary unknowns are made.
    total
        What to add to.
    problem
        Whose levels these are.
    prices
        What a gap costs.
    data
        The kernel's arrays, which hold the other prices of each round.
    """

    def __init__(
        self,
        model: cp_model.CpModel,
        total: Sum,
        problem: Problem,
        prices: Prices,
        data: Data,
    ) -> None:
        self._model = model
        self._total = total
        self._levels = problem.levels
        self._highest = max(problem.levels, default=0)
        self._prices = prices
        self._data = data

    def add(self, made: RoundVariables) -> None:
        """Add the prices of one round, in which teams are told apart."""
        price = {name: int(self._data[f"round_{name}"][made.number]) for name in _PRICES}
        for number, block in enumerate(made.shape.blocks):
            if block.kind is BlockKind.MATCH:
                self._add_gap(made, number)
            if block.kind is not BlockKind.SPARE:
                self._add_spread(made, number, price["spread"])
                mean = block.size * price["mean"]
                off = self._sum(made, number, (0, 1)) - mean
                self._total.distance(price["mix"], off, block.size * self._highest + mean)

    def _add_gap(self, made: RoundVariables, block: int) -> None:
        difference = self._sum(made, block, (0,)) - self._sum(made, block, (1,))
        gap = self._total.distance(self._prices.gap, difference, 2 * self._highest)
        if gap is not None:
            wide = gap - self._prices.wide_from
            self._total.excess(self._prices.wide_gap, wide, 2 * self._highest)

    def _add_spread(self, made: RoundVariables, block: int, price: int) -> None:
        if not price:
            return
        low = self._model.new_int_var(0, self._highest, "")
        high = self._model.new_int_var(0, self._highest, "")
        for player in made.shape.players:
            for literal in made.on_block(player, block):
                self._model.add(low <= self._levels[player]).only_enforce_if(literal)
                self._model.add(high >= self._levels[player]).only_enforce_if(literal)
        self._total.add(price, high - low)

    def _sum(self, made: RoundVariables, block: int, sides: tuple[int, ...]) -> cp_model.LinearExpr:
        """Return the sum of levels in a block, or on one side of it."""
        here = [
            (literal, self._levels[player])
            for (player, place), literal in made.inside.items()
            if made.cells[place].block == block and made.cells[place].side in sides
        ]
        return cp_model.LinearExpr.weighted_sum(
            [literal for literal, _ in here], [level for _, level in here]
        )


_PRICES = ("spread", "mix", "mean")
