"""Solutions of the engine as plans for the checker, without serving orders and figures."""

from __future__ import annotations

from scheduler.domain.plan import Plan, PlannedRound
from scheduler.rotation.problem import Problem, Solution
from scheduler.rotation.publish import rounds_of


def plan_of(problem: Problem, solution: Solution, played: tuple[PlannedRound, ...] = ()) -> Plan:
    """Return a solution as a plan, which says who the fixed pairs are."""
    names = [player.name for player in problem.event.players]
    return Plan(
        problem.event,
        rounds_of(problem, solution, played),
        settled=len(played),
        pairs=tuple((names[one], names[other]) for one, other in problem.all_teams),
    )
