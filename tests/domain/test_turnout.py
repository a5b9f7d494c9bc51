"""Who takes part in a round, on which courts, and who is called if needed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from drawn_events import MINUTES, START, events, minute, plain_event
from hypothesis import given, settings

from scheduler.checker.demands import demand
from scheduler.domain.event import Court, Here, Kind, Round
from scheduler.domain.turnout import turnouts


@settings(max_examples=200, deadline=None)
@given(events())
def test_turnouts_are_what_the_checker_demands(event) -> None:
    """As many people, the same sure ones, courts and limits as the checker works out by itself."""
    for asked, turnout in zip(event.rounds, turnouts(event), strict=True):
        wanted = demand(event, asked)
        assert set(wanted.sure) <= set(turnout.players) <= {*wanted.sure, *wanted.spare}
        assert len(turnout.players) == wanted.players
        assert turnout.courts == wanted.open_courts
        assert turnout.most_courts == wanted.limit
        assert sorted([*turnout.players, *turnout.absent]) == sorted(p.name for p in event.players)


@pytest.mark.parametrize(
    ("arrives", "leaves", "there"),
    [
        (None, None, True),
        (START, START + MINUTES, True),
        (START + 1, None, False),
        (None, START + MINUTES - 1, False),
    ],
)
def test_who_misses_a_minute_misses_the_round(arrives, leaves, there: bool) -> None:
    """Somebody takes part only if there for all of the round; the same holds for a court."""
    event = plain_event(4, 1, 1)
    one = replace(event.players[0], arrives=arrives, leaves=leaves)
    event = replace(event, players=(one, *event.players[1:]), courts=(Court("C", arrives, leaves),))
    turnout = turnouts(event)[0]
    assert ("P0" in turnout.players) is there
    assert (turnout.courts == ("C",)) is there


def test_people_called_if_needed_take_turns() -> None:
    """Seven sure and two in reserve on two courts: one is called each round, in turn."""
    event = plain_event(9, 2, 4)
    spare = tuple(replace(p, here=Here.IF_NEEDED) for p in event.players[7:])
    called = [
        [name for name in turnout.players if name in {"P7", "P8"}]
        for turnout in turnouts(replace(event, players=event.players[:7] + spare))
    ]
    assert called == [["P7"], ["P8"], ["P7"], ["P8"]]


@pytest.mark.parametrize(
    ("kind", "courts", "called"),
    [(Kind.DOUBLES, 2, 1), (Kind.DOUBLES, 1, 0), (Kind.DRILL, 2, 0), (Kind.PAIRS, 2, 0)],
)
def test_nobody_is_called_who_completes_no_court(kind: Kind, courts: int, called: int) -> None:
    """Only a free court of ordinary doubles is worth calling somebody for."""
    event = plain_event(8, courts, 0, kind)
    spare = replace(event.players[7], here=Here.IF_NEEDED)
    turnout = turnouts(replace(event, players=(*event.players[:7], spare)))[0]
    assert len(turnout.players) == 7 + called


def test_a_round_may_name_its_courts() -> None:
    """A list of courts leaves the others out, a number limits how many are used."""
    event = plain_event(8, 3, 0)
    named = Round(Kind.DOUBLES, minute(0), MINUTES, courts=("C2", "C0"))
    counted = Round(Kind.DOUBLES, minute(1), MINUTES, courts=2)
    one, two = turnouts(replace(event, rounds=(named, counted)))
    assert (one.courts, one.most_courts) == (("C0", "C2"), 2)
    assert (two.courts, two.most_courts) == (("C0", "C1", "C2"), 2)
