"""Which exchanges a stage of the local search tries, and how often each."""

from __future__ import annotations

from dataclasses import replace

from scheduler.rotation.effort import Budget
from scheduler.rotation.kernel import Moves
from scheduler.rotation.local_search import RELABEL, Stage
from scheduler.rotation.price import LEVEL
from scheduler.rotation.problem import Problem


def mix(problem: Problem, *, kin: int = 0, near: int = 0) -> Moves:
    """Return mostly exchanges of two seats; see `Moves` for what comes besides.

    Where people are no kin, two of them seldom change places everywhere, as that takes long.
    """
    rests = 12 if any(shape.rest for shape in problem.shapes) else 0
    people = 2 if kin and _strangers(problem) else 0
    teams = 10 if problem.teams or problem.uncounted_partners else 1
    return Moves(teams=teams, courts=4, rests=rests, people=people, kin=kin, near=near, span=4)


def _strangers(problem: Problem) -> bool:
    """Return whether there are people who are kin of nobody."""
    return any(number < 0 or problem.kin.count(number) == 1 for number in problem.kin)


def everywhere(problem: Problem) -> Moves | None:
    """Return how people change places in every round at once."""
    kin = problem.kin
    shared = sum(kin.count(number) > 1 for number in kin if number >= 0)
    return RELABEL if 2 * shared > problem.players else replace(mix(problem), people=700)


def courts_matter(problem: Problem) -> bool:
    """Return whether somebody cares which court it is before the last stage."""
    return bool(problem.event.stations)


def tail(problem: Problem, budget: Budget, share: float) -> Stage:
    """Return the last stage: what weighs little, above all who comes to which court."""
    exchanges = replace(mix(problem), teams=2, courts=300, people=2)
    return Stage(budget.part(share), 0.05 * LEVEL, 20, exchanges, courts=True)
