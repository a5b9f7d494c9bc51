"""Several ways to a solution, one price: the best one wins.

A plan for an emphasis is a short list of stages of the local search, from
random starts and from templates. The portfolio keeps the cheapest solution
that breaks no must, and asks the constraint model where the search found none.
"""

from __future__ import annotations

from dataclasses import replace

from scheduler.rotation.effort import Budget, Report, moves_for
from scheduler.rotation.local_search import Stage
from scheduler.rotation.mixes import mix
from scheduler.rotation.price import LEVEL, prices_of
from scheduler.rotation.problem import Problem
from scheduler.rotation.rest_ranges import with_rests_of
from scheduler.rotation.search import Found, Search
from scheduler.rotation.strategies import STRATEGIES, follow_designs
from scheduler.rotation.teams import with_teams_of

UNITS_FOR_MUSTS = 8.0
"""Deterministic time the constraint model may take to keep the musts or refute them."""


def search(problem: Problem, *, seed: int, effort: str, report: Report | None = None) -> Found:
    """Return the best solution found within an effort.

    Raises
    ------
    NoPlan
        If the musts cannot be kept.
    KeyboardInterrupt
        If interrupted before any solution was found.
    """
    prices = prices_of(problem.event.emphasis, problem.event.exchange)
    work = Search(problem, prices, seed, Budget(moves_for(effort, problem), report))
    try:
        follow_designs(work)
        STRATEGIES[problem.event.emphasis](work)
        return work.best or _from_the_model(work, seed)
    except KeyboardInterrupt:
        work.break_off()
        if work.best is None:
            raise
        return replace(work.best, interrupted=True)


def _from_the_model(failed: Search, seed: int) -> Found:
    """Ask the constraint model for a start that keeps the musts, and improve on it gently."""
    from scheduler.rotation.constraint_model import first_solution  # noqa: PLC0415  slow to load

    start = first_solution(failed.problem, seed, UNITS_FOR_MUSTS)
    problem = with_rests_of(with_teams_of(failed.problem, start), start)
    work = Search(problem, failed.prices, seed, failed.budget)
    work.begin(start)
    work.keep()
    exchanges = replace(mix(problem), people=10)
    work.run(Stage(work.budget.part(0.3), 0.9 * LEVEL, 0.1 * LEVEL, exchanges))
    work.finish(0.1)
    assert work.best is not None
    return work.best
