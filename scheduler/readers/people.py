"""The Players, Courts and Stations sheets, as the domain's values."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence
from typing import TypeVar

from scheduler.domain.clock import DAY, of_the_evening
from scheduler.domain.event import Court, Here, Player, Station
from scheduler.domain.suggest import fold, hint
from scheduler.readers.cells import Cell, Findings
from scheduler.readers.fields import as_name
from scheduler.readers.plain_words import quoted
from scheduler.readers.records import Record
from scheduler.readers.rows import EXAMPLE_PEOPLE, CourtRow, PlayerRow, Row, StationRow

MOST_HINTS = 100
_FEW_COURTS = 12  # that are still read when listed
MIDDLE_LEVEL = 5.5  # where nobody's level is given: the middle of 1 to 10

R = TypeVar("R", bound=Row)


def unique_names(records: Sequence[Record[R]], header: str, findings: Findings) -> dict[str, Cell]:
    """Return each name with its cell, those of rows with other faults included."""
    first: dict[str, Cell] = {}
    by_fold: dict[str, Cell] = {}
    for record in records:
        cell = record.cell(header)
        name = _name_in(cell)
        if name is None:
            continue
        if name in first:
            what = f"{header.lower()} {quoted(name)} is already in {first[name].where}"
            findings.fault(cell, what)
        elif fold(name) in by_fold:
            other = by_fold[fold(name)]
            findings.warn(cell, f"{quoted(name)} is written almost like {other.where}; one person?")
        first.setdefault(name, cell)
        by_fold.setdefault(fold(name), cell)
    return first


def look_up(name: str, known: Iterable[str], cell: Cell, what: str, findings: Findings) -> bool:
    """Return whether a name is known, noting a fault with the nearest one if it is not.

    Where nothing is known at all, the sheet it should stand in has its own fault.
    """
    names = list(known)
    if name in names or not names:
        return True
    # Looking for the nearest of thousands takes a while, and nobody reads that many hints.
    advice = hint(name, names) if findings.fault_count() < MOST_HINTS else ""
    if not advice and what == "court" and len(names) <= _FEW_COURTS:
        advice = f" (there {'is' if len(names) == 1 else 'are'} {', '.join(names)})"
    findings.fault(cell, f"no {what} called '{quoted(name)[1:-1]}'{advice}")
    return False


def until(minute: int | None, start: int | None) -> int | None:
    """Return an end time within the evening; 00:00 as an end is the midnight after."""
    return since(DAY if minute == 0 else minute, start)


def since(minute: int | None, start: int | None) -> int | None:
    """Return a beginning within the evening, as it stands where the start is unknown."""
    return minute if minute is None or start is None else of_the_evening(minute, start)


def players(
    records: Sequence[Record[PlayerRow]], start: int | None, findings: Findings
) -> list[tuple[Record[PlayerRow], Player]]:
    """Return the players of all rows that could be read, blank levels filled in."""
    given = [r.data.level for r in records if r.data is not None and r.data.level is not None]
    middle = statistics.median(given) if given else MIDDLE_LEVEL
    groups: dict[str, str] = {}
    result = []
    for record in records:
        if record.data is not None:
            result.append((record, _player(record.data, start, middle, groups)))
            player = result[-1][1]
            if start is not None:
                hours = (player.arrives, player.leaves)
                _check_hours(record, ("Arrives", "Leaves"), hours, findings)
    if result and not given and not any("Level" in record.broken for record in records):
        what = f"no levels are given, so everybody counts as {MIDDLE_LEVEL}"
        findings.warn_of_sheet(records[0].line.first.sheet, records[0].line.first.order, what)
    return result


def courts(
    records: Sequence[Record[CourtRow]], start: int | None, findings: Findings
) -> list[Court]:
    """Return the courts of all rows that could be read."""
    result = []
    for record in records:
        if record.data is not None:
            row = record.data
            court = Court(row.name, since(row.from_, start), until(row.until, start))
            if start is not None:
                _check_hours(record, ("From", "Until"), (court.opens, court.closes), findings)
            result.append(court)
    return result


def stations(
    records: Sequence[Record[StationRow]], courts_known: Iterable[str], findings: Findings
) -> list[Station]:
    """Return the stations, each on a court of the event and one a court."""
    known = list(courts_known)
    unique_names(records, "Court", findings)
    result = []
    for record in records:
        if record.data is not None:
            row = record.data
            look_up(row.court, known, record.cell("Court"), "court", findings)
            result.append(Station(row.court, row.topic, row.coach))
    return result


def _name_in(cell: Cell) -> str | None:
    try:
        return as_name(cell.value) if cell.value is not None else None
    except ValueError:
        return None


def _player(row: PlayerRow, start: int | None, middle: float, groups: dict[str, str]) -> Player:
    return Player(
        name=row.name,
        level=middle if row.level is None else row.level,
        group=groups.setdefault(fold(row.group), row.group),  # "w" and "W" are one group
        hand=row.hand,
        side=row.side,
        arrives=since(row.arrives, start),
        leaves=until(row.leaves, start),
        here=row.here,
        note=row.note,
        level_given=row.level is not None,
    )


def _check_hours(
    record: Record[R],
    columns: tuple[str, str],
    hours: tuple[int | None, int | None],
    findings: Findings,
) -> None:
    (begin_column, end_column), (begins, ends) = columns, hours
    if begins is None or ends is None or record.broken & set(columns):
        return
    if ends <= begins:
        cell = record.cell(end_column)
        findings.fault(cell, f"{end_column.lower()} must be later than {begin_column.lower()}")


def still_examples(people: Sequence[tuple[Record[R], Player]], findings: Findings) -> None:
    """Warn of example rows that were not written over."""
    for record, player in people:
        if player.name in EXAMPLE_PEOPLE and player.here is not Here.NO:
            _say_example(record.cell("Name"), "an example, and would be given a place", findings)


def without_examples(
    records: Sequence[Record[PlayerRow]], findings: Findings
) -> list[Record[PlayerRow]]:
    """Return the rows without the examples of a new workbook, once real people are listed.

    In a workbook nobody has filled in yet they stay, so that it can be tried out.
    """
    examples = [record for record in records if _is_example(record)]
    stay = len(examples) == len(records)
    what = "an example, and would be given a place" if stay else "an example, and is left out"
    for record in examples:
        _say_example(record.cell("Name"), what, findings)
    return list(records) if stay else [record for record in records if record not in examples]


def _say_example(cell: Cell, what: str, findings: Findings) -> None:
    findings.warn(cell, f"{quoted(written(cell))} is {what}; delete the row or write over it")


def _is_example(record: Record[PlayerRow]) -> bool:
    is_here = record.data is None or record.data.here is not Here.NO
    return is_here and written(record.cell("Name")) in EXAMPLE_PEOPLE


def written(cell: Cell) -> str:
    """Return a cell's text without outer blanks, "" where it holds none."""
    return cell.value.strip() if isinstance(cell.value, str) else ""


def never_there(
    people: Sequence[tuple[Record[PlayerRow], Player]],
    windows: Sequence[tuple[int, int] | None],
    findings: Findings,
) -> None:
    """Warn of people who are meant to come and are there for no whole round."""
    known = [window for window in windows if window is not None]
    if not known or len(known) < len(windows):
        return
    for record, player in people:
        if player.here is Here.NO or record.broken:
            continue
        if not any(player.is_present(start, end) for start, end in known):
            what = f"{quoted(player.name)} is there for no whole round"
            findings.warn(record.cell("Name"), what)
