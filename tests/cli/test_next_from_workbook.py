"""``rota next`` with the workbook people typed their scores into."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from drawn_events import plain_event
from typer.testing import CliRunner, Result

from scheduler.cli.app import app
from scheduler.domain.codec import plan_to_json
from scheduler.domain.event import Kind
from scheduler.exporters.workbook import workbook_of
from scheduler.readers.plan_file import read_plan
from scheduler.rotation.effort import EFFORTS
from scheduler.workflow.plan import make_plan


@pytest.fixture
def plan_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a plan of eight people on two courts, two rounds up and down, with its workbook."""
    monkeypatch.setitem(EFFORTS, "quick", 20_000)
    event = plain_event(8, 2, 2, Kind.UP_AND_DOWN, Kind.UP_AND_DOWN)
    people = tuple(replace(p, level=9 - i / 2) for i, p in enumerate(event.players))
    plan = make_plan(replace(event, players=people), effort="quick").plan
    path = tmp_path / "plan.json"
    path.write_text(plan_to_json(plan), encoding="utf-8")
    path.with_suffix(".xlsx").write_bytes(workbook_of(plan, "a4"))
    return path


def seat_next(plan_file: Path) -> Result:
    """Seat the next round from the workbook beside the plan."""
    words = ("next", plan_file, "--scores", plan_file.with_suffix(".xlsx"), "--formats", "json")
    return CliRunner().invoke(app, [*map(str, words), "--effort", "quick"])


def typed(plan_file: Path, cells: dict[str, object]) -> None:
    """Type into the Scores sheet and save."""
    file = plan_file.with_suffix(".xlsx")
    book = openpyxl.load_workbook(file)
    for cell, value in cells.items():
        book["Scores"][cell] = value
    book.save(file)


def test_scores_typed_in_the_workbook_seat_the_next_round(plan_file: Path) -> None:
    """The same file that the season takes is understood after the first round."""
    typed(plan_file, {"F5": 4, "G5": 6, "F6": 6, "G6": 1})
    result = seat_next(plan_file)
    assert result.exit_code == 0, result.output
    (revised,) = plan_file.parent.glob("*-r2.json")
    assert read_plan(revised).event.changes[-1].endswith("C0 4-6; C1 6-1")


def test_a_workbook_without_a_score_seats_nobody(plan_file: Path) -> None:
    """Forgetting to save is told; nothing is written."""
    result = seat_next(plan_file)
    assert result.exit_code == 1
    assert "plan.xlsx: has no score yet; type some and save it first" in result.stderr
    assert not list(plan_file.parent.glob("*-r2.json"))


def test_a_score_that_cannot_be_read_is_told_with_its_cell(plan_file: Path) -> None:
    """As for the season."""
    typed(plan_file, {"F5": 4, "G5": "six", "F6": 6, "G6": 1})
    result = seat_next(plan_file)
    assert result.exit_code == 1
    assert "Scores!" in result.stderr
    assert not list(plan_file.parent.glob("*-r2.json"))
