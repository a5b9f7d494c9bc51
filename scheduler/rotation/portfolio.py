"""Several ways to a solution, one price: the best one wins.

Every method starts from the incumbent or from a start of its own and hands
back a solution; the portfolio keeps the cheapest that breaks no must, and
asks the constraint model where the local search found none.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from scheduler.domain.event import Emphasis
from scheduler.rotation.construct import random_solution
from scheduler.rotation.counts import broken
from scheduler.rotation.effort import EFFORTS, Budget, Report
from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.local_search import Stage, run
from scheduler.rotation.price import LEVEL, Prices, prices_of
from scheduler.rotation.problem import Problem, Solution


@dataclass(frozen=True)
class Found:
    """A solution that keeps the musts, its price, and whether the search was cut short."""

    solution: Solution
    cost: int
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
            found = Found(kernel.solution(), kernel.best)
            if keeps_musts(problem, found.solution) and (best is None or found.cost < best.cost):
                best = found
    except KeyboardInterrupt:
        if best is None:
            raise
        return Found(best.solution, best.cost, interrupted=True)
    if best is None:
        return _from_the_model(problem, prices, seed, budget)
    return best


def _from_the_model(problem: Problem, prices: Prices, seed: int, budget: Budget) -> Found:
    """Ask the constraint model for a start that keeps the musts, and improve it gently."""
    from scheduler.rotation.constraint_model import first_solution  # noqa: PLC0415  ortools is slow to load

    start = first_solution(problem, seed, units=20.0)
    kernel = Kernel(problem, prices, seed)
    kernel.start(start)
    stages = stages_for(problem, prices, budget.total // 2)
    run(kernel, stages, lambda moves: budget.spend(moves, "seating"))
    solution, cost = kernel.solution(), kernel.best
    if not keeps_musts(problem, solution):
        return Found(start, kernel.start(start))
    return Found(solution, cost)


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
    resting = any(shape.rest for shape in problem.shapes)
    rests = 40 if resting else 0
    seats = Moves(teams=30, courts=4, rests=rests)
    level_hot, level_cold = 2.5 * LEVEL, 0.08 * LEVEL
    tail = Stage(moves // 8, 0.05 * LEVEL, 20, Moves(teams=20, courts=300, rests=rests, people=20))
    if problem.event.emphasis is Emphasis.BLEND:
        return (Stage(moves * 7 // 8, level_hot, level_cold, seats), tail)
    if problem.event.emphasis is Emphasis.BALANCE:
        dear = prices.gap * 1000
        return (Stage(moves * 7 // 8, 2.5 * dear, 0.02 * dear, seats), tail)
    first = prices.meeting if problem.event.emphasis is Emphasis.MEET_EVERYONE else prices.opponent
    people = Moves(teams=30, courts=10, rests=rests, people=700)
    return (
        Stage(moves // 2, 0.7 * first, 0.02 * first, seats),
        Stage(moves * 3 // 8, level_hot, level_cold, people),
        tail,
    )
