"""How long one court plays, and how long the slowest of many does."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing.pace import Pace
from scheduler.timing.servers import Servers
from scheduler.timing.sets import set_lengths

#: Seconds are compared to a thousandth, or equal sums would count as different.
_DIGITS = 3
#: A quantile asked for exactly is not missed by the last digit of a sum.
_SLACK = 1e-12


@dataclass(frozen=True, slots=True)
class Durations:
    """A distribution of seconds.

    Parameters
    ----------
    seconds
        The possible values, ascending.
    at_most
        The chance of at most as many seconds, for each value. The last is
        below 1 where endless tails were cut.
    """

    seconds: tuple[float, ...]
    at_most: tuple[float, ...]

    @classmethod
    def of(cls, chances: Iterable[tuple[float, float]]) -> Durations:
        """Return the distribution of pairs (seconds, chance), in any order."""
        merged: dict[float, float] = {}
        for seconds, chance in chances:
            key = round(seconds, _DIGITS)
            merged[key] = merged.get(key, 0.0) + chance
        ordered = sorted(merged.items())
        return cls(
            tuple(seconds for seconds, _ in ordered),
            tuple(accumulate(chance for _, chance in ordered)),
        )

    def chance_by(self, seconds: float) -> float:
        """Return the chance of being done after so many seconds."""
        index = bisect_right(self.seconds, seconds)
        return self.at_most[index - 1] if index else 0.0

    def quantile(self, chance: float) -> float:
        """Return the seconds by which it is done with this chance; infinity if not listed."""
        index = bisect_left(self.at_most, chance - _SLACK)
        return self.seconds[index] if index < len(self.seconds) else math.inf

    def mean_and_variance(self) -> tuple[float, float]:
        """Return mean (seconds) and variance (seconds squared) of what is listed."""
        last, total, squares = 0.0, 0.0, 0.0
        for seconds, at_most in zip(self.seconds, self.at_most, strict=True):
            total += seconds * (at_most - last)
            squares += seconds**2 * (at_most - last)
            last = at_most
        mean = total / last
        return mean, squares / last - mean**2


@dataclass(frozen=True, slots=True)
class AllCourts:
    """The time by which every court is done: the maximum over independent courts.

    Parameters
    ----------
    courts
        A court's distribution and how many courts have it.
    """

    courts: tuple[tuple[Durations, int], ...]

    def chance_by(self, seconds: float) -> float:
        """Return the chance that every court is done: the product over the courts."""
        return math.prod(court.chance_by(seconds) ** count for court, count in self.courts)

    def quantile(self, chance: float) -> float:
        """Return the seconds by which all are done with this chance; infinity if not listed.

        The product only rises where one of the courts can finish, so the
        answer is the smallest such moment of any court.
        """
        found = math.inf
        for court, _ in self.courts:
            index = bisect_left(court.seconds, chance - _SLACK, key=self.chance_by)
            if index < len(court.seconds):
                found = min(found, court.seconds[index])
        return found


@lru_cache(maxsize=512)
def court_durations(
    servers: Servers,
    set_format: SetFormat,
    game_format: GameFormat,
    pace: Pace,
    times: float = 1.0,
) -> Durations:
    """Return how long a court needs from the round's start, changeover and knock-up included.

    Parameters
    ----------
    servers
        The four servers.
    set_format, game_format
        What is played; not `SetFormat.TIMED`.
    pace
        The seconds of points, pauses and changes.
    times
        What this court is slower by (`Pace.times_at`).

    Raises
    ------
    BadInput
        If the format is timed.
    """
    before, step = pace.before_play, pace.point * pace.factor * times
    chances: list[tuple[float, float]] = []
    for ending in set_lengths(servers, set_format, game_format).endings:
        first = before + pace.play_seconds(ending.points.start, ending.games, times)
        chances += [
            (first + step * index, chance) for index, chance in enumerate(ending.points.mass)
        ]
    return Durations.of(chances)


def all_courts(courts: Sequence[Durations]) -> AllCourts:
    """Return the slowest of these courts, equal ones counted together."""
    counted: dict[int, tuple[Durations, int]] = {}
    for court in courts:
        known, count = counted.get(id(court), (court, 0))
        counted[id(court)] = (known, count + 1)
    return AllCourts(tuple(counted.values()))
