"""Several ways to a solution, one price: the best one wins.

A plan for an emphasis is a short list of stages of the local search, from
random starts and from templates. The portfolio keeps the cheapest solution
that breaks no must, and asks the constraint model where the search found none.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace

from scheduler.domain.event import Emphasis
from scheduler.rotation.bounds import bounds_of
from scheduler.rotation.construct import random_solution
from scheduler.rotation.counts import broken, values_of
from scheduler.rotation.effort import Budget, Report, moves_for
from scheduler.rotation.from_template import seated_template
from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.local_search import RELABEL, Stage, run
from scheduler.rotation.price import LEVEL, Prices, prices_of
from scheduler.rotation.problem import LEVEL_UNITS, Problem, Solution
from scheduler.rotation.rest_ranges import with_rests_of
from scheduler.rotation.teams import with_teams_of

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

UNITS_FOR_MUSTS = 8.0
"""Deterministic time the constraint model may take to keep the musts or refute them."""


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
            near = _mix(self.problem, people=10, near=600)
            moves = self.budget.part(share)
            self.run(Stage(moves, 0.25 * LEVEL, 0.05 * LEVEL, near, _courts_matter(self)))
        self.run(_tail(self, share))

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
    work = Search(problem, prices, seed, Budget(moves_for(effort, problem.players), report))
    try:
        _designed(work)
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
    work.run(Stage(work.budget.part(0.3), 0.9 * LEVEL, 0.1 * LEVEL, _mix(problem, people=10)))
    work.finish(0.1)
    assert work.best is not None
    return work.best


def keeps_musts(problem: Problem, solution: Solution) -> bool:
    """Return whether every must is kept and nobody rests a whole round more or less than due."""
    rests = [0] * problem.players
    for seating in solution:
        for player in seating.rest:
            rests[player] += 1
    ranges = problem.rest_ranges
    fair = all(low <= n <= high for n, (low, high) in zip(rests, ranges, strict=True))
    return fair and not broken(problem, solution, must=True)


def _designed(work: Search) -> None:
    """Take a design for an evening of mixed, fixed or group matches as the one to beat."""
    template = None if work.problem.is_plain else work.template()
    if template is not None:
        work.begin(template)
        work.keep()
        people = _mix(work.problem, people=700)
        work.run(Stage(work.budget.part(0.1), 4 * LEVEL, 0.2 * LEVEL, people))
        work.run(_tail(work, 0.05))


# ---- strategies -------------------------------------------------------------------------


def _blend(work: Search) -> None:
    """Opponents and gaps have prices of like size: one long anneal over both.

    A short one comes first; easy evenings end there.
    """
    near = _mix(work.problem, people=10, near=850)
    for share in (0.2, 0.6):
        work.begin()
        moves = work.budget.part(share)
        work.run(Stage(moves, 0.75 * LEVEL, 0.22 * LEVEL, near, _courts_matter(work)))
        if work.cannot_improve():
            break
    work.finish(0.1)


def _balance(work: Search) -> None:
    """Gaps first; among plans with the least gaps, the fewest repeats."""
    level = work.prices.gap * LEVEL_UNITS
    near = _mix(work.problem, people=10, near=850)
    work.begin()
    work.run(Stage(work.budget.part(0.4), 0.9 * level, 0.02 * level, near, _courts_matter(work)))
    work.run(Stage(work.budget.part(0.4), 2 * LEVEL, 0.1 * LEVEL, near, _courts_matter(work)))
    work.finish(0.1)


def _pattern_first(work: Search, first: int) -> None:
    """Repeats first: several patterns, people moved about in each, the best one worked on.

    Where repeats are at their least, most exchanges of two seats cost some;
    exchanging two people in every round does not, so that comes before the
    slow fall over the levels. A template is a pattern found beforehand.
    """
    courts = _courts_matter(work)
    people = RELABEL if work.problem.is_plain else _mix(work.problem, people=700)
    share = 0.3 / PATTERNS
    search_pattern = Stage(
        work.budget.part(share), 0.7 * first, 0.02 * first, _mix(work.problem), courts
    )
    for number in range(PATTERNS):
        template = work.template() if number < FROM_TEMPLATE else None
        work.begin(template)
        work.keep()
        if work.cannot_improve():
            work.finish(0.1)
            return
        if template is None:
            work.run(search_pattern)
        work.run(Stage(work.budget.part(share / 2), 4 * LEVEL, 0.3 * LEVEL, people, courts))
    if work.best is not None:
        work.begin(work.best.solution)
    near = _mix(work.problem, people=15, near=500)
    work.run(Stage(work.budget.part(0.35), 5 * LEVEL, 0.1 * LEVEL, near, courts))
    work.finish(0.1)


PATTERNS = 4
"""Patterns tried before one is worked on."""

FROM_TEMPLATE = 2
"""How many of them start from a template, where there is one."""

STRATEGIES: dict[Emphasis, Callable[[Search], None]] = {
    Emphasis.BLEND: _blend,
    Emphasis.BALANCE: _balance,
    Emphasis.VARIETY: lambda work: _pattern_first(work, work.prices.opponent),
    Emphasis.MEET_EVERYONE: lambda work: _pattern_first(work, work.prices.meeting),
}


def _mix(problem: Problem, *, people: int = 0, near: int = 0) -> Moves:
    rests = 40 if any(shape.rest for shape in problem.shapes) else 0
    return Moves(teams=10, courts=4, rests=rests, people=people, near=near, span=4)


def _courts_matter(work: Search) -> bool:
    """Return whether somebody cares which court it is before the last stage."""
    return bool(work.problem.event.stations)


def _tail(work: Search, share: float) -> Stage:
    """Return the last stage: what weighs little, above all who comes to which court."""
    rests = 40 if any(shape.rest for shape in work.problem.shapes) else 0
    mix = Moves(teams=20, courts=300, rests=rests, people=20)
    return Stage(work.budget.part(share), 0.05 * LEVEL, 20, mix, courts=True)
