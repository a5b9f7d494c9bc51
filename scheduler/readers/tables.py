"""Reading a workbook of plain tables: a head row and rows of values on every sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.suggest import fold
from scheduler.domain.tables import Table, Value
from scheduler.readers.cells import Grid, Unreadable
from scheduler.readers.fields import shown
from scheduler.readers.workbook_file import WorkbookFile

_CONTINUED = re.compile(r"(.*) (\d+)")


def read_tables(path: Path, wanted: Iterable[str]) -> tuple[Table, ...]:
    """Return the tables of a workbook by title; sheets ``TITLE 2`` and so on carry one on.

    Parameters
    ----------
    path
        The workbook.
    wanted
        The titles to read; other sheets are ignored, missing ones left out.

    Raises
    ------
    BadInput
        If the file is no workbook, or a cell holds a date, a formula or an error.
    """
    titles = list(wanted)
    listing = WorkbookFile(path, [])
    sheets = {title: _place(title, titles) for title in listing.other_titles}
    book = WorkbookFile(path, [title for title, place in sheets.items() if place])
    faults: list[Fault] = []
    found: dict[str, list[tuple[int, Grid]]] = {}
    for title, place in sheets.items():
        if place is not None:
            found.setdefault(place[0], []).append((place[1], book.grids[fold(title)]))
    tables = [_table(title, parts, faults) for title, parts in found.items()]
    if faults:
        raise BadInput(faults)
    return tuple(tables)


def _place(title: str, wanted: list[str]) -> tuple[str, int] | None:
    """Return the table a sheet belongs to and its number there."""
    if title in wanted:
        return title, 1
    carried_on = _CONTINUED.fullmatch(title)
    if carried_on and carried_on[1] in wanted:
        return carried_on[1], int(carried_on[2])
    return None


def _table(title: str, parts: list[tuple[int, Grid]], faults: list[Fault]) -> Table:
    columns: tuple[str, ...] = ()
    rows: list[tuple[Value, ...]] = []
    for _, grid in sorted(parts, key=lambda part: part[0]):
        if not grid.rows:
            continue
        columns = tuple(str(value) for value in grid.rows[0][1])
        for number, values in grid.rows[1:]:
            padded = (*values, *[None] * (len(columns) - len(values)))
            if len(padded) > len(columns):
                what = "stands in a column without a head"
                faults.append(Fault(grid.cell(number, len(padded)).where, what))
            rows.append(
                tuple(
                    _value(grid, number, at, value, faults)
                    for at, value in enumerate(padded[: len(columns)], start=1)
                )
            )
    return Table(title, columns, tuple(rows))


def _value(grid: Grid, row: int, column: int, value: object, faults: list[Fault]) -> Value:
    if value is None or isinstance(value, str | int | float):
        return value
    why = value.why if isinstance(value, Unreadable) else f"holds {shown(value)}"
    faults.append(Fault(grid.cell(row, column).where, f"{why}; it must be as it was exported"))
    return None
