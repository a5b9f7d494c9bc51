"""Errors of order, half and ends, and what the rules make of them (ITF Rule 27 a to e, i).

Points already played always stand. A state holds what the rules require, so
an error that is put right at once leaves it as it is; one that stands alters it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from scheduler.rules.serving import half_of, serving_team
from scheduler.rules.state import Queue, SetState, Team


@dataclass(frozen=True, slots=True)
class Ruling:
    """What the rules make of an error.

    Parameters
    ----------
    rule
        The sub-rule, such as ``"27c"``.
    sentence
        What stands, what is played again and who serves now, in plain words.
    state
        The set to go on with.
    second_serve
        True when a fault already served stands, so that the next serve is a second one.
    """

    rule: str
    sentence: str
    state: SetState
    second_serve: bool = False


def wrong_half(state: SetState, *, fault_served: bool = False) -> Ruling:
    """Rule on serving from the wrong half (Rule 27a): next serve from the right one.

    Parameters
    ----------
    state
        The set as the score has it.
    fault_served
        Whether the first serve of this point has already been a fault; it stands.
    """
    serve = "the second serve" if fault_served else "the next serve"
    fault = ", and the fault stands" if fault_served else ""
    sentence = (
        f"The points played stand{fault}; "
        f"{state.queue[0]} takes {serve} from the {half_of(state)} side."
    )
    return Ruling("27a", sentence, state, second_serve=fault_served)


def wrong_ends(state: SetState) -> Ruling:
    """Rule on playing from the wrong ends (Rule 27b): change over as soon as it is noticed."""
    sentence = (
        "The points played stand; change ends now, so that "
        f"{state.queue[0]} serves from the {state.ends[serving_team(state)]} end."
    )
    return Ruling("27b", sentence, state)


def wrong_server(state: SetState, served_by: str, *, fault_served: bool = False) -> Ruling:
    """Rule on a serve out of turn noticed during the game (Rule 27c) or a tie-break (Rule 27d).

    Parameters
    ----------
    state
        The set as the score has it, with the player who ought to serve first in its queue.
    served_by
        The player who has been serving. After an odd number of points of a
        tie-break a turn has just ended: then, the player who served that turn.
    fault_served
        Whether that player's first serve of the point about to be played was a fault.

    Raises
    ------
    ValueError
        If that player is not one of the four.
    """
    state.team_of(served_by)
    if state.in_tie_break and state.points_played % 2 == 1:
        return _turn_stays_altered(state, served_by)
    rule = "27d" if state.in_tie_break else "27c"
    due = state.queue[0]
    if served_by == due:
        return Ruling(rule, f"{due} is the right server; play on.", state, fault_served)
    by_partner = served_by == state.partner_of(due)
    sentence = f"The points played stand, and {due} serves now in place of {served_by}."
    if fault_served and by_partner:
        sentence += f" The fault that {served_by} served stands, so a second serve follows."
    elif fault_served:
        sentence += f" The fault that {served_by} served is cancelled, so {due} has two serves."
    return Ruling(rule, sentence, state, second_serve=fault_served and by_partner)


def wrong_server_all_game(state: SetState, served_by: str) -> Ruling:
    """Rule on a game served out of turn and noticed after it (Rule 27c): the order stays altered.

    Parameters
    ----------
    state
        The set before the next game.
    served_by
        The player who served the whole of the game just finished.

    Notes
    -----
    The rule says no more than "stays as altered". Derived here: each team
    keeps taking its own turns, and whoever served now waits for the partner.
    So a wrong partner swaps turns with the right one for the rest of the set,
    and after a game served by the wrong team the other team serves next.

    Raises
    ------
    ValueError
        If that player is not one of the four.
    """
    if served_by == state.queue[3]:
        return Ruling(
            "27c", f"{served_by} was the right server; {state.queue[0]} serves now.", state
        )
    altered = replace(state, queue=_after_turn_of(state, served_by))
    now, second, third, fourth = altered.queue
    sentence = (
        f"The game stands, and the order stays as altered: {now} serves now, "
        f"then {second}, {third} and {fourth}. "
        "A change of balls already agreed comes one game later."
    )
    return Ruling("27c", sentence, altered)


def wrong_receivers(state: SetState, team: Team) -> Ruling:
    """Rule on a team receiving the wrong way round (Rule 27e).

    It stays as altered to the end of the game, and is put right in the next
    game of the set in which that team receives.
    """
    first, second = state.teams[team]
    sentence = (
        f"The points played stand; {first} and {second} go on receiving as they now stand until "
        "this game is over, and go back to their own sides the next time they receive."
    )
    if team in state.misplaced:
        return Ruling("27e", sentence, state)
    return Ruling("27e", sentence, replace(state, misplaced=(*state.misplaced, team)))


def missed_ball_change(state: SetState, team: Team) -> Ruling:
    """Rule on new balls forgotten (Rule 27i): when that team next serves a game from its start.

    Parameters
    ----------
    state
        The set when it is noticed.
    team
        The team that should have served with the new balls.
    """
    if state.in_tie_break:
        when = f"in game {_game_after_tie_break(state, team)} of the next set"
    else:
        wait = 1 if serving_team(state) is not team else (2 if state.points_played > 0 else 0)
        when = f"in game {state.game_number + wait}, when {state.queue[wait]} serves"
    sentence = (
        f"The new balls come {when}, never during a game or at the start of a tie-break; "
        "from there on they are changed after as many games as agreed."
    )
    return Ruling("27i", sentence, state)


def _game_after_tie_break(state: SetState, team: Team) -> int:
    """Return the game of the next set a team serves first: the opener receives in game 1."""
    return 2 if state.tie_break_opener is team else 1


def _turn_stays_altered(state: SetState, served_by: str) -> Ruling:
    """Rule 27d after an odd number of points: the wrong turn is over, so the order stays."""
    if served_by == state.queue[3]:
        return Ruling(
            "27d", f"{served_by} was the right server; {state.queue[0]} serves now.", state
        )
    altered = replace(state, queue=_after_turn_of(state, served_by))
    now, second, third, fourth = altered.queue
    sentence = (
        f"The points played stand, and the order stays as altered: {now} serves now, "
        f"then {second}, {third} and {fourth}."
    )
    return Ruling("27d", sentence, altered)


def _after_turn_of(state: SetState, served_by: str) -> Queue:
    """Return the queue after the turn just over, had this player rightly served it.

    Each team's own order as it stood before that turn, with the server of it
    gone to the back of his team's.
    """
    team = state.team_of(served_by)
    before = (state.queue[3], *state.queue[:3])
    opponents = [name for name in before if state.team_of(name) is not team]
    return (opponents[0], state.partner_of(served_by), opponents[1], served_by)
