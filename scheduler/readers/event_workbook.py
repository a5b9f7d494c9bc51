"""Reading an event workbook: every sheet to an `Event`, or every fault at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TypeVar

from scheduler.domain.suggest import fold, nearest
from scheduler.readers.assembly import ReadEvent, Sheets, assemble
from scheduler.readers.cells import Findings, Grid
from scheduler.readers.records import Record, read_records
from scheduler.readers.rows import (
    CourtRow,
    EventRow,
    PlayerRow,
    RoundRow,
    Row,
    StationRow,
    WishRow,
)
from scheduler.readers.settings import read_settings
from scheduler.readers.workbook_file import WorkbookFile

SHEETS = ("Event", "Players", "Courts", "Rounds", "Wishes", "Stations")
REQUIRED = ("Event", "Players", "Courts", "Rounds")
MOST = {"Players": 2000, "Courts": 400, "Rounds": 100, "Wishes": 5000, "Stations": 400}

R = TypeVar("R", bound=Row)


def read_event(path: Path) -> ReadEvent:
    """Return the event of a workbook.

    Raises
    ------
    BadInput
        With every fault of every sheet, each with its cell, in reading order.
    """
    book = WorkbookFile(path, SHEETS)
    findings = Findings()
    _check_sheets(book, findings)
    sheets = Sheets(
        settings=read_settings(book.grids.get("event"), EventRow, findings),
        players=_records(book, "Players", PlayerRow, findings),
        courts=_records(book, "Courts", CourtRow, findings),
        rounds=_records(book, "Rounds", RoundRow, findings),
        wishes=_records(book, "Wishes", WishRow, findings),
        stations=_records(book, "Stations", StationRow, findings),
    )
    return assemble(sheets, findings)


def check_count(title: str, rows: Sequence[Record[R]], grid: Grid, findings: Findings) -> None:
    """Check that a sheet has rows, and no more than anybody can mean."""
    wanted = {"Players": "players", "Courts": "courts", "Rounds": "rounds"}.get(title)
    if wanted and not rows and not findings.has_faults_in(grid.order):
        findings.fault_of_sheet(grid.title, grid.order, f"no {wanted} are listed")
    if len(rows) > MOST[title]:
        cell = rows[MOST[title]].line.first
        findings.fault(cell, f"at most {MOST[title]} rows can be read here, there are {len(rows)}")


def _records(book: WorkbookFile, title: str, model: type[R], findings: Findings) -> list[Record[R]]:
    grid = book.grids.get(fold(title))
    if grid is None:
        return []
    if not grid.rows and title not in REQUIRED:
        return []
    records = read_records(grid, model, findings)
    check_count(title, records, grid, findings)
    return records[: MOST[title]]


def _check_sheets(book: WorkbookFile, findings: Findings) -> None:
    """Report missing sheets; one that is optional only where another looks like it misspelt."""
    strangers = list(book.other_titles)
    for order, title in enumerate(SHEETS):
        if fold(title) in book.grids:
            continue
        similar = nearest(title, strangers)
        advice = f"; is it '{similar}'? Then rename that sheet" if similar else ""
        if title in REQUIRED or (similar and title == "Wishes"):
            if not similar and list(book.grids) == ["players"]:
                advice = "; for a players list alone give --courts, --rounds and --minutes"
            findings.fault_of_sheet(title, order, f"there is no sheet called '{title}'{advice}")
        elif title == "Wishes":
            findings.warn_of_sheet(title, order, "there is no such sheet, so there are no wishes")
        elif similar:
            findings.warn_of_sheet(title, order, f"there is no sheet called '{title}'{advice}")
