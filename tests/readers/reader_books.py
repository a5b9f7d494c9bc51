"""Small workbooks for the tests of the readers."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

from openpyxl import Workbook

from scheduler.domain.errors import BadInput
from scheduler.readers.assembly import ReadEvent
from scheduler.readers.event_workbook import read_event

Rows = list[list[Any]]


def small_sheets() -> dict[str, Rows]:
    """Return the rows of a sound event: six people, two courts, a drill and a doubles round."""
    return {
        "Event": [["Setting", "Value"], ["Name", "Small evening"], ["Start", dt.time(18, 30)]],
        "Players": [
            ["Name", "Level", "Group", "Arrives", "Leaves", "Here"],
            *[[name, 4, "AB"[at % 2]] for at, name in enumerate("PQRSTU")],
        ],
        "Courts": [["Name", "From", "Until"], ["Court 1"], ["Court 2"]],
        "Rounds": [["Kind", "Minutes", "Courts", "Start"], ["drill", 20], ["doubles", 25]],
        "Wishes": [["Wish", "Player", "Other", "Strength", "Round"]],
    }


def saved(folder: Path, sheets: dict[str, Rows]) -> Path:
    """Write sheets to a workbook and return its path."""
    book = Workbook()
    del book["Sheet"]
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    path = folder / "event.xlsx"
    book.save(path)
    return path


def read(folder: Path, sheets: dict[str, Rows]) -> ReadEvent:
    """Write sheets and read them back as an event."""
    return read_event(saved(folder, sheets))


def faults(folder: Path, sheets: dict[str, Rows]) -> list[str]:
    """Write sheets and return the faults found in them, none if they are sound."""
    try:
        read(folder, sheets)
    except BadInput as error:
        return [str(fault) for fault in error.faults] or ["bad input without a fault"]
    return []
