"""From a score to the state it stands for, refusing scores that cannot happen."""

from __future__ import annotations

from scheduler.rules.play import play, play_game
from scheduler.rules.scoring import winner_of
from scheduler.rules.state import Score, SetState, Team, add_one, leader

MOST = 999  # far beyond any set ever played; keeps a slip of the finger from running for ever


class ImpossibleScore(ValueError):
    """The rules allow no such score, or the set is over; the message says why."""


def after_games(state: SetState, games: Score) -> SetState:
    """Return the set at a score in games, before the next game's first point.

    Who won which game does not matter to anything that follows, so they are
    won in turn as far as that goes. A score that ends the set is reached too.

    Parameters
    ----------
    state
        A set between two games.
    games
        The score wanted, team A first.

    Raises
    ------
    ImpossibleScore
        If the set would have ended before, or has gone further already.
    """
    if max(games) > MOST or any(now > then for now, then in zip(state.games, games, strict=True)):
        raise ImpossibleScore(f"{_text(games)} cannot happen")
    missing = (games[0] - state.games[0], games[1] - state.games[1])
    for team in _in_turn(missing):
        if winner_of(state) is not None:
            raise ImpossibleScore(f"{_text(games)} cannot happen: {_how_it_ended(state)}")
        state = play_game(state, team)
    return state


def after_points(state: SetState, points: Score) -> SetState:
    """Return the set after points of the game about to start, won in turn as far as that goes.

    Parameters
    ----------
    state
        A set before the first point of a game or a tie-break.
    points
        Points by count (a deuce is 3-3), team A first.

    Raises
    ------
    ImpossibleScore
        If the game would have been over.
    """
    if max(points) > MOST:
        raise ImpossibleScore(f"{_text(points)} cannot happen")
    number, game = state.game_number, "tie-break" if state.in_tie_break else "game"
    reached: Score = (0, 0)
    for team in _in_turn(points):
        state, reached = play(state, team), add_one(reached, team)
        if state.game_number != number:
            why = "" if reached == points else f" cannot happen, for at {_text(reached)}"
            raise ImpossibleScore(f"{_text(points)}{why or ':'} the {game} is over")
    return state


def refuse_finished(state: SetState) -> SetState:
    """Return the state itself while the set goes on.

    Raises
    ------
    ImpossibleScore
        If the set is over.
    """
    winner = winner_of(state)
    if winner is None:
        return state
    names = " and ".join(state.teams[winner])
    raise ImpossibleScore(f"{_text(state.games)}: the set is over, {names} won it")


def _how_it_ended(state: SetState) -> str:
    at = state.rules.tie_break_at
    if at == 0:
        return "one tie-break is all that is played"
    if state.tie_break_opener is not None:
        return f"a tie-break at {at}-{at} ends the set {_text(state.games)}"
    return f"the set ends at {_text(state.games)}"


def _in_turn(score: Score) -> list[Team]:
    level = min(score)
    return [Team.A, Team.B] * level + [leader(score)] * (max(score) - level)


def _text(score: Score) -> str:
    return f"{score[0]}-{score[1]}"
