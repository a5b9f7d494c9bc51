"""The evening as a calendar file (RFC 5545): one entry for all, or one for each person.

Times are floating unless a zone is given: they show as the hours on the
club's wall wherever the phone is (RFC 5545, section 3.3.5, form 1), which is
right for an evening everybody goes to in person. With a zone they are that
zone's local times, and the file carries the zone's rules.

An entry keeps its UID when the evening is planned again, and its SEQUENCE
rises with the revision, so that calendars replace it and do not add another.
"""

from __future__ import annotations

import datetime as dt
import uuid
import zoneinfo
from collections.abc import Iterator

from icalendar import Calendar
from icalendar import Event as Entry

from scheduler.domain.errors import BadInput
from scheduler.domain.event import Event
from scheduler.domain.plan import Plan
from scheduler.exporters.text import join
from scheduler.exporters.view import Doing, Evening, RoundRow, Stop, Use, View, make_view

_PRODUCT = "-//doubles-rota//EN"
_FAMILY = uuid.UUID("5f0c3f0e-6a43-4f5e-9d55-0d0b6e1a7c21")  # drawn once; makes our UIDs ours
_YEAR = dt.timedelta(days=366)
_DOING = {Doing.RESTING: "rest", Doing.NOT_SEATED_YET: "seats come from the round before"}


def calendar_of(plan: Plan, zone: str = "", *, each_player: bool = False) -> bytes:
    """Return a plan as the bytes of a calendar file.

    Parameters
    ----------
    plan
        The plan.
    zone
        A time zone by its name in the IANA database, such as ``Europe/Oslo``;
        floating times without one.
    each_player
        One entry for each person who comes, with that person's rounds,
        instead of one for the whole evening.

    Raises
    ------
    BadInput
        If the evening has no date.
    zoneinfo.ZoneInfoNotFoundError
        If there is no such zone.
    """
    day = _date(plan.event)
    clock = _Clock(day, zoneinfo.ZoneInfo(zone) if zone else None)
    view = make_view(plan)
    calendar = Calendar()
    calendar.add("prodid", _PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    entries = _of_each_player if each_player else _of_the_evening
    for entry in entries(plan, view, clock):
        calendar.add_component(entry)
    if zone:
        calendar.add_missing_timezones(first_date=day - _YEAR, last_date=day + _YEAR)
    return bytes(calendar.to_ical())


class _Clock:
    """Turns the evening's minutes into moments of its day."""

    def __init__(self, day: dt.date, zone: zoneinfo.ZoneInfo | None) -> None:
        self.midnight = dt.datetime.combine(day, dt.time())
        self.zone = zone

    def at(self, minute: int) -> dt.datetime:
        """Return the moment that shows on the wall at a minute of the evening."""
        moment = self.midnight + dt.timedelta(minutes=minute)
        return moment.replace(tzinfo=self.zone) if self.zone else moment


def _date(event: Event) -> dt.date:
    try:
        return dt.date.fromisoformat(event.date)
    except ValueError:
        what = "a calendar needs the evening's date, such as 2026-12-01"
        raise BadInput.one("Event Date", what) from None


def _of_the_evening(plan: Plan, view: View, clock: _Clock) -> Iterator[Entry]:
    if not plan.rounds:
        return
    lines = [line for row in view.rounds for line in _round_lines(row)]
    span = (plan.rounds[0].start, max(planned.end for planned in plan.rounds))
    yield _entry(plan, view, clock, "", view.name, span, lines)


def _of_each_player(plan: Plan, view: View, clock: _Clock) -> Iterator[Entry]:
    for evening in view.evenings:
        there = [
            (planned, stop)
            for planned, stop in zip(plan.rounds, evening.stops, strict=True)
            if stop.doing is not Doing.ABSENT
        ]
        if there:
            span = (there[0][0].start, there[-1][0].end)
            lines = [_stop_line(stop) for _, stop in there]
            yield _entry(plan, view, clock, evening.person.name, _title(view, evening), span, lines)


def _title(view: View, evening: Evening) -> str:
    return f"{evening.person.name}: {view.name}"


def _entry(  # noqa: PLR0913, PLR0917  one parameter a property
    plan: Plan,
    view: View,
    clock: _Clock,
    who: str,
    title: str,
    span: tuple[int, int],
    lines: list[str],
) -> Entry:
    event = plan.event
    entry = Entry()
    same = "\n".join((event.name, event.date, str(event.start), who))
    entry.add("uid", str(uuid.uuid5(_FAMILY, same)))
    entry.add("dtstamp", clock.midnight.replace(tzinfo=dt.UTC))  # no clock: the same every time
    entry.add("sequence", plan.revision - 1)
    entry.add("dtstart", clock.at(span[0]))
    entry.add("dtend", clock.at(span[1]))
    entry.add("summary", title)
    entry.add("description", "\n".join([*lines, "", *view.cautions[-1:], view.identity]))
    return entry


def _round_lines(row: RoundRow) -> Iterator[str]:
    yield f"{row.head.times} {row.head.title}"
    for place in filter(None, row.places):
        between = ", " if place.use is Use.DRILL else " & "
        sides = (join((seat.person.label for seat in side), between) for side in place.sides)
        yield f"  {place.court}: {' / '.join(sides)}"
    if row.resting:
        yield f"  resting: {join(person.label for person in row.resting)}"


def _stop_line(stop: Stop) -> str:
    if stop.place is None:
        return f"{stop.head.times} {_DOING[stop.doing]}"
    words = [f"{stop.head.times} {stop.place.court}, {stop.place.title}"]
    if stop.beside:
        words.append(f"with {join(person.label for person in stop.beside)}")
    if stop.against:
        words.append(f"against {join((person.label for person in stop.against), ' & ')}")
    return ", ".join(words)
