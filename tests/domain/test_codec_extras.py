"""What only few plans have stands in their document only where it is there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from drawn_events import plain_event

from scheduler.domain.codec import plan_to_dict, plan_to_json
from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import Group, Match, Plan, PlannedRound, Singles, TwoAgainstOne
from scheduler.readers.plan_file import plan_of_text


def plan(event: Event, *courts, kind: Kind = Kind.DOUBLES, **facts) -> Plan:
    """Return a plan of one round."""
    asked = event.rounds[0]
    planned = PlannedRound(1, kind, asked.start, asked.minutes, courts, **facts)
    return Plan(event, (planned,), settled=1)


FOUR = Match("C0", ("P0", "P1"), ("P2", "P3"))


def test_a_plain_plan_has_no_key_that_it_does_not_need() -> None:
    """A plan in which nobody was away or missing keeps the document, and so the id, it had."""
    document = plan_to_dict(plan(plain_event(4, 1, 1), FOUR))
    assert "missing" not in document["rounds"][0]
    assert all("away" not in player for player in document["event_in_full"]["players"])
    assert not {"weighted", "season_measures", "changes", "pairs"} & set(document)


def test_who_was_away_or_missing_is_read_back() -> None:
    """The document written and read is the same plan."""
    event = plain_event(4, 1, 1)
    people = (replace(event.players[0], away=((1090, 1100), (1110, 1120))), *event.players[1:])
    told = plan(replace(event, players=people), FOUR, missing=("P2",))
    assert plan_of_text(plan_to_json(told), Path("plan.json")).plan == told


def test_nobody_is_there_while_away() -> None:
    """A round that touches the time away is missed; one that ends or starts with it is not."""
    player = replace(plain_event(4, 1, 1).players[0], away=((1100, 1120),))
    spans = [(1080, 1100), (1090, 1101), (1105, 1110), (1119, 1140), (1120, 1140)]
    assert [player.is_present(*span) for span in spans] == [True, False, False, False, True]


def test_a_round_as_it_was_is_without_those_who_never_came() -> None:
    """Three of four play two against one, two singles, one rests; a drill group is smaller."""
    event = plain_event(4, 1, 1)
    left = {
        ("P0",): (TwoAgainstOne("C0", ("P2", "P3"), ("P1",)),),
        ("P2",): (TwoAgainstOne("C0", ("P0", "P1"), ("P3",)),),
        ("P0", "P2"): (Singles("C0", ("P1", "P3")),),
        ("P0", "P1", "P2"): (),
    }
    for missing, courts in left.items():
        was = plan(event, FOUR, missing=missing).rounds[0].as_it_was
        assert (was.courts, was.absent, was.missing) == (courts, missing, ())
        assert was.resting == (("P3",) if not courts else ())
    drill = plan(event, Group("C0", ("P0", "P1", "P2", "P3")), kind=Kind.DRILL, missing=("P1",))
    assert drill.rounds[0].as_it_was.courts == (Group("C0", ("P0", "P2", "P3")),)


def test_half_a_fixed_pair_has_no_match() -> None:
    """In a round of pairs everybody of a court that lacks somebody rested."""
    pairs = plan(plain_event(4, 1, 1), FOUR, kind=Kind.PAIRS, missing=("P1",))
    was = pairs.rounds[0].as_it_was
    assert (was.courts, was.resting) == ((), ("P0", "P2", "P3"))
