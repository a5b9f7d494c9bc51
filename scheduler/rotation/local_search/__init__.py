"""Simulated annealing over the compiled kernel, in stages of counted work."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scheduler.rotation.kernel import Kernel, Moves

STEP = 40_000
"""Moves made at one temperature, between looks for interrupts and progress."""

RELABEL = None
"""In place of a mix: exchange two people in every round at once."""


@dataclass(frozen=True, slots=True)
class Stage:
    """So many moves while the temperature falls from `hot` to `cold` by equal ratios.

    `mix` says which exchanges are tried, `courts` whether coming back to a
    court has a price; without it moves are cheaper.
    """

    moves: int
    hot: float
    cold: float
    mix: Moves | None
    courts: bool = False

    def temperatures(self) -> Iterator[tuple[int, int]]:
        """Yield (moves, temperature) step by step."""
        steps = max(1, self.moves // STEP)
        ratio = (self.cold / self.hot) ** (1 / max(1, steps - 1))
        temperature = self.hot
        for _ in range(steps):
            yield max(1, self.moves // steps), max(1, round(temperature))
            temperature *= ratio


def run(kernel: Kernel, stage: Stage, tick: Callable[[int], None]) -> None:
    """Run one stage from where the kernel stands, and end at the best seating met in it.

    Parameters
    ----------
    kernel
        Started on some solution.
    stage
        What to do.
    tick
        Called after every step with the number of moves made in it; may raise
        to end the search, the kernel then standing wherever it was.
    """
    kernel.restart(courts=stage.courts)
    for moves, temperature in stage.temperatures():
        if stage.mix is RELABEL:
            kernel.relabel(moves, temperature)
        else:
            kernel.anneal(moves, temperature, stage.mix)
        tick(moves)
    kernel.back_to_best()
