"""A price in the making: a sum of prices of literals, of products, and of convex counts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.variables import Literal


class Sum:
    """A sum to be minimised.

    Parameters
    ----------
    model
        Where its auxiliary unknowns are made.
    """

    def __init__(self, model: cp_model.CpModel) -> None:
        self._model = model
        self._terms: list[cp_model.LinearExprT] = []

    def minimise(self) -> None:
        """Make the sum what the model minimises."""
        self._model.minimize(cp_model.LinearExpr.sum(self._terms))

    def at_most(self, limit: int) -> None:
        """Let the sum be no more than a limit."""
        self._model.add(cp_model.LinearExpr.sum(self._terms) <= limit)

    def add(self, price: int, what: cp_model.LinearExprT) -> None:
        """Add a price for each unit of something."""
        if price:
            self._terms.append(price * what)

    def product(self, price: int, literals: Sequence[cp_model.LiteralT]) -> None:
        """Add a price for all of some literals being true."""
        if not price:
            return
        if len(literals) == 1:
            self.add(price, literals[0])
            return
        together = self._model.new_bool_var("")
        if price > 0:
            self._model.add_bool_or(together, *(~literal for literal in literals))
        else:
            for literal in literals:
                self._model.add_implication(together, literal)
        self.add(price, together)

    def convex(
        self, price_of: Callable[[int], int], before: int, literals: Sequence[cp_model.LiteralT]
    ) -> None:
        """Add the price of a count, which must be convex in it.

        Parameters
        ----------
        price_of
            The price of each count.
        before
            What is counted already.
        literals
            Each that is true adds one.
        """
        prices = [price_of(before + more) for more in range(len(literals) + 1)]
        if len(set(prices)) == 1:
            return
        price = self._model.new_int_var(min(prices), max(prices), "")
        for more, (here, there) in enumerate(pairwise(prices)):
            slope = there - here
            self._model.add(price >= here + slope * (sum(literals) - more))
        self.add(1, price)

    def distance(self, price: int, what: cp_model.LinearExprT, most: int) -> Literal | None:
        """Add a price for how far something is from zero; return that distance."""
        if not price:
            return None
        distance = self._model.new_int_var(0, most, "")
        self._model.add(distance >= what)
        self._model.add(distance >= -1 * what)
        self.add(price, distance)
        return distance

    def excess(self, price: int, what: cp_model.LinearExprT, most: int) -> None:
        """Add a price for how far something is above zero."""
        if price:
            excess = self._model.new_int_var(0, most, "")
            self._model.add(excess >= what)
            self.add(price, excess)
