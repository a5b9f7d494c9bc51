"""A table as plain values: what is written to files and read back from them."""

from __future__ import annotations

from dataclasses import dataclass

Value = str | int | float | None


@dataclass(frozen=True, slots=True)
class Table:
    """Named columns and rows of plain values.

    Parameters
    ----------
    title
        What the table is called; the name of its sheet.
    columns
        The heads, one for each value of a row.
    rows
        The values, None where there is none.
    """

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]
