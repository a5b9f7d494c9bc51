"""A stretch of a distribution over numbers of points, without its empty ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

#: Chances below this are cut from the ends of a window. A set has a few
#: hundred ends to cut, so a distribution is whole to about 1e-10.
NEGLIGIBLE = 1e-13


@dataclass(frozen=True, slots=True)
class Window:
    """Chances of `start`, `start` + 1, ... points."""

    start: int
    mass: list[float]

    def __iter__(self) -> Iterator[tuple[int, float]]:
        return enumerate(self.mass, self.start)

    def total(self) -> float:
        """Return the chance of the whole window."""
        return sum(self.mass)

    def up_to(self, points: int) -> Window:
        """Return the part of at most so many points."""
        return Window(self.start, self.mass[: max(0, points + 1 - self.start)])

    def trimmed(self) -> Window:
        """Return the window without negligible ends."""
        low, high = 0, len(self.mass)
        while high > low and self.mass[high - 1] < NEGLIGIBLE:
            high -= 1
        while low < high and self.mass[low] < NEGLIGIBLE:
            low += 1
        return Window(self.start + low, self.mass[low:high])

    def __add__(self, other: Window) -> Window:
        if other.start < self.start:
            return other + self
        shift = other.start - self.start
        mass = self.mass + [0.0] * (shift + len(other.mass) - len(self.mass))
        for index, chance in enumerate(other.mass, shift):
            mass[index] += chance
        return Window(self.start, mass)

    def convolved(self, other: Window) -> Window:
        """Return the distribution of the sum of both numbers of points."""
        mass = [0.0] * max(0, len(self.mass) + len(other.mass) - 1)
        for shift, chance in enumerate(other.mass):
            if chance:
                for index, own in enumerate(self.mass, shift):
                    mass[index] += chance * own
        return Window(self.start + other.start, mass)


#: Nothing played yet, for certain.
CERTAIN_START = Window(0, [1.0])
