"""Which exchanges a stage of the local search tries, and how often each."""

from __future__ import annotations

from scheduler.rotation.effort import Budget
from scheduler.rotation.kernel import Moves
from scheduler.rotation.local_search import RELABEL, Stage
from scheduler.rotation.price import LEVEL
from scheduler.rotation.problem import Problem


def mix(problem: Problem, *, people: int = 0, kin: int = 0, near: int = 0) -> Moves:
    """Return mostly exchanges of two seats; see `Moves` for what comes besides."""
    rests = 40 if any(shape.rest for shape in problem.shapes) else 0
    return Moves(teams=10, courts=4, rests=rests, people=people, kin=kin, near=near, span=4)


def everywhere(problem: Problem) -> Moves | None:
    """Return how people change places in every round at once."""
    kin = problem.kin
    shared = sum(kin.count(number) > 1 for number in kin if number >= 0)
    return RELABEL if 2 * shared > problem.players else mix(problem, people=700)


def courts_matter(problem: Problem) -> bool:
    """Return whether somebody cares which court it is before the last stage."""
    return bool(problem.event.stations)


def tail(problem: Problem, budget: Budget, share: float) -> Stage:
    """Return the last stage: what weighs little, above all who comes to which court."""
    rests = 40 if any(shape.rest for shape in problem.shapes) else 0
    exchanges = Moves(teams=20, courts=300, rests=rests, people=20)
    return Stage(budget.part(share), 0.05 * LEVEL, 20, exchanges, courts=True)
