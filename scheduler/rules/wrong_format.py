"""The wrong kind of game or set begun by mistake (ITF Rule 27 f, g and h).

All three end alike: with only one point played the error is put right at
once and the point stands; once the second point is in play, the set goes on
in the altered way the rule names.
"""

from __future__ import annotations

from dataclasses import replace

from scheduler.rules.corrections import Ruling
from scheduler.rules.position import after_games, after_points
from scheduler.rules.scoring import winner_of
from scheduler.rules.state import Score, SetRules, SetState

STANDARD = SetRules()


def tie_break_by_mistake(
    state: SetState, points: Score = (0, 0), *, next_point_begun: bool = False
) -> Ruling:
    """Rule on a tie-break begun at 6-6 although an advantage set was agreed (Rule 27f).

    Parameters
    ----------
    state
        The advantage set at 6-6, as agreed, before that game.
    points
        Points played in the tie-break so far.
    next_point_begun
        Whether a further point is in play.
    """
    if _only_one_point(points, next_point_begun):
        right = after_points(state, points)
        sentence = (
            f"The point played stands; go on with an ordinary game, {right.queue[0]} serving."
        )
        return Ruling("27f", sentence, right)
    level = state.games[0]
    altered = replace(
        state,
        rules=replace(state.rules, tie_break_at=level),
        tie_break_opener=state.team_of(state.queue[0]),
    )
    altered = after_points(altered, points)
    sentence = (
        f"Finish the tie-break: the set goes on as a tie-break set, {altered.queue[0]} serving."
    )
    return Ruling("27f", sentence, altered)


def game_by_mistake(
    state: SetState,
    games: Score = (6, 6),
    points: Score = (0, 0),
    *,
    next_point_begun: bool = False,
) -> Ruling:
    """Rule on an ordinary game begun at 6-6 although a tie-break was agreed (Rule 27g).

    Parameters
    ----------
    state
        The set at 6-6 before the tie-break that was agreed.
    games
        The games when it is noticed.
    points
        Points of the ordinary game when it is noticed.
    next_point_begun
        Whether a further point is in play.
    """
    if games == state.games and _only_one_point(points, next_point_begun):
        right = after_points(state, points)
        sentence = f"The point played stands; go on with the tie-break, {right.queue[0]} serving."
        return Ruling("27g", sentence, right)
    begun = next_point_begun or points != (0, 0)
    at = _later_tie_break(games, begun=begun)
    open_ended = replace(
        state, rules=replace(state.rules, tie_break_at=None), tie_break_opener=None
    )
    altered = after_points(after_games(open_ended, games), points)
    altered = replace(altered, rules=replace(state.rules, tie_break_at=at))
    if altered.in_tie_break:
        altered = replace(altered, tie_break_opener=altered.team_of(altered.queue[0]))
    sentence = (
        f"Go on with ordinary games; unless a team leads by two before, a tie-break is played "
        f"at {at}-{at}. {altered.queue[0]} serves now."
    )
    return Ruling("27g", sentence, altered)


def set_by_mistake(
    state: SetState,
    games: Score = (0, 0),
    points: Score = (0, 0),
    *,
    next_point_begun: bool = False,
) -> Ruling:
    """Rule on a whole set begun although a match tie-break was agreed (Rule 27h).

    Parameters
    ----------
    state
        The match tie-break before its first point, as agreed.
    games, points
        Score of the set when it is noticed.
    next_point_begun
        Whether a further point is in play.

    Notes
    -----
    At 2-2 with one point of game 5 played the rule is silent; derived here:
    the match tie-break starts then and the point stands.
    """
    if games == (0, 0) and _only_one_point(points, next_point_begun):
        right = after_points(state, points)
        sentence = (
            f"The point played stands; go on with the match tie-break, {right.queue[0]} serving."
        )
        return Ruling("27h", sentence, right)
    if sum(games) > 4 or (games == (2, 2) and not _only_one_point(points, next_point_begun)):
        return _becomes_a_set(state, games, points)
    rules = replace(state.rules, games_to_win=3, tie_break_at=2)
    begun = replace(state, rules=rules, tie_break_opener=None)
    altered = after_points(after_games(begun, games), points)
    winner = winner_of(altered)
    sentence = (
        f"The set is over: {' and '.join(state.teams[winner])} took it {max(games)}-{min(games)}."
        if winner is not None
        else "Play on until a team has three games and with them the set, or it stands 2-2 and "
        f"the match tie-break is played. {altered.queue[0]} serves now."
    )
    return Ruling("27h", sentence, altered)


def _becomes_a_set(state: SetState, games: Score, points: Score) -> Ruling:
    rules = replace(STANDARD, game=state.rules.game, end_changes=state.rules.end_changes)
    begun = replace(state, rules=rules, tie_break_opener=None)
    altered = after_points(after_games(begun, games), points)
    sentence = f"It is too late: play a whole tie-break set. {altered.queue[0]} serves now."
    return Ruling("27h", sentence, altered)


def _only_one_point(points: Score, next_point_begun: bool) -> bool:
    return sum(points) + next_point_begun <= 1


def _later_tie_break(games: Score, *, begun: bool) -> int:
    """Return the even number of games each, 8 or more, still ahead (Rule 27g)."""
    ahead = max(games) + (1 if begun and games[0] == games[1] else 0)
    return max(8, ahead + ahead % 2)
