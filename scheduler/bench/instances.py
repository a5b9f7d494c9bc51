"""What is planned in the benchmark: evenings of doubles, everybody there, no wishes.

The plain case is where methods can be compared with each other and with
published designs; what only our engine can do is not in the comparison.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scheduler.domain.event import Emphasis, Event
from scheduler.domain.plain_evening import doubles_evening

LEADING = {
    Emphasis.VARIETY: "opponent_repeats",
    Emphasis.BLEND: "blend_price",
    Emphasis.BALANCE: "level_gap_mean",
    Emphasis.MEET_EVERYONE: "meeting_repeats",
}
"""The measure that comes right after rests and partners, by emphasis."""


@dataclass(frozen=True, slots=True)
class Instance:
    """One evening to plan.

    Parameters
    ----------
    players, courts, rounds
        Its size.
    emphasis
        What it favours.
    levels
        Whether people have levels drawn from 1 to 10 in halves; otherwise all
        are alike.
    """

    players: int
    courts: int
    rounds: int
    emphasis: Emphasis
    levels: bool = True

    @property
    def name(self) -> str:
        """The instance in a few characters: ``16x4x6 variety``, rounds last."""
        alike = "" if self.levels else ", one level"
        return f"{self.players}x{self.courts}x{self.rounds} {self.emphasis}{alike}"

    @property
    def leading(self) -> str:
        """The measure the comparison looks at."""
        return LEADING[self.emphasis]

    def event(self) -> Event:
        """Return the event; the same one every time."""
        people: int | list[float] = self.players
        if self.levels:
            draw = random.Random(f"levels of {self.players}")  # noqa: S311  repeatable
            people = [draw.randint(2, 20) / 2 for _ in range(self.players)]
        return doubles_evening(people, self.courts, self.rounds, emphasis=self.emphasis)


def readme() -> Iterator[Instance]:
    """Yield the few evenings of the README's table."""
    yield Instance(12, 3, 6, Emphasis.VARIETY)
    yield Instance(16, 4, 6, Emphasis.VARIETY)
    yield Instance(16, 4, 15, Emphasis.VARIETY)
    yield Instance(22, 5, 8, Emphasis.VARIETY)
    yield Instance(16, 4, 5, Emphasis.MEET_EVERYONE)
    yield Instance(16, 4, 6, Emphasis.BLEND)
    yield Instance(32, 8, 10, Emphasis.BLEND)


def grid(fewer: int = 0) -> Iterator[Instance]:
    """Yield all evenings of 4 to 40 players of one level, 2 to 16 rounds, variety first.

    Parameters
    ----------
    fewer
        How many courts less than the players could fill.
    """
    for players in range(4, 41):
        courts = players // 4 - fewer
        for rounds in range(2, min(players - 1, 16) + 1):
            if courts > 0:
                yield Instance(players, courts, rounds, Emphasis.VARIETY, levels=False)


def blend() -> Iterator[Instance]:
    """Yield evenings where levels matter, under the three emphases that weigh them."""
    for emphasis in (Emphasis.BLEND, Emphasis.VARIETY, Emphasis.BALANCE):
        for players, rounds in ((16, 6), (20, 8), (24, 8), (32, 10)):
            yield Instance(players, players // 4, rounds, emphasis)


def large() -> Iterator[Instance]:
    """Yield evenings far larger than a club's, to see how time grows."""
    for players in (50, 100, 200):
        yield Instance(players, players // 4, 12, Emphasis.VARIETY)
    for players in (400, 1000):
        yield Instance(players, players // 4, 10, Emphasis.VARIETY)


SUITES: dict[str, Callable[[], Iterator[Instance]]] = {
    "readme": readme,
    "grid": grid,
    "grid-1": lambda: grid(fewer=1),
    "blend": blend,
    "large": large,
}
"""Suites by name; ``grid-1`` leaves one court of the grid unused."""
