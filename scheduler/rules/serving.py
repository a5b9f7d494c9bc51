"""Who serves the next point, from where, and to whom (ITF Rules 14, 15 and 17)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from scheduler.rules.scoring import is_deciding_point
from scheduler.rules.state import Half, SetState, Team


class HalfNotChosen(ValueError):
    """The receivers still have to choose the half for the deciding point."""


@dataclass(frozen=True, slots=True)
class Serve:
    """One point about to be played.

    `half` is that of the server and of the receiver alike, for the serve
    crosses the court; `end` is the server's.
    """

    server: str
    receiver: str
    half: Half
    end: str


def next_serve(state: SetState) -> Serve:
    """Return the point about to be played.

    Raises
    ------
    HalfNotChosen
        Before a deciding point whose half has not been chosen.
    """
    half = half_of(state)
    return Serve(
        server=server_of(state),
        receiver=receiver_in(state, half),
        half=half,
        end=state.ends[serving_team(state)],
    )


def server_of(state: SetState) -> str:
    """Return the player due to serve (Rule 14, in a tie-break Rule 5b)."""
    return state.queue[0]


def serving_team(state: SetState) -> Team:
    """Return the team due to serve."""
    return state.team_of(server_of(state))


def half_of(state: SetState) -> Half:
    """Return the half the next point is served from.

    Rule 17: alternate halves from the right in every game, so right after an
    even number of points. Only a deciding point without advantage is
    different: there the receivers choose (appendix, no-ad).
    """
    if is_deciding_point(state):
        if state.chosen_half is None:
            raise HalfNotChosen("the receivers must first choose the half for the deciding point")
        return state.chosen_half
    return Half.DEUCE if state.points_played % 2 == 0 else Half.AD


def receiver_in(state: SetState, half: Half) -> str:
    """Return who receives in one half.

    Rule 15: partners receive in turn all through the set, so each keeps to one
    half; a team that lined up the wrong way round stays so to the end of the
    game (Rule 27e).
    """
    return receiver_of_team(state, serving_team(state).other, half)


def receiver_of_team(state: SetState, team: Team, half: Half) -> str:
    """Return who of a team receives in one half in this game."""
    on_deuce_side = state.deuce_receivers[team]
    straight = (half is Half.DEUCE) != (team in state.misplaced)
    return on_deuce_side if straight else state.partner_of(on_deuce_side)


def choose_half(state: SetState, half: Half) -> SetState:
    """Return the state with the half the receivers chose (appendix, no-ad).

    They may not change places, so the choice also settles which of them receives.

    Raises
    ------
    ValueError
        If no deciding point is due.
    """
    if not is_deciding_point(state):
        raise ValueError("a half is chosen only for the deciding point of a no-ad game")
    return replace(state, chosen_half=half)


def mixed_half(state: SetState, group_of: Mapping[str, str]) -> Half:
    """Return the half of a deciding point in mixed doubles.

    Appendix, no-ad: the receiver of the server's own gender receives, without
    a change of places, so nothing is left to choose.

    Parameters
    ----------
    state
        The set at the deciding point.
    group_of
        The group of each of the four.

    Raises
    ------
    ValueError
        If not exactly one of the receivers is of the server's group.
    """
    wanted = group_of[server_of(state)]
    halves = [half for half in Half if group_of[receiver_in(state, half)] == wanted]
    if len(halves) != 1:
        raise ValueError("in mixed doubles each team has one player of each group")
    return halves[0]
