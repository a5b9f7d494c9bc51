"""Cooling until nothing moves any more, and warming the best seating up again.

At what temperature an evening freezes is not known beforehand: of those tried,
16 players in 6 rounds froze at 0.48 levels, 32 in 10 rounds at 0.33. Time
spent far above that or below it is lost. So the search watches its own cost:
once that hardly changes, it goes back to the best seating met, warms it up a
little above where it froze, and cools it again.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.local_search import STEP
from scheduler.rotation.price import LEVEL

_WINDOW = 40
"""Steps over which the cost is watched."""

_STILL = (9 * LEVEL // 10) ** 2
"""Variance of the cost below which the search counts as frozen."""

_WARMER = 1.2
"""How far above where it froze a seating is warmed up. From 1.12 to 1.3 did as well; 1.5 less."""

_PAST = 0.95
"""The last fall goes this far down, of where the one before froze."""


@dataclass(frozen=True, slots=True)
class Reheating:
    """So many moves in falls of the temperature, each but the first from the best seating.

    A fall from `hot` to `cold` would take `fall` moves; it ends sooner where the
    search freezes. `mix` and `courts` are as in `Stage`.
    """

    moves: int
    fall: int
    hot: float
    cold: float
    mix: Moves
    courts: bool = False

    @property
    def step(self) -> int:
        """Moves made at one temperature."""
        return min(STEP, self.moves)


def reheat(kernel: Kernel, plan: Reheating, tick: Callable[[int], None]) -> Iterator[int]:
    """Yield the cost of the best seating after each fall, the kernel standing on it.

    Parameters
    ----------
    kernel
        Started on some solution. What is done to it between two falls may not
        move anybody.
    plan
        What to do.
    tick
        Called after every step with the number of moves made in it; may raise
        to end the search, the kernel then standing wherever it was.
    """
    left = max(1, plan.moves // plan.step)
    hot, floor = plan.hot, plan.cold
    while left > 0:
        kernel.restart(courts=plan.courts)
        made, frozen = _cool(kernel, plan, _Fall(hot, _rate(plan, hot, floor, left), left), tick)
        left -= made
        hot, floor = min(plan.hot, _WARMER * frozen), _PAST * frozen
        yield kernel.back_to_best()


@dataclass(frozen=True, slots=True)
class _Fall:
    hot: float
    rate: float
    steps: int


def _rate(plan: Reheating, hot: float, floor: float, steps: int) -> float:
    """Return by how much the logarithm of the temperature falls in a step."""
    usual = math.log(plan.hot / plan.cold) * plan.step / plan.fall
    return max(usual, math.log(hot / floor) / steps)


def _cool(
    kernel: Kernel, plan: Reheating, fall: _Fall, tick: Callable[[int], None]
) -> tuple[int, float]:
    """Return after how many steps the search froze or had to end, and at what temperature."""
    costs: deque[int] = deque(maxlen=_WINDOW)
    temperature = fall.hot
    for step in range(fall.steps):
        temperature = fall.hot * math.exp(-fall.rate * step)
        costs.append(kernel.anneal(plan.step, max(1, round(temperature)), plan.mix))
        tick(plan.step)
        if len(costs) == _WINDOW and _is_still(costs):
            return step + 1, temperature
    return fall.steps, temperature


def _is_still(costs: deque[int]) -> bool:
    """Return whether the costs vary less than moves do, in whole numbers."""
    least, count = min(costs), len(costs)
    above = [cost - least for cost in costs]
    return count * sum(x * x for x in above) - sum(above) ** 2 < _STILL * count * count
