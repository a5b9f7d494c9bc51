"""Whether somebody has typed scores into a workbook, before it is written over."""

from __future__ import annotations

from pathlib import Path

SHEET = "Scores"
_HEADS = frozenset({"score a", "score b"})


def has_typed_scores(path: Path) -> bool:
    """Return whether a workbook's Scores sheet holds anything under its score heads.

    A file that is no workbook, or has no such sheet, holds none.
    """
    import openpyxl  # noqa: PLC0415  slow, and seldom needed

    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
    except Exception:  # noqa: BLE001  whatever it is, it is not a workbook of scores
        return False
    try:
        rows = list(book[SHEET].iter_rows(values_only=True)) if SHEET in book.sheetnames else []
    finally:
        book.close()
    columns: list[int] = []
    for row in rows:
        found = [at for at, cell in enumerate(row) if str(cell).strip().casefold() in _HEADS]
        if not columns:
            columns = found
        elif any(row[at] not in {None, ""} for at in columns if at < len(row)):
            return True
    return False
