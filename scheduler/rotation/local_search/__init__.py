"""Simulated annealing over the compiled kernel, in stages of counted work."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scheduler.rotation.kernel import Kernel, Moves

STEP = 40_000
"""Moves made at one temperature between looks at the clock of interrupts and progress."""


@dataclass(frozen=True, slots=True)
class Stage:
    """So many moves while the temperature falls from `hot` to `cold` by equal ratios."""

    moves: int
    hot: float
    cold: float
    mix: Moves

    def temperatures(self) -> Iterator[tuple[int, int]]:
        """Yield (moves, temperature) step by step."""
        steps = max(1, self.moves // STEP)
        ratio = (self.cold / self.hot) ** (1 / max(1, steps - 1))
        temperature = self.hot
        for _ in range(steps):
            yield self.moves // steps, round(temperature)
            temperature *= ratio


def run(kernel: Kernel, stages: tuple[Stage, ...], tick: Callable[[int], None]) -> int:
    """Run stages from where the kernel stands; end at the best seating met and return its cost.

    Parameters
    ----------
    kernel
        Started on some solution.
    stages
        What to do, in order; each starts from the best seating so far.
    tick
        Called after every step with the number of moves made in it; may raise
        to end the search, the kernel then standing wherever it was.
    """
    for stage in stages:
        for moves, temperature in stage.temperatures():
            kernel.anneal(moves, temperature, stage.mix)
            tick(moves)
        kernel.back_to_best()
    return kernel.best
