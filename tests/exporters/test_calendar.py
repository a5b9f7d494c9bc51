"""Calendar files held against RFC 5545, read back with a library that did not write the plan."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import pytest
from exporter_plans import make_plan, renamed
from icalendar import Calendar

from scheduler.domain.errors import BadInput
from scheduler.domain.plan import Plan
from scheduler.exporters.calendar import calendar_of
from scheduler.exporters.view import make_view


def entries(data: bytes) -> list[dict[str, object]]:
    """Return the entries of a calendar file as plain values."""
    return [
        {
            "uid": str(entry["uid"]),
            "start": entry.decoded("dtstart"),
            "end": entry.decoded("dtend"),
            "summary": str(entry["summary"]),
            "text": str(entry["description"]),
            "sequence": int(entry["sequence"]),
        }
        for entry in Calendar.from_ical(data).walk("VEVENT")
    ]


def at_dst(plan: Plan, date: str, start: int) -> Plan:
    """Return a plan moved to another date and start."""
    shift = start - plan.rounds[0].start
    rounds = tuple(replace(planned, start=planned.start + shift) for planned in plan.rounds)
    return replace(plan, event=replace(plan.event, date=date, start=start), rounds=rounds)


def test_one_entry_for_the_evening_in_floating_time() -> None:
    """Without a zone the entry shows the hours on the wall: no zone, no Z (RFC 5545, 3.3.5)."""
    data = calendar_of(make_plan())
    (entry,) = entries(data)
    assert entry["start"] == dt.datetime(2026, 12, 3, 18, 30)  # noqa: DTZ001  floating is meant
    assert entry["end"] == dt.datetime(2026, 12, 3, 21, 35)  # noqa: DTZ001
    assert b"\r\nDTSTART:20261203T183000\r\n" in data
    assert b"VTIMEZONE" not in data
    assert "Court 1: " in str(entry["text"])
    assert make_view(make_plan()).identity in str(entry["text"])


def test_one_entry_for_each_player() -> None:
    """Everybody who comes has an entry of their own, from their first round to their last."""
    plan = make_plan()
    found = {str(entry["summary"]): entry for entry in entries(calendar_of(plan, each_player=True))}
    assert len(found) == 22
    late = plan.event.players[3].name  # arrives at 19:00, after two rounds began
    assert found[f"{late}: {plan.event.name}"]["start"].hour == 19
    assert len({entry["uid"] for entry in found.values()}) == 22


@pytest.mark.parametrize("zone", ["Europe/Oslo", "America/New_York", "Australia/Lord_Howe"])
def test_a_zone_is_written_with_its_rules(zone: str) -> None:
    """Times carry the zone's name, and the file tells the zone's offset of that evening."""
    data = calendar_of(make_plan(), zone)
    (entry,) = entries(data)
    there = dt.datetime(2026, 12, 3, 18, 30, tzinfo=ZoneInfo(zone))
    assert entry["start"] == there
    (rules,) = Calendar.from_ical(data).walk("VTIMEZONE")
    assert str(rules["tzid"]) == zone
    assert rules.to_tz().utcoffset(dt.datetime(2026, 12, 3, 18, 30)) == there.utcoffset()  # noqa: DTZ001


def test_an_evening_past_midnight_and_a_change_of_the_clocks() -> None:
    """Rounds after midnight fall on the next day; walls show what the plan says."""
    plan = at_dst(make_plan(8, 2, 0, 4), "2026-03-28", 23 * 60)
    (entry,) = entries(calendar_of(plan, "Europe/Oslo"))
    assert entry["end"] == dt.datetime(2026, 3, 29, 0, 40, tzinfo=ZoneInfo("Europe/Oslo"))


def test_planning_again_updates_the_same_entry() -> None:
    """A later revision has the same UID and a higher SEQUENCE (RFC 5545, 3.8.7.4)."""
    plan = make_plan()
    (before,), (after,) = (
        entries(calendar_of(plan)),
        entries(calendar_of(replace(plan, revision=3))),
    )
    assert before["uid"] == after["uid"]
    assert (before["sequence"], after["sequence"]) == (0, 2)


def test_without_a_date_there_is_no_calendar() -> None:
    """A blank date, or one that is none, is told as bad input."""
    for date in ("", "some Thursday"):
        plan = make_plan()
        with pytest.raises(BadInput, match="a calendar needs the evening's date"):
            calendar_of(replace(plan, event=replace(plan.event, date=date)))


def test_an_unknown_zone_is_refused() -> None:
    """A zone that does not exist raises."""
    with pytest.raises(ZoneInfoNotFoundError):
        calendar_of(make_plan(), "Europe/Atlantis")


def test_lines_are_folded_and_hostile_names_escaped() -> None:
    """No line is longer than 75 bytes, no name starts a line of its own (RFC 5545, 3.1, 3.3.11)."""
    plan = renamed(make_plan(hostile=True), "Fun; with, commas\\\r\nATTACH:x")
    data = calendar_of(plan, each_player=True)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert not re.search(rb"\r\nATTACH", data)
    assert len(entries(data)) == 22
    assert calendar_of(plan, each_player=True) == data
