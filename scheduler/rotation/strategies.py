"""For each emphasis a short list of stages of the local search."""

from __future__ import annotations

from collections.abc import Callable

from scheduler.domain.event import Emphasis, Kind
from scheduler.rotation.local_search import Stage
from scheduler.rotation.local_search.reheating import Reheating
from scheduler.rotation.mixes import courts_matter, everywhere, mix, tail
from scheduler.rotation.price import LEVEL
from scheduler.rotation.problem import LEVEL_UNITS, Problem
from scheduler.rotation.search import Search

DESIGNED = frozenset({Kind.MIXED, Kind.GROUP_AGAINST_GROUP, Kind.PAIRS})
"""Kinds whose evenings hardly any search fills as well as a design does."""


def follow_designs(work: Search) -> None:
    """Take a design for an evening of mixed, fixed or group matches as the one to beat."""
    free = work.problem.free
    if DESIGNED.isdisjoint(work.problem.shapes[at].kind for at in free):
        return
    if _follow_a_template(work, 0.1, 0.2 * LEVEL):
        work.run(tail(work.problem, work.budget, 0.05))


def _follow_a_template(work: Search, share: float, cold: float) -> bool:
    """Stand on a template, people changing places in all of it; return whether there is one."""
    template = work.template()
    if template is None:
        return False
    work.begin(template)
    work.keep()
    people = everywhere(work.problem)
    work.run(Stage(_tries_everywhere(work, share), 4 * LEVEL, cold, people))
    return True


def _blend(work: Search) -> None:
    """Opponents and gaps have prices of like size: one search over both, reheated.

    In the longest evenings a template comes first, as nothing else has as few repeats.
    """
    near = mix(work.problem, kin=40, near=640)
    courts = courts_matter(work.problem)
    share = 0.87
    if _nearly_everybody_partners(work.problem) and _follow_a_template(work, 0.05, 0.3 * LEVEL):
        work.run(Stage(work.budget.part(0.15), LEVEL, 0.1 * LEVEL, near, courts))
        share = 0.67
    moves = work.budget.part(share)
    fall = round(_SLOWNESS * moves)
    work.begin()
    work.reheat(Reheating(moves, fall, 0.7 * LEVEL, 0.2 * LEVEL, near, courts))
    work.finish(0.05)


_SLOWNESS = 0.7
"""How much of a reheated search the first fall would take if nothing froze."""


def _balance(work: Search) -> None:
    """Gaps first; among plans with the least gaps, the fewest repeats.

    Where the gaps have settled, repeats can hardly be changed any more. So the
    best seating is warmed up until gaps change again, and cooled, several times.
    """
    level = work.prices.gap * LEVEL_UNITS
    near = mix(work.problem, kin=40, near=700)
    courts = courts_matter(work.problem)
    work.begin()
    work.run(Stage(work.budget.part(0.18), 0.9 * level, 0.02 * level, near, courts))
    for _ in range(FALLS):
        if work.best is not None:
            work.begin(work.best.solution)
        work.run(Stage(work.budget.part(0.6 / FALLS), 0.35 * level, 0.003 * level, near, courts))
    work.finish(0.06)


FALLS = 4
"""How often the temperature falls again under balance."""


def _pattern_first(work: Search, first: int) -> None:
    """Repeats first: several patterns, people moved about in each, the best one worked on.

    Where repeats are at their least, most exchanges of two seats cost some;
    exchanging two people in every round does not, so that comes before the
    slow fall over the levels. A template is a pattern found beforehand.
    """
    courts = courts_matter(work.problem)
    people = everywhere(work.problem)
    share = 0.3 / PATTERNS
    search_pattern = Stage(
        work.budget.part(share), 0.7 * first, 0.02 * first, mix(work.problem), courts
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
        tries = _tries_everywhere(work, share / 2)
        work.run(Stage(tries, 4 * LEVEL, 0.3 * LEVEL, people, courts))
    if work.best is not None:
        work.begin(work.best.solution)
    near = mix(work.problem, kin=120, near=420)
    work.run(Stage(work.budget.part(0.28), 4 * LEVEL, 0.3 * LEVEL, near, courts))
    work.finish(0.06)


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


def _nearly_everybody_partners(problem: Problem) -> bool:
    """Return whether the doubles go on for so long that people partner most of the others.

    Measured for 8 to 24 players: from three quarters of the way through on no
    search from a random start came as low as a template; at two thirds most did.
    """
    rounds = [problem.shapes[at] for at in problem.free if problem.shapes[at].kind is Kind.DOUBLES]
    people = {player for shape in rounds for player in shape.players}
    return 4 * len(rounds) >= 3 * (len(people) - 1)


def _tries_everywhere(work: Search, share: float) -> int:
    """Return how many exchanges in every round a share of the budget pays for.

    Each looks at two seats a round, so that in long evenings it costs several moves.
    """
    return work.budget.part(share * min(1.0, _ROUNDS_A_MOVE / max(1, len(work.problem.free))))


_ROUNDS_A_MOVE = 5
"""Up to so many rounds an exchange in every round counts as one move."""
