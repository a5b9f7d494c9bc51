"""One way in: an event becomes a seated and measured result."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.domain.event import Event
from scheduler.domain.plan import Measure, PlannedRound
from scheduler.rotation.bounds import Bound, bounds_of
from scheduler.rotation.construct import random_solution
from scheduler.rotation.counts import values_of
from scheduler.rotation.effort import EFFORTS, Report
from scheduler.rotation.least_change import mend
from scheduler.rotation.portfolio import search
from scheduler.rotation.problem import Problem, Solution
from scheduler.rotation.publish import rounds_of
from scheduler.rotation.search import Found
from scheduler.rotation.settled_cases import with_settled_cases
from scheduler.rotation.shapes import problem_of

__all__ = ["EFFORTS", "Result", "measures_of", "solve"]


@dataclass(frozen=True)
class Result:
    """A seated event.

    Parameters
    ----------
    rounds
        Every round, the played ones first; matches without serving orders.
    measures
        The measures that do not hang on who serves, each beside its bound.
    interrupted
        True when the search was cut short by the user.
    pairs
        The fixed pairs of the ``pairs`` rounds, those never on a court included.
    """

    rounds: tuple[PlannedRound, ...]
    measures: dict[str, Measure]
    interrupted: bool = False
    pairs: tuple[tuple[str, str], ...] = ()


def solve(  # noqa: PLR0913  each names a way to ask
    event: Event,
    *,
    played: tuple[PlannedRound, ...] = (),
    printed: Mapping[int, PlannedRound] | None = None,
    least_change: bool = False,
    seed: int = 1,
    effort: str = "normal",
    report: Report | None = None,
) -> Result:
    """Seat an event.

    Parameters
    ----------
    event
        What was asked for.
    played
        Rounds that already happened; they stay exactly as they are and count.
    printed
        By position, rounds to come as people know them, in which everybody
        stays put where that is possible.
    least_change
        Move as few people as possible from the printed rounds, before
        anything else but musts and fair rests.
    seed
        Start of all random numbers: the same event, seed and effort give the
        same result on every run.
    effort
        ``"quick"``, ``"normal"`` or ``"thorough"``.
    report
        Told, now and then, the share of the work done and what is being done.

    Raises
    ------
    NoPlan
        If no plan can keep the musts, with a smallest conflict.
    """
    problem = problem_of(event, played, printed)
    if not any(problem.shapes[number].players for number in problem.free):
        found = Found(random_solution(problem, random.Random(seed)), 0, problem)  # noqa: S311
    else:
        find = mend if least_change else search
        found = find(problem, seed=seed, effort=effort, report=report)
    return Result(
        rounds=rounds_of(found.problem, found.solution, played),
        measures=measures_of(found.problem, found.solution),
        interrupted=found.interrupted,
        pairs=_pairs(found.problem),
    )


def _pairs(problem: Problem) -> tuple[tuple[str, str], ...]:
    names = [player.name for player in problem.event.players]
    return tuple((names[one], names[other]) for one, other in problem.all_teams)


def measures_of(problem: Problem, solution: Solution) -> dict[str, Measure]:
    """Return the measures of a solution beside their bounds."""
    values, bounds = values_of(problem, solution), bounds_of(problem)
    measures = {name: _measure(value, bounds[name]) for name, value in values.items()}
    return with_settled_cases(problem, measures)


def _measure(value: float, bound: Bound) -> Measure:
    """Put a value beside its bound; zero needs no other proof than that counts are not negative."""
    proven = value == bound.value
    return Measure(value=value, bound=bound.value, proven=proven, proof=bound.proof)
