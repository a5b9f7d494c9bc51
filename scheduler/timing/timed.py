"""A timed round: games until the bell.

The bell ends play at once and a game in play then does not count; so the
round always fits the clock. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import GameFormat
from scheduler.timing.game import play_game
from scheduler.timing.pace import Pace
from scheduler.timing.servers import CYCLE, Servers
from scheduler.timing.window import CERTAIN_START, Window

#: The longest round that is worked out, in minutes.
LONGEST_MINUTES = 240
#: The walk ends when fewer rounds than this still finish another game.
_HARDLY_EVER = 1e-12


@dataclass(frozen=True, slots=True)
class TimedRound:
    """What a timed round yields on one court.

    Parameters
    ----------
    games
        The chance of 0, 1, 2, ... finished games.
    first_ahead, level
        The chances that the first team leads at the bell, and that nobody does.
    points_mean
        The mean number of points played until the bell, the unfinished game's
        included.
    """

    games: tuple[float, ...]
    first_ahead: float
    level: float
    points_mean: float

    @property
    def games_mean(self) -> float:
        """The mean number of finished games."""
        return sum(count * chance for count, chance in enumerate(self.games))

    @property
    def served_equally(self) -> float:
        """The chance that all four served equally many finished games (ITF Rule 14)."""
        return sum(self.games[::CYCLE]) - self.games[0]

    @property
    def everyone_served(self) -> float:
        """The chance that each of the four served at least one finished game."""
        return sum(self.games[CYCLE:])

    def games_quantile(self, chance: float) -> int:
        """Return the number of games that at most so many rounds fall short of.

        With 0.1, nine rounds in ten reach at least this many.
        """
        below = 0.0
        for count, mass in enumerate(self.games):
            below += mass
            if below > chance:
                return count
        return len(self.games) - 1


@dataclass(frozen=True, slots=True)
class _Step:
    """What the bell finds after a number of games, for one score."""

    lead: int
    stopped: float
    points: float


def timed_round(
    servers: Servers,
    game_format: GameFormat,
    minutes: float,
    pace: Pace,
    times: float = 1.0,
) -> TimedRound:
    """Return how many games a timed round yields, who leads, and how often all serve equally.

    Parameters
    ----------
    servers
        The four servers.
    game_format
        How a game ends.
    minutes
        The round from its start to the bell, changeover and knock-up included.
    pace
        The seconds of points, pauses and changes.
    times
        What the court is slower by.

    Raises
    ------
    BadInput
        If the minutes are not a number above 0, or more than an evening.
    """
    if (fault := minutes_fault(minutes)) is not None:
        raise BadInput([fault])
    seconds = minutes * 60 - pace.before_play
    games: list[float] = []
    ahead = level = points = 0.0
    for steps in _until_the_bell(servers, game_format, seconds, pace, times):
        games.append(sum(step.stopped for step in steps))
        ahead += sum(step.stopped for step in steps if step.lead > 0)
        level += sum(step.stopped for step in steps if step.lead == 0)
        points += sum(step.points for step in steps)
    return TimedRound(tuple(games), ahead, level, points)


def minutes_fault(minutes: float) -> Fault | None:
    """Return what is wrong with the minutes of a round, if anything."""
    if 0 < minutes <= LONGEST_MINUTES:
        return None
    return Fault("minutes", f"must be above 0 and at most {LONGEST_MINUTES}, got {minutes}")


def _until_the_bell(
    servers: Servers, game_format: GameFormat, seconds: float, pace: Pace, times: float
) -> Iterator[list[_Step]]:
    """Yield, for 0, 1, 2, ... finished games, what the bell finds at each score."""
    live: dict[int, Window] = {0: CERTAIN_START}
    played = 0
    while True:
        within = pace.points_within(seconds, played + 1, times) if seconds > 0 else 0
        steps: list[_Step] = []
        after: dict[int, Window] = {}
        for lead, before in live.items():
            ends = _next_game(before, servers, played, game_format, within)
            steps.append(_stopped(lead, before, sum(end.total() for end in ends), within))
            for change, end in zip((1, -1), ends, strict=True):
                known = after.get(lead + change)
                after[lead + change] = end if known is None else known + end
        yield steps
        played += 1
        going = sum(window.total() for window in after.values())
        live = {lead: window for lead, window in after.items() if window.mass}
        if going <= _HARDLY_EVER:
            return


def _next_game(
    before: Window, servers: Servers, turn: int, game_format: GameFormat, within: int
) -> tuple[Window, Window]:
    """Return the points after a game the first and the second team wins before the bell."""
    held, broken = play_game(before, servers.chances[turn % CYCLE], game_format)
    won, lost = (broken, held) if turn % 2 else (held, broken)
    return won.up_to(within), lost.up_to(within)


def _stopped(lead: int, before: Window, going: float, within: int) -> _Step:
    """Return the rounds that finish no further game, with the points they played.

    `within` points fit before the bell. A round whose last game ended later,
    because the rest after it ran into the bell, has played what it had.
    """
    stopped = max(0.0, before.total() - going)
    resting = [(count, chance) for count, chance in before if count > within]
    in_play = stopped - sum(chance for _, chance in resting)
    points = sum(count * chance for count, chance in resting) + in_play * within
    return _Step(lead, stopped, points)
