"""Several ways to a solution, one price: the best one wins.

Every method starts from the incumbent or from a start of its own and hands
back a solution; the portfolio keeps the cheapest that breaks no must, and
asks the constraint model where the local search found none.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from scheduler.domain.event import Emphasis
from scheduler.rotation.construct import random_solution
from scheduler.rotation.counts import broken
from scheduler.rotation.effort import EFFORTS, Budget, Report
from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.local_search import Stage, run
from scheduler.rotation.price import LEVEL, Prices, prices_of
from scheduler.rotation.problem import LEVEL_UNITS, Problem, Solution
from scheduler.rotation.teams import with_teams_of


@dataclass(frozen=True)
class Found:
    """A solution that keeps the musts, its price, and whether the search was cut short.

    `problem` is the one that was solved: its fixed teams may be others than
    those first thought of.
    """

    solution: Solution
    cost: int
    problem: Problem
    interrupted: bool = False


def search(problem: Problem, *, seed: int, effort: str, report: Report | None = None) -> Found:
    """Return the best solution found within an effort.

    Raises
    ------
    NoPlan
        If the musts cannot be kept.
    """
    prices = prices_of(problem.event.emphasis, problem.event.exchange)
    budget = Budget(EFFORTS[effort], report)
    rng = random.Random(seed)  # noqa: S311  repeatable, not secret
    best: Found | None = None
    runs = 2
    try:
        for _ in range(runs):
            start = random_solution(problem, rng)
            kernel = Kernel(problem, prices, rng.getrandbits(48))
            kernel.start(start)
            stages = stages_for(problem, prices, budget.total // runs)
            run(kernel, stages, lambda moves: budget.spend(moves, "seating"))
            found = Found(kernel.solution(), kernel.best, problem)
            if keeps_musts(problem, found.solution) and (best is None or found.cost < best.cost):
                best = found
    except KeyboardInterrupt:
        if best is None:
            raise
        return replace(best, interrupted=True)
    if best is None:
        return _from_the_model(problem, prices, seed, budget)
    return best


def _from_the_model(problem: Problem, prices: Prices, seed: int, budget: Budget) -> Found:
    """Ask the constraint model for a start that keeps the musts, and improve it gently."""
    from scheduler.rotation.constraint_model import first_solution  # noqa: PLC0415  ortools is slow to load

    start = first_solution(problem, seed, units=20.0)
    problem = with_teams_of(problem, start)
    kernel = Kernel(problem, prices, seed)
    kernel.start(start)
    stages = stages_for(problem, prices, budget.total // 2)
    run(kernel, stages, lambda moves: budget.spend(moves, "seating"))
    solution, cost = kernel.solution(), kernel.best
    if not keeps_musts(problem, solution):
        return Found(start, kernel.start(start), problem)
    return Found(solution, cost, problem)


def keeps_musts(problem: Problem, solution: Solution) -> bool:
    """Return whether every must is kept and nobody rests a whole round more or less than due."""
    rests = [0] * problem.players
    for seating in solution:
        for player in seating.rest:
            rests[player] += 1
    fair = all(abs(n - share) < 1 for n, share in zip(rests, problem.shares, strict=True))
    return fair and not broken(problem, solution, must=True)


def stages_for(problem: Problem, prices: Prices, moves: int) -> tuple[Stage, ...]:
    """Return the stages of one run: the measures that come first while it is hot."""
    rests = 40 if any(shape.rest for shape in problem.shapes) else 0
    seats = Moves(teams=10, courts=4, rests=rests)
    near = replace(seats, people=10, near=750, span=3)
    tail = Stage(moves // 8, 0.05 * LEVEL, 20, Moves(teams=20, courts=300, rests=rests, people=20))
    emphasis = problem.event.emphasis
    if emphasis is Emphasis.BLEND:
        return (Stage(moves * 7 // 8, 0.9 * LEVEL, 0.18 * LEVEL, near), tail)
    if emphasis is Emphasis.BALANCE:
        level = prices.gap * LEVEL_UNITS
        return (Stage(moves * 7 // 8, 0.9 * level, 0.01 * level, near), tail)
    first = prices.meeting if emphasis is Emphasis.MEET_EVERYONE else prices.opponent
    people = replace(seats, people=700)
    return (
        Stage(moves // 2, 0.7 * first, 0.02 * first, seats),
        Stage(moves * 3 // 8, 2.0 * LEVEL, 0.08 * LEVEL, people),
        tail,
    )
