"""A whole set on paper: every game's server, end and receivers, and the tie-break by points.

Both tables are made by playing: the set's state machine steps from game to
game and from point to point, with winners in turn so that nothing ends early.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.rules.play import play, play_game
from scheduler.rules.serving import next_serve, receiver_of_team, server_of, serving_team
from scheduler.rules.state import Half, SetState, Team

GAMES_SHOWN = 12  # of a set without a tie-break; the order repeats after every four
TIE_BREAK_POINTS_SHOWN = 24


@dataclass(frozen=True, slots=True)
class GameRow:
    """One game of a set."""

    game: int
    server: str
    server_end: str
    deuce_receiver: str
    ad_receiver: str
    change_ends_after: bool


@dataclass(frozen=True, slots=True)
class PointRow:
    """One point of a tie-break."""

    point: int
    server: str
    half: Half
    receiver: str
    server_end: str
    change_ends_after: bool


def game_rows(start: SetState) -> tuple[GameRow, ...]:
    """Return the games of a set up to the last before its tie-break, 12 where there is none."""
    return tuple(_game_row(state) for state in _before_each_game(start))


def tie_break_rows(start: SetState, points: int = TIE_BREAK_POINTS_SHOWN) -> tuple[PointRow, ...]:
    """Return the first points of a set's tie-break, none where there is no tie-break.

    Parameters
    ----------
    start
        The set before its first game.
    points
        How many points, as long as both teams win in turn.
    """
    if start.rules.tie_break_at is None:
        return ()
    state = start
    for team in _winners(2 * start.rules.tie_break_at):
        state = play_game(state, team)
    rows = []
    for number, team in enumerate(_winners(points), start=1):
        after = play(state, team)
        serve = next_serve(state)
        changes = after.ends != state.ends
        rows.append(PointRow(number, serve.server, serve.half, serve.receiver, serve.end, changes))
        state = after
    return tuple(rows)


def _before_each_game(state: SetState) -> Iterator[SetState]:
    at = state.rules.tie_break_at
    for team in _winners(GAMES_SHOWN if at is None else 2 * at):
        yield state
        state = play_game(state, team)


def _game_row(state: SetState) -> GameRow:
    receivers = serving_team(state).other
    return GameRow(
        game=state.game_number,
        server=server_of(state),
        server_end=state.ends[serving_team(state)],
        deuce_receiver=receiver_of_team(state, receivers, Half.DEUCE),
        ad_receiver=receiver_of_team(state, receivers, Half.AD),
        change_ends_after=play_game(state, Team.A).ends != state.ends,
    )


def _winners(count: int) -> Iterator[Team]:
    for index in range(count):
        yield Team.A if index % 2 == 0 else Team.B
