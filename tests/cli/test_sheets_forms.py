"""``rota sheets`` in its other forms: page, take-home sheets, seats, calendars."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from scheduler.checker import recount
from scheduler.cli.app import app
from scheduler.domain.codec import plan_to_json
from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.domain.plan import Match, Measure, Plan, PlannedRound

NAMES = ("Ana", "Bo", "Cy", "Zoë")


def write_plan(folder: Path, date: str = "2026-12-01") -> Path:
    """Write a sound plan of one match into a folder."""
    people = tuple(Player(name, 5.0) for name in NAMES)
    asked = Round(Kind.DOUBLES, 1110, 25)
    event = Event("Lights", 1110, people, (Court("Court 1"),), (asked,), date=date)
    match = Match(
        "Court 1", ("Ana", "Bo"), ("Cy", "Zoë"), ("Ana", "Cy", "Bo", "Zoë"), ("Bo", "Zoë")
    )
    plan = Plan(event, (PlannedRound(1, Kind.DOUBLES, 1110, 25, (match,)),))
    measures = {what: Measure(value, 0, value == 0) for what, value in recount(plan, event).items()}
    path = folder / "plan.json"
    document = plan_to_json(Plan(event, plan.rounds, measures=measures))
    path.write_text(document, encoding="utf-8")
    return path


def rota(*words: object) -> Result:
    """Run ``rota sheets`` with these words."""
    return CliRunner().invoke(app, ["sheets", *map(str, words)])


def test_every_form_is_written_and_carries_the_plans_id(tmp_path: Path) -> None:
    """Each form lands under its name, and each text form names the plan it was made from."""
    plan = write_plan(tmp_path)
    result = rota(plan, "--formats", "html,take-home,csv,ics,ics-each", "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    files = {path.name: path.read_text(encoding="utf-8") for path in (tmp_path / "out").iterdir()}
    assert set(files) == {
        "Lights.html", "Lights take-home.html", "Lights.csv", "Lights.ics", "Lights each.ics",
    }  # fmt: skip
    identity = json.loads(plan.read_text(encoding="utf-8"))["id"]
    assert all(identity in text.replace("\n ", "") for text in files.values())


def test_a_zone_is_found_whatever_its_case(tmp_path: Path) -> None:
    """--zone takes a name of the IANA database and writes it as that has it."""
    assert rota(write_plan(tmp_path), "--formats", "ics", "--zone", "europe/oslo").exit_code == 0
    assert "TZID=Europe/Oslo:20261201T183000" in (tmp_path / "Lights.ics").read_text("utf-8")


@pytest.mark.parametrize(("zone", "said"), [("Europe/Olso", "Europe/Oslo"), ("x", "Europe/Oslo")])
def test_an_unknown_zone_is_a_usage_error(tmp_path: Path, zone: str, said: str) -> None:
    """A zone nobody knows ends with exit code 2 and a hint, and nothing is written."""
    result = rota(write_plan(tmp_path), "--formats", "ics", "--zone", zone)
    assert result.exit_code == 2
    assert said in " ".join(result.stderr.split())
    assert [path.name for path in tmp_path.iterdir()] == ["plan.json"]


def test_a_calendar_without_a_date_leaves_everything_unwritten(tmp_path: Path) -> None:
    """Where one form cannot be made, none is written, and the reason is told."""
    result = rota(write_plan(tmp_path, date=""), "--formats", "html,ics")
    assert result.exit_code == 1
    assert "a calendar needs the evening's date" in result.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["plan.json"]
