"""How many games a timed round should aim for, so that all four serve equally often."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.formats import GameFormat
from scheduler.timing import LevelModel, Pace, timed_round

TURN = 4  # games after which all four have served (ITF Rule 14)
MOST = 8  # cards have room for four more
_OFTEN = {1: "once", 2: "twice"}
_REACHED_BY = 0.5  # the goal is one that at least half of such rounds reach


@dataclass(frozen=True, slots=True)
class TimedGoal:
    """A number of games, a multiple of four, and what to tell the players."""

    games: int
    sentence: str


def timed_goal(levels: tuple[float, ...], game: GameFormat, minutes: float) -> TimedGoal:
    """Return the goal for a round.

    Parameters
    ----------
    levels
        The four levels in serving order.
    game
        How a game ends.
    minutes
        The round's length.

    Returns
    -------
    TimedGoal
        The largest multiple of four games that at least half of such rounds
        reach by the model of `scheduler.timing`, at least 4 and at most 8.
    """
    servers = LevelModel().servers((levels[0], levels[2]), (levels[1], levels[3]))
    expected = timed_round(servers, game, minutes, Pace()).games_quantile(_REACHED_BY)
    games = min(MOST, max(TURN, expected // TURN * TURN))
    often = _OFTEN[games // TURN]
    sentence = (
        f"Aim for {games} games: then all four have served {often}. "
        f"Go on only if there is time for {TURN} more; the bell ends play."
    )
    return TimedGoal(games, sentence)
