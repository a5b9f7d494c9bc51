"""The Fixtures sheet: a row a fixture, a column of answers for each of the squad."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from scheduler.domain.event import Here
from scheduler.domain.fixture import Fixture
from scheduler.domain.suggest import fold, hint, nearest
from scheduler.readers.cells import Cell, Findings, Grid, Unreadable, is_blank
from scheduler.readers.fields import choice
from scheduler.readers.fixture_rows import MOST_SUM, FixtureRow
from scheduler.readers.plain_words import quoted
from scheduler.readers.records import Record, headers, read_records

_read_answer = choice(Here)


def read_calendar(
    grid: Grid | None, names: Sequence[str], usual: int | None, findings: Findings
) -> list[Fixture]:
    """Return the fixtures of all rows that could be read.

    Parameters
    ----------
    grid
        The Fixtures sheet, or None if there is none.
    names
        The squad; each has a column of answers, blank where none came yet.
    usual
        Pairs a fixture where its own cell is blank.
    findings
        Where faults and doubts go.
    """
    if grid is None:
        return []
    columns = _answer_columns(grid, names, findings)
    records = read_records(_without(grid, columns.values()), FixtureRow, findings)
    _check_dates(records, findings)
    rows = dict(grid.rows)
    return [
        _fixture(record, record.data, _answers(grid, rows, record, columns), usual, findings)
        for record in records
        if record.data is not None
    ]


def _check_dates(records: Sequence[Record[FixtureRow]], findings: Findings) -> None:
    first: dict[str, str] = {}
    for record in records:
        cell = record.cell("Date")
        if record.data is not None and record.data.date in first:
            date = record.data.date
            findings.fault(cell, f"the date {date} is already in {first[date]}")
        elif record.data is not None:
            first[record.data.date] = cell.where


def _answer_columns(grid: Grid, names: Sequence[str], findings: Findings) -> dict[str, int]:
    """Return the column of each person's answers; a heading near a name is a fault."""
    if not grid.rows:
        return {}
    by_fold = {fold(name): name for name in names}
    known = {fold(header) for header in headers(FixtureRow)}
    columns: dict[str, int] = {}
    for cell in _heading_cells(grid):
        text = fold(str(cell.value))
        name = by_fold.get(text)
        if name in columns:
            findings.fault(cell, f"there are two columns for {quoted(name)}")
        elif name is not None:
            columns[name] = cell.column
        elif text.strip(" *:") not in known and nearest(str(cell.value), names):
            advice = hint(str(cell.value), names)
            findings.fault(cell, f"no player called {quoted(cell.value)}{advice}")
    silent = [name for name in names if name not in columns]
    if silent:
        what = f"there is no column for {_first_few(silent)}, who counts as free for everything"
        findings.warn_of_sheet(grid.title, grid.order, what)
    return columns


def _first_few(names: Sequence[str]) -> str:
    """Return up to three names, and how many more there are."""
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return ", ".join(names[:3]) + more


def _heading_cells(grid: Grid) -> Iterator[Cell]:
    row, values = grid.rows[0]
    for column, value in enumerate(values, 1):
        if not is_blank(value) and not isinstance(value, Unreadable):
            yield grid.cell(row, column, " ".join(str(value).split()))


def _without(grid: Grid, columns: Iterable[int]) -> Grid:
    """Return the grid with some columns blank."""
    hidden = set(columns)
    rows = tuple(
        (row, tuple(None if at in hidden else value for at, value in enumerate(values, 1)))
        for row, values in grid.rows
    )
    return replace(grid, rows=rows)


def _answers(
    grid: Grid,
    rows: Mapping[int, tuple[Any, ...]],
    record: Record[FixtureRow],
    columns: Mapping[str, int],
) -> dict[str, Cell]:
    row = record.line.first.row
    values = rows[row]
    return {
        name: grid.cell(row, column, values[column - 1] if column <= len(values) else None)
        for name, column in columns.items()
    }


def _fixture(
    record: Record[FixtureRow],
    row: FixtureRow,
    cells: Mapping[str, Cell],
    usual: int | None,
    findings: Findings,
) -> Fixture:
    lines = row.lines if row.lines is not None else usual
    if lines is None and "Lines" not in record.broken:
        what = "lines is missing; give it here, or 'pairs' on the Conditions sheet for all fixtures"
        findings.fault(record.cell("Lines"), what)
    answers = {name: _answer(cell, findings) for name, cell in cells.items()}
    return Fixture(
        date=row.date,
        lines=lines or 1,
        venue=row.venue,
        opponents=row.opponents,
        their_sums=_their_sums(record, row, lines, findings),
        availability={name: answer or Here.YES for name, answer in answers.items()},
        unanswered=tuple(name for name, answer in answers.items() if answer is None),
        where=record.cell("Date").where,
    )


def _answer(cell: Cell, findings: Findings) -> Here | None:
    """Return an answer, None where there is none yet."""
    if is_blank(cell.value):
        return None
    if isinstance(cell.value, Unreadable):
        findings.fault(cell, f"the answer {cell.value.why}")
        return None
    try:
        return _read_answer(cell.value)
    except ValueError as error:
        findings.fault(cell, f"the answer {error}")
        return None


def _their_sums(
    record: Record[FixtureRow], row: FixtureRow, lines: int | None, findings: Findings
) -> tuple[float | None, ...]:
    """Return the opposing pairs' sums by line; ``?`` is a pair nobody knows."""
    cell = record.cell("Their pairs")
    between = ";" if ";" in row.their_pairs else ","
    parts = [part.strip() for part in row.their_pairs.split(between)]
    sums: list[float | None] = []
    for part in parts if row.their_pairs else ():
        number = _number(part)
        if part not in {"?", ""} and (number is None or not 2 <= number <= MOST_SUM):
            what = f"their pairs must be sums of two levels such as 12; 10.5; ?, got {quoted(part)}"
            findings.fault(cell, what)
        sums.append(number)
    if lines is not None and len(sums) > lines:
        findings.fault(cell, f"their pairs has {len(sums)} sums for {lines} lines")
    return tuple(sums)


def _number(part: str) -> float | None:
    try:
        return float(part.replace(",", "."))
    except ValueError:
        return None
