"""The Played sheet: what really happened, which no later planning changes."""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.domain.fixture import Fixture, PlayedPair
from scheduler.readers.cells import Findings
from scheduler.readers.fixture_rows import PlayedRow, Won
from scheduler.readers.people import look_up
from scheduler.readers.plain_words import quoted
from scheduler.readers.records import Record


def played_pairs(
    records: Sequence[Record[PlayedRow]],
    fixtures: Sequence[Fixture],
    names: Sequence[str],
    findings: Findings,
) -> list[PlayedPair]:
    """Return the pairs of all rows that could be read, nobody and no line twice in a fixture."""
    lines = {fixture.date: fixture.lines for fixture in fixtures}
    seats: dict[tuple[str, str | int], str] = {}
    result = []
    for record in records:
        row = record.data
        if row is None:
            continue
        _check_fixture(record, row, lines, findings)
        for header, name in (("Player", row.player), ("Partner", row.partner)):
            look_up(name, names, record.cell(header), "player", findings)
            _once(record, header, (row.date, name), seats, findings)
        _once(record, "Line", (row.date, row.line), seats, findings)
        won = None if row.won is None else row.won is Won.YES
        where = record.cell("Date").where
        pair = (row.player, row.partner)
        result.append(PlayedPair(row.date, row.line, pair, row.their_pair, won, where))
    return result


def _check_fixture(
    record: Record[PlayedRow], row: PlayedRow, lines: dict[str, int], findings: Findings
) -> None:
    if not lines:
        return
    if row.date not in lines:
        findings.fault(record.cell("Date"), f"there is no fixture on {row.date}")
    elif row.line > lines[row.date]:
        what = f"line must be from 1 to {lines[row.date]} on {row.date}, got {row.line}"
        findings.fault(record.cell("Line"), what)


def _once(
    record: Record[PlayedRow],
    header: str,
    seat: tuple[str, str | int],
    seats: dict[tuple[str, str | int], str],
    findings: Findings,
) -> None:
    cell = record.cell(header)
    if seat in seats:
        what = quoted(seat[1]) if header != "Line" else f"line {seat[1]}"
        findings.fault(cell, f"{what} is already in {seats[seat]} for {seat[0]}")
    seats.setdefault(seat, cell.where)
