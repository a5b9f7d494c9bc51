"""A small evening whose score workbook is typed into and changed as people do, and the command."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
from typer.testing import CliRunner, Result

from scheduler.cli.app import app
from scheduler.domain.codec import plan_to_json
from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.exporters.workbook import workbook_of

NAMES = ("Ana Ash", "Bo Beech", "Cy Cedar", "Zoë Elm", "=Gum", "Hu Hazel", "Ivo Iris", "Jo Juniper")
SEATS = ((0, 1, 2, 3), (4, 5, 6, 7), (0, 4, 1, 5), (2, 6, 3, 7))


def evening(date: str = "2026-12-01", form: SetFormat = SetFormat.TIE_BREAK) -> Plan:
    """Return a plan of eight people, two courts and two rounds."""
    event = Event(
        "Tuesday",
        1110,
        tuple(Player(name, 3.0 + index / 2) for index, name in enumerate(NAMES)),
        (Court("Court 1"), Court("Court 2")),
        (Round(Kind.DOUBLES, 1110, 25), Round(Kind.DOUBLES, 1135, 25)),
        date=date,
        set_format=form,
    )
    matches = [
        Match(
            f"Court {1 + at % 2}",
            (NAMES[a], NAMES[b]),
            (NAMES[c], NAMES[d]),
            (NAMES[a], NAMES[c], NAMES[b], NAMES[d]),
            (NAMES[a], NAMES[c]),
        )
        for at, (a, b, c, d) in enumerate(SEATS)
    ]
    return Plan(
        event,
        (
            PlannedRound(1, Kind.DOUBLES, 1110, 25, tuple(matches[:2])),
            PlannedRound(2, Kind.DOUBLES, 1135, 25, tuple(matches[2:])),
        ),
    )


_WORKBOOKS: dict[str, bytes] = {}  # made once a plan
Typed = dict[str, tuple[Any, Any]]
GOOD: Typed = {"R1C1": (6, 4), "R1C2": (6, 3), "R2C1": (7, 6), "R2C2": (2, 6)}


def write(folder: Path, plan: Plan) -> None:
    """Write plan.json and the workbook."""
    text = plan_to_json(plan)
    (folder / "plan.json").write_text(text, encoding="utf-8")
    if text not in _WORKBOOKS:
        _WORKBOOKS[text] = workbook_of(plan)
    (folder / "night.xlsx").write_bytes(_WORKBOOKS[text])


def type_in(folder: Path, typed: Typed, change: Callable[[Any], None] | None = None) -> Path:
    """Type scores into the workbook as a person would, and change it otherwise."""
    path = folder / "night.xlsx"
    book = openpyxl.load_workbook(path)
    sheet = book["Scores"]
    for row in sheet.iter_rows():
        if row[0].value in typed:
            row[5].value, row[6].value = typed[row[0].value]
    if change:
        change(book)
    book.save(path)
    return path


def rota(*words: str | Path, text: str | None = None) -> Result:
    """Run ``rota`` with these words."""
    return CliRunner().invoke(app, [str(word) for word in words], input=text)
