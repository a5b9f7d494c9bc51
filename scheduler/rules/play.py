"""One point after another: the set as a state machine (ITF Rules 5, 6, 10, 14)."""

from __future__ import annotations

from dataclasses import replace

from scheduler.rules.ends import changed, changes_after_game, changes_after_point
from scheduler.rules.scoring import (
    back_to_deuce,
    game_winner,
    tie_break_winner,
    winner_of,
)
from scheduler.rules.serving import serving_team
from scheduler.rules.state import Queue, Score, SetState, Team, add_one


class SetIsOver(ValueError):
    """Somebody wanted to play on after the set was won."""


def play(state: SetState, winner: Team) -> SetState:
    """Return the set after a team has won the next point.

    After the set's last point the state holds the final games and the ends of
    the next set's first game.

    Raises
    ------
    SetIsOver
        If the set has been won already.
    """
    if winner_of(state) is not None:
        raise SetIsOver("the set is over")
    points = add_one(state.points, winner)
    if state.in_tie_break:
        return _after_tie_break_point(state, points)
    game_to = game_winner(points, state.rules.game)
    if game_to is not None:
        return end_game(state, game_to)
    return replace(state, points=back_to_deuce(points), chosen_half=None)


def play_game(state: SetState, winner: Team) -> SetState:
    """Return the set after a team has won the whole of the game about to start."""
    number = state.game_number
    while state.game_number == number:
        state = play(state, winner)
    return state


def end_game(state: SetState, winner: Team) -> SetState:
    """Return the set after a game: score, ends (Rule 10), next server (Rule 14)."""
    games = add_one(state.games, winner)
    after = replace(
        state,
        games=games,
        points=(0, 0),
        queue=rotated(state.queue),
        ends=changed(state.ends) if changes_after_game(sum(games)) else state.ends,
        misplaced=(),
        chosen_half=None,
    )
    if after.in_tie_break:
        return replace(after, tie_break_opener=serving_team(after))
    return after


def rotated(queue: Queue) -> Queue:
    """Return the serving queue after its first player has had his turn (Rule 14)."""
    return (queue[1], queue[2], queue[3], queue[0])


def _after_tie_break_point(state: SetState, points: Score) -> SetState:
    winner = tie_break_winner(points, state.rules.tie_break_to)
    if winner is not None:
        return end_game(state, winner)
    played = sum(points)
    change = changes_after_point(played, state.rules.end_changes)
    return replace(
        state,
        points=points,
        queue=rotated(state.queue) if turn_ends_after(played) else state.queue,
        ends=changed(state.ends) if change else state.ends,
    )


def turn_ends_after(points_played: int) -> bool:
    """Return whether a serving turn of a tie-break ends after so many points.

    Rule 5b: one point for the first server, then two for each player in turn,
    so turns end after 1, 3, 5 and every odd number of points.
    """
    return points_played % 2 == 1
