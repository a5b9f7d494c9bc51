"""Closed forms against the state machine, over every score that can be reached.

The machine only ever steps; the formulas below never do. They were worked out
from ITF Rules 5b, 10, 14, 15 and 17 on their own:

- server of game g: rotation[(g - 1) mod 4];
- server of tie-break point n: n // 2 places further round;
- half: deuce after an even number of points;
- team A's end in game g: its first one exactly when g // 2 is even;
- ends changed before tie-break point n: (n - 1) // 6 times, or (n + 2) // 4
  times where ends change after one point and then every four.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from doubles_cases import start

from scheduler.domain.formats import SetFormat
from scheduler.rules.choices import next_set, next_to_serve
from scheduler.rules.play import play
from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import next_serve
from scheduler.rules.state import SetState, Team

ROTATION = ("A1", "B1", "A2", "B2")
DEUCE_RECEIVERS = {"A": "A1", "B": "B1"}
AD_RECEIVERS = {"A": "A2", "B": "B2"}
OTHER_END = {"N": "S", "S": "N"}
MOST_GAMES, MOST_POINTS = 13, 40


def reachable(begun: SetState) -> Iterator[SetState]:
    """Yield every state within 13 games and 40 tie-break points, each once."""
    seen, waiting = {begun}, [begun]
    while waiting:
        state = waiting.pop()
        yield state
        if winner_of(state) is not None or sum(state.games) >= MOST_GAMES:
            continue
        if state.in_tie_break and sum(state.points) >= MOST_POINTS:
            continue
        for winner in Team:
            after = play(state, winner)
            if after not in seen:
                seen.add(after)
                waiting.append(after)


def expected(state: SetState, end_changes: str) -> tuple[str, str, str, str]:
    """Return server, receiver, half and the server's end by formula alone."""
    game, point = sum(state.games) + 1, sum(state.points) + 1
    ends_crossed = game // 2
    turn = game - 1
    if state.in_tie_break:
        turn += point // 2
        ends_crossed += (point - 1) // 6 if end_changes == "six" else (point + 2) // 4
    server = ROTATION[turn % 4]
    half = "deuce" if point % 2 == 1 else "ad"
    receivers = DEUCE_RECEIVERS if half == "deuce" else AD_RECEIVERS
    receiver = receivers["B" if server[0] == "A" else "A"]
    end_of_a = "N" if ends_crossed % 2 == 0 else "S"
    return server, receiver, half, end_of_a if server[0] == "A" else OTHER_END[end_of_a]


@pytest.mark.parametrize("end_changes", ["six", "first then four"])
@pytest.mark.parametrize("set_format", list(SetFormat))
def test_formulas_agree_with_the_machine(set_format, end_changes):
    """Server, receiver, half and end by formula equal those by stepping, at every score."""
    met = 0
    for state in reachable(start(set_format, "ad", end_changes)):
        if winner_of(state) is not None:
            continue
        serve = next_serve(state)
        found = (serve.server, serve.receiver, str(serve.half), serve.end)
        assert found == expected(state, end_changes), (state.games, state.points)
        met += 1
    assert met > 60


@pytest.mark.parametrize("set_format", list(SetFormat))
def test_only_score_and_parity_decide(set_format):
    """One score is one state, however it came about: no path leaves a trace (Rules 10, 14, 15)."""
    by_score: dict[tuple[object, ...], SetState] = {}
    for state in reachable(start(set_format)):
        key = (state.games, state.points)
        if winner_of(state) is None:
            assert by_score.setdefault(key, state) == state


@pytest.mark.parametrize("end_changes", ["six", "first then four"])
@pytest.mark.parametrize("set_format", [f for f in SetFormat if f.tie_break_at is not None])
def test_next_set_by_formula(set_format, end_changes):
    """The next set's first team and ends, by formula, after every way a set can end.

    Odd total: the other team serves first; even: the same again. Ends change
    at the set's end exactly after an odd total (Rules 5b, 10, 14).
    """
    ended = 0
    for state in reachable(start(set_format, "ad", end_changes)):
        if winner_of(state) is None:
            continue
        total = sum(state.games)
        assert next_to_serve(state) is (Team.B if total % 2 else Team.A)
        if state.tie_break_opener is None:
            end_of_a = "N" if (total + 1) // 2 % 2 == 0 else "S"
            assert next_set(state).ends[Team.A] == end_of_a
        ended += 1
    assert ended > 0


@pytest.mark.parametrize("end_changes", ["six", "first then four"])
def test_ends_after_a_tie_break_by_formula(end_changes):
    """After T points of a tie-break the next set starts from the end opposite its last point."""
    for won in range(7, 22):
        lost = won - 2 if won > 7 else 5
        state = start("tie-break set", "ad", end_changes)
        for point_winner in [Team.A, Team.B] * 6:
            for _ in range(4):
                state = play(state, point_winner)
        for _ in range(lost):
            state = play(play(state, Team.A), Team.B)
        while winner_of(state) is None:
            state = play(state, Team.A)
        total = won + lost
        crossed = (total - 1) // 6 if end_changes == "six" else (total + 2) // 4
        assert state.ends[Team.A] == ("S" if crossed % 2 == 0 else "N")
