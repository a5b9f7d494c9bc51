"""The constraint model (CP-SAT): what must be kept, what cannot be, and what is proved.

The solver is imported only when a function here is called, since most plans
need none of it and it takes a third of a second to load.
"""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.rotation.price import Prices
from scheduler.rotation.problem import Problem, Solution

__all__ = ["conflict", "feasible", "first_solution", "polish", "prove"]


def first_solution(problem: Problem, seed: int, units: float) -> Solution:
    """Return a solution that keeps every must, the numbers of courts and fair rests.

    In ``pairs`` rounds it may pair people otherwise than `problem.teams`,
    where those teams would break a must; `scheduler.rotation.teams.with_teams_of`
    takes them over into the problem.

    Parameters
    ----------
    problem
        What is to be seated.
    seed
        The solver's random seed.
    units
        Deterministic time for finding the solution; as much again may be
        spent on finding the reason why there is none.

    Raises
    ------
    NoPlan
        If there is none, with a smallest clash of musts; or if none was found
        within the units, then not `proven`.
    """
    from scheduler.rotation.constraint_model import first  # noqa: PLC0415  loads the solver

    return first.first_solution(problem, seed, units)


def feasible(problem: Problem, seed: int, units: float) -> Solution | None:
    """Return a solution that keeps every must, None if none is found within the units."""
    from scheduler.rotation.constraint_model import first  # noqa: PLC0415  loads the solver

    return first.feasible(problem, seed, units)


def conflict(problem: Problem, seed: int, units: float) -> tuple[str, ...]:
    """Return why an event without a plan has none.

    A smallest set of must-wishes that cannot be kept together, each as its
    sentence, then a sentence for a fair share of rests or the courts of a
    round where these are part of the reason. Where the units run out before
    the set is smallest, it is still one that cannot be kept.
    """
    from scheduler.rotation.constraint_model import first  # noqa: PLC0415  loads the solver

    return first.conflict(problem, seed, units)


def polish(
    problem: Problem, prices: Prices, solution: Solution, rounds: Sequence[int], units: float
) -> Solution:
    """Return a solution no dearer, with one to three rounds seated anew, all others held fast.

    Parameters
    ----------
    problem, prices
        What is to be seated, and what everything costs.
    solution
        The solution to improve. If it breaks a must it is returned as it is.
    rounds
        Positions of the rounds, none of them played.
    units
        Deterministic time.
    """
    from scheduler.rotation.constraint_model import polishing  # noqa: PLC0415  loads the solver

    return polishing.polish(problem, prices, solution, rounds, units)


def prove(problem: Problem, measure: str, at_most: int, units: float) -> bool | None:
    """Return whether it is proved that every solution has more repeats than asked about.

    Musts and the fair share of rests are kept, and unless partners are the
    measure nobody partners twice.

    Parameters
    ----------
    problem
        What is to be seated: rounds of matches with free partners, none played.
    measure
        ``partner_repeats``, ``opponent_repeats`` or ``meeting_repeats``.
    at_most
        The value asked about.
    units
        Deterministic time.

    Returns
    -------
    bool or None
        True if no solution has so few, False if one has, None if the units
        did not suffice.

    Raises
    ------
    ValueError
        If the measure or the problem is of another kind.
    """
    from scheduler.rotation.constraint_model.parameters import Status  # noqa: PLC0415  loads the solver
    from scheduler.rotation.constraint_model.small_cases import Proof  # noqa: PLC0415

    status, solution = Proof(problem, measure, at_most).settle(1, units)
    return None if status is Status.UNDECIDED else solution is None
