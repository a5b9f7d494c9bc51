"""What a team may still choose: its serving order and its receiving sides (Rules 14 and 15)."""

from __future__ import annotations

from dataclasses import replace

from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import serving_team
from scheduler.rules.state import Pair, Queue, SetRules, SetState, Team


class TooLateToChoose(ValueError):
    """The choice was open before an earlier point or game of this set, and is no more."""


def next_to_serve(finished: SetState) -> Team:
    """Return the team that serves first in the next set.

    Rule 14: serves go on alternating from set to set. Rule 5b: after a
    tie-break the team whose turn it was to open it receives, whoever happened
    to serve the last point.
    """
    if finished.tie_break_opener is not None:
        return finished.tie_break_opener.other
    return serving_team(finished)


def next_set(finished: SetState, rules: SetRules | None = None) -> SetState:
    """Return the set after a finished one, with orders running on and sides as they were.

    Ends are those left by the last set (Rule 10). Each team may then choose
    anew with `choose_server` and `choose_deuce_receiver`; the same holds for
    a match tie-break (appendix on alternative scoring).

    Raises
    ------
    ValueError
        If the set is not over.
    """
    if winner_of(finished) is None:
        raise ValueError("the set is not over yet")
    rules = rules or finished.rules
    first = next_to_serve(finished)
    return replace(
        finished,
        rules=rules,
        queue=_queue(first, _orders(finished)),
        games=(0, 0),
        points=(0, 0),
        tie_break_opener=first if rules.tie_break_at == 0 else None,
        misplaced=(),
        chosen_half=None,
    )


def choose_server(state: SetState, team: Team, player: str) -> SetState:
    """Return the set with a team's first server chosen (Rule 14).

    The team that opens the set chooses before it, the other before its own
    first turn; never before an ordinary set tie-break.

    Raises
    ------
    TooLateToChoose
        If the team has had a turn to serve in this set.
    ValueError
        If the player is not of that team.
    """
    if state.team_of(player) is not team:
        raise ValueError(f"{player} is not of that team")
    if not _may_still_choose(state, team, serves=True):
        raise TooLateToChoose("the serving order stays as it is until the next set")
    own = (player, state.partner_of(player))
    orders = _orders(state)
    orders = (own, orders[1]) if team is Team.A else (orders[0], own)
    return replace(state, queue=_queue(serving_team(state), orders))


def choose_deuce_receiver(state: SetState, team: Team, player: str) -> SetState:
    """Return the set with the player of a team chosen who receives on the deuce side (Rule 15).

    The receivers of game 1 choose before it, the other team before it first
    receives; never before an ordinary set tie-break.

    Raises
    ------
    TooLateToChoose
        If the team has received in this set.
    ValueError
        If the player is not of that team.
    """
    if state.team_of(player) is not team:
        raise ValueError(f"{player} is not of that team")
    if not _may_still_choose(state, team, serves=False):
        raise TooLateToChoose("the receiving sides stay as they are until the next set")
    a, b = state.deuce_receivers
    return replace(state, deuce_receivers=(player, b) if team is Team.A else (a, player))


def _may_still_choose(state: SetState, team: Team, *, serves: bool) -> bool:
    """Return whether a team's first turn to serve (or to receive) in this set lies ahead.

    Turns are games; in a set that is nothing but a tie-break the first turn is
    point 1 and the second begins with point 2.
    """
    if state.rules.tie_break_at == 0:
        turn, begun = (1, False) if state.points_played == 0 else (2, state.points_played > 1)
    else:
        turn, begun = state.game_number, state.points_played > 0
    due_now = (serving_team(state) is team) == serves
    return turn <= 2 and (not begun if due_now else turn == 1)


def _orders(state: SetState) -> tuple[Pair, Pair]:
    """Return each team's own serving order from now on."""
    by_team = [[name for name in state.queue if state.team_of(name) is team] for team in Team]
    return ((by_team[0][0], by_team[0][1]), (by_team[1][0], by_team[1][1]))


def _queue(first: Team, orders: tuple[Pair, Pair]) -> Queue:
    one, two = orders[first], orders[first.other]
    return (one[0], two[0], one[1], two[1])
