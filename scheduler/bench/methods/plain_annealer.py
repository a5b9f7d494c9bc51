"""Plain simulated annealing (Kirkpatrick, Gelatt and Vecchi, Science 220, 1983).

It tries exchanges of two seats of a round, drawn uniformly (resting is a
seat), from one random start, while the temperature falls once by equal
ratios; nothing else. For speed it runs on the engine's compiled inner loop
with the engine's prices, so the comparison is about method and not about
language.
"""

from __future__ import annotations

import random

from scheduler.domain.event import Emphasis, Event
from scheduler.domain.plan import PlannedRound
from scheduler.rotation.construct import random_solution
from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.local_search import Stage, run
from scheduler.rotation.price import LEVEL, Prices, prices_of
from scheduler.rotation.problem import LEVEL_UNITS
from scheduler.rotation.publish import rounds_of
from scheduler.rotation.shapes import problem_of

UNIFORM = Moves()


def plan(event: Event, seed: int, moves: int) -> tuple[PlannedRound, ...]:
    """Return the best rounds met in so many moves."""
    problem = problem_of(event)
    prices = prices_of(event.emphasis, event.exchange)
    kernel = Kernel(problem, prices, seed)
    kernel.start(random_solution(problem, random.Random(seed)))  # noqa: S311
    hot, cold = _temperatures(event, prices)
    run(kernel, Stage(moves, hot, cold, UNIFORM), lambda _moves: None)
    return rounds_of(problem, kernel.solution(), ())


def _temperatures(event: Event, prices: Prices) -> tuple[float, float]:
    """Return where to start and to end: from the dearest measure that is traded to the cheapest.

    The factors are the best of a handful tried on 16x4x6, 20x5x9, 20x5x8 and
    12x3x11. Where all levels are alike, gaps are nothing to cool down for.
    """
    dearest = {
        Emphasis.VARIETY: prices.opponent,
        Emphasis.MEET_EVERYONE: prices.meeting,
        Emphasis.BALANCE: prices.gap * LEVEL_UNITS,
        Emphasis.BLEND: prices.opponent,
    }[event.emphasis]
    alike = len({player.level for player in event.players}) == 1
    match event.emphasis:
        case Emphasis.BLEND:
            return 0.5 * dearest, 0.1 * LEVEL
        case Emphasis.BALANCE:
            return 0.7 * dearest, 0.1 * LEVEL
        case _:
            return (0.4 * dearest, 0.1 * dearest) if alike else (0.7 * dearest, LEVEL)
