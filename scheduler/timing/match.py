"""A match of the best of three sets.

Sources: ITF Rules of Tennis, Rule 7 (best of three), Rule 5b and 14 (who
serves first in the next set), and the appendix "Alternative Procedures and
Scoring Methods" (a match tie-break in place of the deciding set). The model is
that of Newton and Keller (2005).
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.errors import BadInput
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing.servers import Servers
from scheduler.timing.sets import SetLengths, set_lengths, set_means

#: Sets won by the first and the second team, and whether the first team serves next.
_State = tuple[int, int, bool]


@dataclass(frozen=True, slots=True)
class MatchMeans:
    """The first team's chance of a match and its mean numbers of sets, games and points."""

    chance: float
    sets: float
    games: float
    points: float


def best_of_three(
    servers: Servers,
    set_format: SetFormat = SetFormat.TIE_BREAK,
    game_format: GameFormat = GameFormat.AD,
    deciding: SetFormat | None = None,
) -> MatchMeans:
    """Return chance and mean length of a match of the best of three sets.

    Parameters
    ----------
    servers
        The four servers of the first set; both teams keep their order in every
        set, though they may change it (Rule 14).
    set_format, game_format
        What the first two sets are.
    deciding
        What is played at one set all: a set like the others when None.

    Raises
    ------
    BadInput
        If a format is timed, or the first two are not sets of games.

    Notes
    -----
    After an odd number of games the other team serves first in the next set;
    a tie-break counts as one game, and a tie-break set is odd (Rules 5b, 14).
    """
    if set_format.only_tie_break_to is not None:
        raise BadInput.one("set", f"the first two sets cannot be a {set_format}")
    states: dict[_State, float] = {(0, 0, True): 1.0}
    sets = games = points = 0.0
    for number in range(3):
        now = set_format if number < 2 or deciding is None else deciding
        after: dict[_State, float] = {}
        for state, chance in states.items():
            if max(state[:2]) == 2:
                _add(after, state, chance)
                continue
            order = servers if state[2] else servers.swapped()
            means = set_means(order, now, game_format)
            sets, games, points = (
                sets + chance,
                games + chance * means.games,
                points + chance * means.points,
            )
            for following, share in _next(state, set_lengths(order, now, game_format)):
                _add(after, following, chance * share)
        states = after
    won = sum(chance for (first, _, _), chance in states.items() if first == 2)
    return MatchMeans(won, sets, games, points)


def _next(state: _State, lengths: SetLengths) -> list[tuple[_State, float]]:
    """Return the states after one more set, each with its chance."""
    first, second, serving = state
    known = 1 - lengths.beyond
    return [
        (
            (
                first + (ending.first_won == serving),
                second + (ending.first_won != serving),
                serving == (ending.games % 2 == 0),
            ),
            # Sets too long to be listed are shared out over the others.
            ending.points.total() / known,
        )
        for ending in lengths.endings
    ]


def _add(states: dict[_State, float], state: _State, chance: float) -> None:
    states[state] = states.get(state, 0.0) + chance
