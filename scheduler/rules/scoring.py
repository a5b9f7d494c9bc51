"""When a game, a tie-break and a set are won (ITF Rules 5 and 6)."""

from __future__ import annotations

from scheduler.domain.formats import GameFormat
from scheduler.rules.state import Score, SetRules, SetState, Team, leader

DEUCE: Score = (3, 3)


def game_winner(points: Score, game: GameFormat) -> Team | None:
    """Return who has won a standard game.

    Rule 5a: four points with a lead of two; without advantage (appendix on
    alternative scoring, no-ad) four points are enough.
    """
    lead_needed = 1 if game is GameFormat.NO_AD else 2
    return _reached(points, 4, lead_needed)


def tie_break_winner(points: Score, to: int) -> Team | None:
    """Return who has won a tie-break to a number of points with a lead of two (Rule 5b)."""
    return _reached(points, to, 2)


def set_winner(games: Score, rules: SetRules) -> Team | None:
    """Return who has won the set.

    Rule 6: so many games with a lead of two, or the tie-break at so many
    games each, which counts as one game.
    """
    at = rules.tie_break_at
    if at is not None and sorted(games) == [at, at + 1]:
        return leader(games)
    return None if rules.games_to_win is None else _reached(games, rules.games_to_win, 2)


def winner_of(state: SetState) -> Team | None:
    """Return who has won the set, or None while it goes on."""
    return set_winner(state.games, state.rules)


def back_to_deuce(points: Score) -> Score:
    """Return the points with every deuce counted as the first one (Rule 5a)."""
    return DEUCE if points == (4, 4) else points


def is_deciding_point(state: SetState) -> bool:
    """Return whether the next point decides a game played without advantage."""
    no_ad = state.rules.game is GameFormat.NO_AD
    return no_ad and not state.in_tie_break and state.points == DEUCE


def _reached(score: Score, goal: int, lead_needed: int) -> Team | None:
    won = max(score) >= goal and abs(score[0] - score[1]) >= lead_needed
    return leader(score) if won else None
