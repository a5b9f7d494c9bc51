"""From points and games to seconds, with the origin of every default beside it.

A point's own length varies too, but hardly matters: if rallies scatter by six
seconds, sixty of them scatter by less than a minute, where a set's number of
points scatters by ten. So every point counts the same number of seconds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields

from scheduler.domain.errors import BadInput, Fault

#: Where each default comes from. Nothing here was measured by this project.
ORIGINS: dict[str, str] = {
    "rally": "common practice, no source; from the serve to the end of the point, faults included",
    "between_points": "ITF Rule 29, upper limit",
    "change_of_ends": "ITF Rule 29, upper limit; none after a set's first game or in a tie-break",
    "set_break": "ITF Rule 29, upper limit; only in a match of several sets",
    "knock_up": "common practice, no source; ITF Rule 29 allows up to 5 minutes",
    "changeover": "common practice, no source; finding court and partner before the knock-up",
    "factor": "1 = as stated; a season's recorded times can replace it",
    "beginner_factor": "assumption, no source",
    "beginner_below": "assumption, no source; the mean level of the four players",
}

#: What each default is counted in.
UNITS: dict[str, str] = {
    "rally": "s",
    "between_points": "s",
    "change_of_ends": "s",
    "set_break": "s",
    "knock_up": "s",
    "changeover": "s",
    "factor": "times",
    "beginner_factor": "times",
    "beginner_below": "level",
}

_LONGEST_SECONDS = 3600.0
_MOST_TIMES = 10.0


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast a club plays; `ORIGINS` names where each default comes from.

    Parameters
    ----------
    rally
        Seconds from the serve to the end of the point.
    between_points
        Seconds from the end of a point to the next serve.
    change_of_ends
        Seconds from the end of a point to the next serve at a change of ends
        with a rest: after games 3, 5, 7 and so on.
    set_break
        Seconds between two sets of a match.
    knock_up
        Seconds of knocking up before the first point.
    changeover
        Seconds between the round's start and the knock-up.
    factor
        What the seconds of play are multiplied with; learned from a season or
        set by hand.
    beginner_factor
        What they are multiplied with besides, on a court of beginners.
    beginner_below
        A court is one of beginners when the mean level of its players is
        below this.

    Raises
    ------
    BadInput
        If a value is negative, not a number or out of reason; each is named.
    """

    rally: float = 8.0
    between_points: float = 25.0
    change_of_ends: float = 90.0
    set_break: float = 120.0
    knock_up: float = 120.0
    changeover: float = 60.0
    factor: float = 1.0
    beginner_factor: float = 1.25
    beginner_below: float = 2.5

    def __post_init__(self) -> None:
        faults = [
            fault
            for item in fields(self)
            if (fault := _fault(item.name, getattr(self, item.name))) is not None
        ]
        if not faults and self.rally + self.between_points <= 0:
            faults = [Fault("rally", "a point must take some time: rally and pause are both 0")]
        if faults:
            raise BadInput(faults)

    @property
    def before_play(self) -> float:
        """Seconds of a round before the first point."""
        return self.changeover + self.knock_up

    @property
    def point(self) -> float:
        """Seconds from one point's serve to the next point's."""
        return self.rally + self.between_points

    def play_seconds(self, points: float, games: int, times: float = 1.0) -> float:
        """Return the seconds from a set's first serve to the end of its last point.

        Parameters
        ----------
        points, games
            What was played, a tie-break counted as one game.
        times
            What the court is slower by, besides `factor`.
        """
        paused = points * self.point - self.between_points if points else 0.0
        return (paused + self._rests(games)) * self.factor * times

    def points_within(self, seconds: float, games: int, times: float = 1.0) -> int:
        """Return the points that fit into so many seconds of play, the last in game `games`."""
        left = seconds / (self.factor * times) - self._rests(games) + self.between_points
        # A hair more, or a bell on the very second would cut the last point off.
        return max(0, math.floor(left / self.point + 1e-9))

    def times_at(self, levels: Sequence[float]) -> float:
        """Return how much slower a court of players of these levels is."""
        if not levels or sum(levels) / len(levels) >= self.beginner_below:
            return 1.0
        return self.beginner_factor

    def _rests(self, games: int) -> float:
        """Return what changes of ends add to the pauses between points.

        Rule 29: a rest at the changes after games 3, 5, 7 and so on, none
        after game 1. The change after the last game is not waited for.
        """
        return max(0, games // 2 - 1) * (self.change_of_ends - self.between_points)


def _fault(name: str, value: float) -> Fault | None:
    """Return what is wrong with one value."""
    label = name.replace("_", " ")
    if UNITS[name] == "s" and not 0 <= value <= _LONGEST_SECONDS:
        return Fault(label, f"must be from 0 to {_LONGEST_SECONDS:g} seconds, got {value}")
    if UNITS[name] == "times" and not 0 < value <= _MOST_TIMES:
        return Fault(label, f"must be above 0 and at most {_MOST_TIMES:g}, got {value}")
    if UNITS[name] == "level" and not math.isfinite(value):
        return Fault(label, f"must be a number, got {value}")
    return None
