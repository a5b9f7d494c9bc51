"""The way in: a first solution that keeps every must, or the reason why there is none."""

from __future__ import annotations

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import WishKind
from scheduler.rotation.constraint_model.conflicts import Clash
from scheduler.rotation.constraint_model.fairness import fair_limits
from scheduler.rotation.constraint_model.model import Asked, RotaModel, musts_of
from scheduler.rotation.constraint_model.parameters import Budget, Status
from scheduler.rotation.constraint_model.reasons import never_together_sentence
from scheduler.rotation.constraint_model.settled import Settled
from scheduler.rotation.constraint_model.variables import ONCE_WISHES
from scheduler.rotation.problem import Problem, Solution, pair
from scheduler.rotation.teams import teams_in

_UNDECIDED = "no plan that keeps every must was found, and none was proved impossible"


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
    impossible = too_late(problem)
    if impossible:
        raise NoPlan(impossible)
    status, solution = decide(problem, seed, units)
    if solution is not None:
        return solution
    if status is Status.IMPOSSIBLE:
        raise NoPlan(conflict(problem, seed, units))
    raise NoPlan([_UNDECIDED], proven=False)


def feasible(problem: Problem, seed: int, units: float) -> Solution | None:
    """Return a solution that keeps every must, None if none is found within the units."""
    return None if too_late(problem) else decide(problem, seed, units)[1]


def conflict(problem: Problem, seed: int, units: float) -> tuple[str, ...]:
    """Return why an event without a plan has none.

    A smallest set of must-wishes that cannot be kept together, each as its
    sentence, then a sentence for a fair share of rests or the courts of a
    round where these are part of the reason. Where the units run out before
    the set is smallest, it is still one that cannot be kept.
    """
    impossible = too_late(problem)
    if impossible:
        return impossible
    free_teams = has_free_teams(problem)
    return Clash(problem, seed, Budget(units), free_teams=free_teams).sentences()


def too_late(problem: Problem) -> tuple[str, ...]:
    """Return the first must to meet once that can be kept no more, and why, if there is one.

    That is one whose two people were there together, did not meet, and share
    no round to come. Two who are never there together owe each other nothing.
    """
    settled = Settled(problem)
    for demand in problem.demands:
        if demand.must and demand.kind in ONCE_WISHES:
            both = {demand.player, demand.other}
            rounds = [r for r in demand.rounds if both <= set(problem.shapes[r].players)]
            as_partners = demand.kind is WishKind.PARTNERS_ONCE
            met = settled.are_partners(demand) if as_partners else settled.are_opponents(demand)
            if rounds and not met and rounds[-1] not in problem.free:
                return (demand.wish.sentence, never_together_sentence(problem, demand))
    return ()


def decide(problem: Problem, seed: int, units: float) -> tuple[Status, Solution | None]:
    """Look for a solution that keeps every must; return how it went and what was found."""
    budget = Budget(units)
    asked = Asked(musts_of(problem), fair_limits(problem, seed, budget))
    status, solution = RotaModel(problem, asked).solve(seed, budget)
    if status is Status.IMPOSSIBLE and has_free_teams(problem):
        return RotaModel(problem, asked, free_teams=True).solve(seed, budget)
    return status, solution


def has_free_teams(problem: Problem) -> bool:
    """Return whether some teams of the ``pairs`` rounds may still be chosen otherwise."""
    settled = teams_in(problem, problem.played)
    return sum(pair(*team) not in settled for team in problem.teams) > 1
