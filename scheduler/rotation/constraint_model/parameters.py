"""How the solver is run: one worker, a seed, and counted work, so that every answer repeats.

With one worker and a limit in deterministic time CP-SAT gives the same answer
on every run of one version; a limit by the clock would not (or-tools issues
1145 and 4195). A unit of deterministic time is roughly a second.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from enum import Enum
from typing import Any

from ortools.sat.python import cp_model


class Status(Enum):
    """What a run of the solver settled."""

    FOUND = "found"
    BEST = "best"
    IMPOSSIBLE = "impossible"
    UNDECIDED = "undecided"


class Budget:
    """Units of deterministic time that several runs share.

    Parameters
    ----------
    units
        How much there is in all.
    """

    def __init__(self, units: float) -> None:
        self.left = units

    @property
    def is_spent(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0

    @contextmanager
    def at_most(self, units: float) -> Iterator[Budget]:
        """Hand out a part of what is left; what is used of it is spent."""
        part = Budget(min(units, self.left))
        given = part.left
        yield part
        self.spend(given - part.left)

    def spend(self, units: float) -> None:
        """Take away what a run used."""
        self.left -= units


_STATUS = {
    cp_model.OPTIMAL: Status.BEST,
    cp_model.FEASIBLE: Status.FOUND,
    cp_model.INFEASIBLE: Status.IMPOSSIBLE,
    cp_model.UNKNOWN: Status.UNDECIDED,
}


def run(
    model: cp_model.CpModel,
    seed: int,
    budget: Budget,
    *,
    hinted: bool = False,
    settings: dict[str, Any] | None = None,
) -> tuple[Status, cp_model.CpSolver]:
    """Solve a model within what is left of the budget.

    Parameters
    ----------
    model
        The model.
    seed
        The solver's random seed.
    budget
        Where the work is taken from.
    hinted
        Whether a complete hint is given. Presolve of 9.15 breaks such a hint
        unless symmetry is kept (or-tools issues 4373 and 4693).
    settings
        Further parameters of the solver.

    Raises
    ------
    ValueError
        If the model is malformed, which is a fault of ours.
    """
    if budget.is_spent:
        return Status.UNDECIDED, cp_model.CpSolver()
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed % 2**31
    solver.parameters.max_deterministic_time = budget.left
    solver.parameters.linearization_level = 2
    solver.parameters.keep_symmetry_in_presolve = hinted
    for name, value in (settings or {}).items():
        setattr(solver.parameters, name, value)
    status = solver.solve(model)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(model.validate())
    budget.spend(solver.deterministic_time)
    return _STATUS[status], solver
