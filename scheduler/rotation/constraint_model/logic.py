"""What the rules are said in: clauses and sums, each under a literal or always."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.variables import Literal


class Logic:
    """Adds clauses and sums to a model.

    Parameters
    ----------
    model
        The model.
    """

    def __init__(self, model: cp_model.CpModel) -> None:
        self._model = model

    def under(self, constraint: Any, on: Literal | None) -> None:
        """Let a constraint hold where a literal is true, or always."""
        added = self._model.add(constraint)
        if on is not None:
            added.only_enforce_if(on)

    def clause(self, literals: Iterable[cp_model.LiteralT], on: Literal | None) -> None:
        """Let one of some literals be true."""
        under: list[cp_model.LiteralT] = [] if on is None else [~on]
        self._model.add_bool_or([*under, *literals])

    def forbid(self, literals: Iterable[Literal | int]) -> None:
        """Let none of some literals be true."""
        for literal in literals:
            if not isinstance(literal, int):
                self._model.add(literal == 0)

    def never(self, literals: Iterable[Literal], on: Literal | None) -> None:
        """Let none of some literals be true where another is."""
        for literal in literals:
            self.clause([~literal], on)

    def not_both(self, here: Literal | int, there: Literal | int, on: Literal | None) -> None:
        """Let two literals not both be true."""
        if not isinstance(here, int) and not isinstance(there, int):
            self.clause([~here, ~there], on)

    def equal(self, here: list[Literal], there: list[Literal], on: Literal | None) -> None:
        """Make two literals equal, an empty list standing for what cannot be."""
        for literal in here:
            self.clause([~literal, *there], on)
        for literal in there:
            self.clause([~literal, *here], on)

    def all_of(self, literals: list[Literal]) -> Literal:
        """Return a new literal that makes all the given ones true."""
        together = self._model.new_bool_var("")
        for literal in literals:
            self._model.add_implication(together, literal)
        return together


def known(literal: Literal | int) -> list[Literal]:
    """Return a literal in a list, nothing where there is none."""
    return [] if isinstance(literal, int) else [literal]
