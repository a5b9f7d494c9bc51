"""From validated rows to an `Event`, with the checks that look across sheets."""

from __future__ import annotations

from dataclasses import dataclass, replace

from scheduler.domain.clock import format_time
from scheduler.domain.event import Event, Kind
from scheduler.readers import people, timetable, wishes
from scheduler.readers.cells import Findings
from scheduler.readers.records import Record
from scheduler.readers.rows import (
    EXAMPLE_PEOPLE,
    CourtRow,
    EventRow,
    PlayerRow,
    RoundRow,
    StationRow,
    WishRow,
)

USUAL_START = 18 * 60


@dataclass(frozen=True, slots=True)
class ReadEvent:
    """An event and what was doubtful about the file it came from."""

    event: Event
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheets:
    """The validated rows of all sheets."""

    settings: Record[EventRow] | None
    players: list[Record[PlayerRow]]
    courts: list[Record[CourtRow]]
    rounds: list[Record[RoundRow]]
    wishes: list[Record[WishRow]]
    stations: list[Record[StationRow]]


def assemble(sheets: Sheets, findings: Findings) -> ReadEvent:
    """Return the event made of validated rows, after the checks across sheets.

    Raises
    ------
    BadInput
        With every fault, those found before included.
    """
    sheets = _without_examples(sheets, findings)
    start = _start(sheets, findings)
    players = people.players(sheets.players, start, findings)
    courts = people.courts(sheets.courts, start, findings)
    player_names = people.unique_names(sheets.players, "Name", findings)
    court_names = list(people.unique_names(sheets.courts, "Name", findings))
    settings = sheets.settings.data if sheets.settings else None
    changeover = settings.changeover if settings else 0
    rounds = timetable.timetable(sheets.rounds, start, changeover, court_names, findings)
    known = wishes.Known(player_names, court_names, [_kind(record) for record in sheets.rounds])
    wished = wishes.wishes(sheets.wishes, known, findings)
    stations = people.stations(sheets.stations, court_names, findings)
    timetable.check_turnout(rounds, players, courts, findings)
    people.never_there(players, [timed.window for timed in rounds], findings)
    findings.raise_faults()
    assert settings is not None
    assert start is not None
    event = Event(
        name=settings.name,
        start=start,
        players=tuple(player for _, player in players),
        courts=tuple(courts),
        rounds=tuple(timed.to_domain() for timed in rounds),
        date=settings.date,
        wishes=tuple(wished),
        stations=tuple(stations),
        emphasis=settings.emphasis,
        exchange=settings.exchange,
        spare_court=settings.spare_court,
        set_format=settings.set_,
        game_format=settings.game,
        end_changes=settings.end_changes,
        changeover=settings.changeover,
        until=people.until(settings.until, start),
        notes=settings.notes,
    )
    _warn_of_overrun(event, sheets, findings)
    return ReadEvent(event, findings.warnings)


def _without_examples(sheets: Sheets, findings: Findings) -> Sheets:
    """Leave out the example people of a new workbook and the example wishes about them."""
    players = people.without_examples(sheets.players, findings)
    gone = set(EXAMPLE_PEOPLE) - {people.written(record.cell("Name")) for record in players}
    kept = []
    for record in sheets.wishes:
        if gone.isdisjoint(people.written(record.cell(head)) for head in ("Player", "Other")):
            kept.append(record)
        else:
            what = "this is an example, and is left out; delete the row or write over it"
            findings.warn(record.cell("Wish"), what)
    return replace(sheets, players=players, wishes=kept)


def _start(sheets: Sheets, findings: Findings) -> int | None:
    """Return when the evening starts; None where a fault hides it.

    Where it is not stated the first round's start counts, else the usual one.
    """
    settings = sheets.settings
    if settings is None or "Start" in settings.broken:
        return None
    if settings.data is not None and settings.data.start is not None:
        return settings.data.start
    first = sheets.rounds[0] if sheets.rounds else None
    if settings.data is None or (first and (first.data is None or "Start" in first.broken)):
        return None
    if first and first.data and first.data.start is not None:
        return first.data.start
    what = f"no start is given, so the evening starts at {format_time(USUAL_START)}"
    findings.warn(settings.cell("Start"), what)
    return USUAL_START


def _kind(record: Record[RoundRow]) -> Kind | None:
    return None if record.data is None else record.data.kind


def _warn_of_overrun(event: Event, sheets: Sheets, findings: Findings) -> None:
    end = event.rounds[-1].end
    if event.until is None or end <= event.until or sheets.settings is None:
        return
    over = end - event.until
    findings.warn(
        sheets.settings.cell("Until"),
        f"the rounds end at {format_time(end)}, {over} minute{'s' if over > 1 else ''} after the "
        f"evening should ({format_time(event.until)})",
    )
