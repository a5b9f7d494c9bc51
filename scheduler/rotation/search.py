"""One search: where it stands, what it may still spend, and the best it has found."""

from __future__ import annotations

import random
from dataclasses import dataclass

from scheduler.rotation.bounds import bounds_of
from scheduler.rotation.construct import random_solution
from scheduler.rotation.counts import broken, values_of
from scheduler.rotation.effort import Budget
from scheduler.rotation.from_template import seated_template
from scheduler.rotation.kernel import Kernel
from scheduler.rotation.local_search import Stage, run
from scheduler.rotation.local_search.reheating import Reheating, reheat
from scheduler.rotation.mixes import courts_matter, mix, tail
from scheduler.rotation.price import LEVEL, Prices
from scheduler.rotation.problem import Problem, Solution

MATTERS_MOST = (
    "partner_repeats",
    "wishes_missed",
    "blend_price",
    "back_to_back_rests",
    "meeting_repeats",
    "drill_repeats",
    "station_repeats",
)
"""With all of these at their bounds no longer search can help but with courts."""


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


class Search:
    """One search: a kernel, a budget, and the best solution so far.

    Parameters
    ----------
    problem
        What to seat.
    prices
        What everything costs.
    seed
        Start of all random numbers.
    budget
        The moves it may make.
    """

    def __init__(self, problem: Problem, prices: Prices, seed: int, budget: Budget) -> None:
        self.problem = problem
        self.prices = prices
        self.budget = budget
        self.best: Found | None = None
        self._random = random.Random(seed)  # noqa: S311  repeatable, not secret
        self._kernel = Kernel(problem, prices, seed)
        self._begun = False

    def begin(self, solution: Solution | None = None) -> None:
        """Stand on a solution, a random one if none is given."""
        self._kernel.start(solution or random_solution(self.problem, self._random))
        self._begun = True

    def template(self) -> Solution | None:
        """Return a template with people seated at random, where there is one."""
        return seated_template(self.problem, self._random)

    def run(self, stage: Stage) -> None:
        """Run a stage from where the search stands, and keep what it finds."""
        run(self._kernel, stage, lambda moves: self.budget.spend(moves, "seating"))
        self.keep()

    def reheat(self, plan: Reheating) -> None:
        """Cool what the search stands on down, and the best of it again and again."""
        for _ in reheat(self._kernel, plan, lambda moves: self.budget.spend(moves, "seating")):
            self.keep()
            if self.cannot_improve():
                return

    def keep(self) -> None:
        """Keep the solution the search stands on if it is the best so far and keeps the musts."""
        cost = self._kernel.restart(courts=True)
        if self.best is not None and cost >= self.best.cost:
            return
        solution = self._kernel.solution()
        if keeps_musts(self.problem, solution):
            self.best = Found(solution, cost, self.problem)

    def finish(self, share: float) -> None:
        """Cool the best solution so far down, then settle what weighs little."""
        if self.best is not None:
            self.begin(self.best.solution)
        if not self.cannot_improve():
            near = mix(self.problem, kin=40, near=600)
            moves = self.budget.part(share)
            self.run(Stage(moves, 0.25 * LEVEL, 0.05 * LEVEL, near, courts_matter(self.problem)))
        self.run(tail(self.problem, self.budget, share))

    def cannot_improve(self) -> bool:
        """Return whether the best so far stands at the bounds of all that matters most."""
        if self.best is None:
            return False
        values = values_of(self.problem, self.best.solution)
        bounds = bounds_of(self.problem)
        return all(values[name] == bounds[name].value for name in MATTERS_MOST)

    def break_off(self) -> None:
        """Keep what was reached when the user interrupts, if anything was."""
        if not self._begun:
            return
        self._kernel.back_to_best()
        self.keep()


def keeps_musts(problem: Problem, solution: Solution) -> bool:
    """Return whether every must is kept and nobody rests a whole round more or less than due."""
    rests = [0] * problem.players
    for seating in solution:
        for player in seating.rest:
            rests[player] += 1
    ranges = problem.rest_ranges
    fair = all(low <= n <= high for n, (low, high) in zip(rests, ranges, strict=True))
    return fair and not broken(problem, solution, must=True)
