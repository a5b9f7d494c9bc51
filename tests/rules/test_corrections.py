"""Errors and what the rules make of them: Rule 27 a to i, from the cases file."""

from __future__ import annotations

from typing import Any

import pytest
from doubles_cases import at, cases, start, team, title

from scheduler.rules.choices import next_to_serve
from scheduler.rules.corrections import (
    Ruling,
    missed_ball_change,
    wrong_ends,
    wrong_half,
    wrong_receivers,
    wrong_server,
    wrong_server_all_game,
)
from scheduler.rules.play import play, play_game
from scheduler.rules.position import after_games
from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import next_serve, server_of
from scheduler.rules.state import SetState, Team
from scheduler.rules.wrong_format import game_by_mistake, set_by_mistake, tie_break_by_mistake


def ruling_on(case: dict[str, Any]) -> Ruling:
    """Return what the rules say to the error of a case."""
    state, error = at(case), case["error"]
    fault, begun = case.get("fault", False), case.get("next_point", False)
    played, games = tuple(case.get("played", ())), tuple(case.get("now_games", ()))
    answers = {
        "wrong half": lambda: wrong_half(state, fault_served=fault),
        "wrong ends": lambda: wrong_ends(state),
        "wrong server": lambda: wrong_server(state, case["served_by"], fault_served=fault),
        "wrong server all game": lambda: wrong_server_all_game(state, case["served_by"]),
        "wrong receivers": lambda: wrong_receivers(state, team(case["team"])),
        "tie-break by mistake": lambda: tie_break_by_mistake(state, played, next_point_begun=begun),
        "game by mistake": lambda: game_by_mistake(state, games, played, next_point_begun=begun),
        "set by mistake": lambda: set_by_mistake(state, games, played, next_point_begun=begun),
        "missed ball change": lambda: missed_ball_change(state, team(case["team"])),
    }
    return answers[error]()


def finished(state: SetState) -> SetState:
    """Return the set played out by team A winning every point."""
    while winner_of(state) is None:
        state = play(state, Team.A)
    return state


def facts_of(ruling: Ruling, asked: dict[str, Any]) -> dict[str, Any]:
    """Return what a case asks about a ruling."""
    state = ruling.state
    simple = {
        "server": lambda: server_of(state),
        "half": lambda: next_serve(state).half,
        "receiver": lambda: next_serve(state).receiver,
        "end": lambda: next_serve(state).end,
        "points": lambda: list(state.points),
        "then": lambda: list(state.queue),
        "second_serve": lambda: ruling.second_serve,
        "tie_break": lambda: state.in_tie_break,
        "tie_break_at": lambda: state.rules.tie_break_at,
        "winner": lambda: getattr(winner_of(state), "name", None),
        "next_set_first": lambda: next_to_serve(finished(state)).name,
        "says": lambda: asked["says"] if asked["says"] in ruling.sentence else ruling.sentence,
        "after_game": lambda: {"receiver": next_serve(play_game(state, Team.A)).receiver},
        "after_two_games": lambda: {
            "receiver": next_serve(play_game(play_game(state, Team.A), Team.B)).receiver
        },
    }
    return {key: simple[key]() for key in asked}


@pytest.mark.parametrize("case", cases("errors"), ids=title)
def test_error(case):
    """Each error is put right, or stands, as its sub-rule says, and the right player serves."""
    ruling = ruling_on(case)
    assert facts_of(ruling, case["expect"]) == case["expect"]
    if case["rule"].startswith("27"):
        assert case["rule"].startswith(ruling.rule)
    assert ruling.sentence.endswith(".")


def test_every_sub_rule_has_a_case():
    """The cases cover Rule 27 a to i, every letter."""
    letters = {case["rule"][:3] for case in cases("errors") if case["rule"].startswith("27")}
    assert letters == {f"27{letter}" for letter in "abcdefghi"}


def test_a_stranger_cannot_have_served():
    """A name that is not one of the four is refused."""
    with pytest.raises(ValueError, match="not one of the four"):
        wrong_server(start(), "C1")
    with pytest.raises(ValueError, match="not one of the four"):
        wrong_server_all_game(after_games(start(), (1, 0)), "C1")


def test_a_set_that_went_on_by_mistake_is_played_to_its_end():
    """A set begun for a match tie-break ends 3-1 or with a match tie-break from 2-2 (27h)."""
    begun = set_by_mistake(start("match tie-break 10"), (2, 1), (0, 0)).state
    assert winner_of(play_game(begun, Team.A)) is Team.A
    level = play_game(begun, Team.B)
    assert level.in_tie_break
    for _ in range(9):
        level = play(level, Team.B)
    assert winner_of(level) is None
    assert winner_of(play(level, Team.B)) is Team.B


def test_an_advantage_set_by_mistake_ends_by_two_games_or_at_eight_all():
    """After 27g a lead of two wins the set, and 8-8 brings the tie-break."""
    on = game_by_mistake(after_games(start(), (6, 6)), (7, 6), (2, 2)).state
    assert winner_of(play_game(on, Team.A)) is Team.A
    level = play_game(on, Team.B)
    assert winner_of(level) is None
    eight = play_game(play_game(level, Team.A), Team.B)
    assert eight.games == (8, 8)
    assert eight.in_tie_break
    assert next_to_serve(finished(eight)) is Team.B


def test_receiving_error_noticed_twice_stays_one_error():
    """Ruling twice on the same wrong receivers in one game changes nothing more (27e)."""
    once = wrong_receivers(start(), Team.B).state
    assert wrong_receivers(once, Team.B).state == once
