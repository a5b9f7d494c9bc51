"""A players list alone, with courts, rounds and minutes given beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from scheduler.domain.errors import BadInput
from scheduler.domain.suggest import fold
from scheduler.readers.assembly import ReadEvent, Sheets, assemble
from scheduler.readers.cells import Cell, Findings, Grid
from scheduler.readers.csv_file import read_csv
from scheduler.readers.event_workbook import MOST, check_count
from scheduler.readers.fields import whole
from scheduler.readers.records import Line, Record, read_record, read_records
from scheduler.readers.rows import (
    MOST_MINUTES,
    CourtRow,
    EventRow,
    PlayerRow,
    RoundRow,
    Row,
)
from scheduler.readers.workbook_file import WorkbookFile

R = TypeVar("R", bound=Row)
_OF_AN_EVENING = frozenset({"event", "courts", "rounds", "wishes", "stations"})
_WORKBOOKS = frozenset({".xlsx", ".xlsm", ".xltx", ".xltm", ".xls"})


def event_from_players(  # noqa: PLR0913, PLR0917  each is an option of the command
    path: Path, courts: int, rounds: int, minutes: int, start: str, name: str | None
) -> ReadEvent:
    """Return an evening of doubles rounds for the people of a list.

    Parameters
    ----------
    path
        A ``.csv`` file, or a workbook with a Players sheet or just one sheet.
    courts, rounds, minutes
        How many courts ("Court 1" and on) and rounds, and how long each is.
    start
        When the first round starts, ``"18:30"``.
    name
        What the evening is called; None takes the file's name.

    Raises
    ------
    BadInput
        With every fault of the list and of the numbers given.
    """
    findings = Findings()
    options = {
        "--courts": _option("--courts", courts, whole(1, MOST["Courts"]), 1, findings),
        "--rounds": _option("--rounds", rounds, whole(1, MOST["Rounds"]), 1, findings),
        "--minutes": _option("--minutes", minutes, whole(1, MOST_MINUTES), 1, findings),
    }
    players = _players(path, findings)
    title = {"Name": Cell("--name", -1, 0, 0, name or path.stem)}
    begin = {"Start": Cell("--start", -1, 0, 0, start)}
    sheets = Sheets(
        settings=read_record(Line(title["Name"], title | begin), EventRow, findings),
        players=players,
        courts=[
            _row("--courts", CourtRow, findings, Name=f"Court {number}")
            for number in range(1, options["--courts"] + 1)
        ],
        rounds=[
            _row("--minutes", RoundRow, findings, Kind="doubles", Minutes=options["--minutes"])
            for _ in range(options["--rounds"])
        ],
        wishes=[],
        stations=[],
    )
    return assemble(sheets, findings)


def _option(
    option: str, value: Any, reader: Callable[[Any], int], otherwise: int, findings: Findings
) -> int:
    """Return what an option means, or a stand-in after noting its fault."""
    try:
        return reader(value)
    except ValueError as error:
        findings.fault(_place_of(option), str(error))
        return otherwise


def _players(path: Path, findings: Findings) -> list[Record[PlayerRow]]:
    try:
        grid = _grid(path, findings)
    except BadInput as error:
        for fault in error.faults:
            findings.fault_of_sheet(fault.where, 0, fault.what)
        return []
    records = read_records(grid, PlayerRow, findings)
    check_count("Players", records, grid, findings)
    return records[: MOST["Players"]]


def _grid(path: Path, findings: Findings) -> Grid:
    if path.suffix.lower() not in _WORKBOOKS:
        return read_csv(path)
    book = WorkbookFile(path, ["Players"], only_sheet_as="Players")
    if "players" not in book.grids:
        raise BadInput.one(path.name, "there is no sheet called 'Players'")
    left_out = [title for title in book.other_titles if fold(title) in _OF_AN_EVENING]
    if left_out:
        what = "only Players is read where --courts, --rounds and --minutes are given; left out"
        verb = "is" if len(left_out) == 1 else "are"
        findings.warn_of_sheet(path.name, 0, f"{what} {verb} {', '.join(left_out)}")
    return book.grids["players"]


def _row(option: str, model: type[R], findings: Findings, **values: Any) -> Record[R]:
    """Return a row made of what an option says, as if it stood in a sheet."""
    place = _place_of(option)
    cells = {header: replace(place, value=value) for header, value in values.items()}
    return read_record(Line(place, cells), model, findings)


def _place_of(option: str) -> Cell:
    return Cell(option, -1, 0, 0)
