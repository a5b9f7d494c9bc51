"""Whether somebody has typed scores into a workbook, before it is written over."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

_HEADS = frozenset({"score a", "score b", "score", "if cut short"})


def has_typed_scores(path: Path) -> bool:
    """Return whether a workbook holds anything that was typed under the heads for scores.

    Every sheet is looked at, whatever it is called by now: the sheet of scores
    may have been renamed, and scores typed into the court sheets. A file that
    is no workbook holds none.
    """
    import openpyxl  # noqa: PLC0415  slow, and seldom needed

    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
    except Exception:  # noqa: BLE001  whatever it is, it is not a workbook of scores
        return False
    try:
        return any(_is_typed_into(sheet.iter_rows(values_only=True)) for sheet in book.worksheets)
    finally:
        book.close()


def _is_typed_into(rows: Iterable[tuple[Any, ...]]) -> bool:
    columns: list[int] = []
    for row in rows:
        found = [at for at, cell in enumerate(row) if str(cell).strip().casefold() in _HEADS]
        if found:
            columns = found
        elif any(row[at] not in {None, ""} for at in columns if at < len(row)):
            return True
    return False
