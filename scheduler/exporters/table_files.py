"""Plain tables as files: csv text, and workbooks with a sheet a table."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from scheduler.domain.tables import Table, Value
from scheduler.exporters.files import workbook_bytes

if TYPE_CHECKING:
    from openpyxl.cell import Cell
    from openpyxl.worksheet.worksheet import Worksheet

MOST_ROWS = 15_000
"""Rows of one sheet; a longer table goes on in ``TITLE 2`` and so on."""

_RISKY = ("=", "+", "-", "@")
_WIDEST = 40


def table_csv(table: Table) -> bytes:
    """Return a table as csv in UTF-8 with a byte order mark, which spreadsheets need.

    Text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(table.columns)
    writer.writerows([_harmless(value) for value in row] for row in table.rows)
    return text.getvalue().encode("utf-8-sig", "replace")


def tables_workbook(tables: Sequence[Table]) -> bytes:
    """Return a workbook with a sheet for each table, texts as text whatever they begin with."""
    from openpyxl import Workbook  # noqa: PLC0415  slow to import

    book = Workbook()
    first = book.active
    assert first is not None
    book.remove(first)
    for table in tables:
        starts = range(0, max(len(table.rows), 1), MOST_ROWS)
        for number, start in enumerate(starts, start=1):
            title = table.title if number == 1 else f"{table.title} {number}"
            part = table.rows[start : start + MOST_ROWS]
            _write(book.create_sheet(title), table.columns, part)
    book.properties.creator = "doubles-rota"
    return workbook_bytes(book)


def _harmless(value: Value) -> Value:
    return f"'{value}" if isinstance(value, str) and value.startswith(_RISKY) else value


def _write(sheet: Worksheet, columns: Sequence[str], rows: Sequence[tuple[Value, ...]]) -> None:
    from openpyxl.styles import Font  # noqa: PLC0415  slow to import
    from openpyxl.utils import get_column_letter  # noqa: PLC0415

    bold = Font(bold=True)
    for column, head in enumerate(columns, start=1):
        _put(sheet, 1, column, head)
        sheet.cell(1, column).font = bold
        widths = [len(str(row[column - 1] or "")) for row in rows]
        width = min(max([len(head), *widths]), _WIDEST) + 2
        sheet.column_dimensions[get_column_letter(column)].width = width
    for number, row in enumerate(rows, start=2):
        for column, value in enumerate(row, start=1):
            if value is not None and value != "":
                _put(sheet, number, column, value)
    sheet.freeze_panes = "A2"


def _put(sheet: Worksheet, row: int, column: int, value: Value) -> None:
    cell = cast("Cell", sheet.cell(row, column))  # nothing is merged here
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
        if value.startswith(_RISKY):
            cell.quotePrefix = True
