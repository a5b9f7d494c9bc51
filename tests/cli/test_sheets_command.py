"""``rota sheets`` from the outside: a plan file in, sheets out, nothing half done."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner, Result

from scheduler.checker import recount
from scheduler.cli.app import app
from scheduler.domain.codec import plan_to_dict, plan_to_json
from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.domain.plan import Match, Measure, Plan, PlannedRound
from scheduler.exporters.page import page_of
from scheduler.exporters.workbook import workbook_of

NAMES = ("Ana", "Bo", "Cy", "Zoë")


def evening(name: str = "Tuesday: A/B") -> Plan:
    """Return a sound plan of four people and one match, its measures stated truly."""
    event = Event(
        name,
        1110,
        tuple(Player(person, 5.0) for person in NAMES),
        (Court("Court 1"),),
        (Round(Kind.DOUBLES, 1110, 25),),
    )
    match = Match(
        "Court 1", ("Ana", "Bo"), ("Cy", "Zoë"), ("Ana", "Cy", "Bo", "Zoë"), ("Bo", "Zoë")
    )
    plan = Plan(event, (PlannedRound(1, Kind.DOUBLES, 1110, 25, (match,)),))
    stated = {what: Measure(value, 0, value == 0) for what, value in recount(plan, event).items()}
    return replace(plan, measures=stated)


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    """Write a sound plan file, alone in its folder."""
    path = tmp_path / "plan.json"
    path.write_text(plan_to_json(evening()), encoding="utf-8")
    return path


def rota(*words: str) -> Result:
    """Run ``rota sheets`` with these words."""
    return CliRunner().invoke(app, ["sheets", *words])


def test_the_workbook_comes_back_from_the_plan_file_alone(plan_file: Path) -> None:
    """Workbook and page land beside the plan under the event's safe name, the same as at first."""
    result = rota(str(plan_file))
    assert result.exit_code == 0, result.output
    path = plan_file.parent / "Tuesday A B.xlsx"
    page = plan_file.parent / "Tuesday A B.html"
    assert result.stdout == f"Wrote {path}\nWrote {page}\n"
    assert path.read_bytes() == workbook_of(evening())
    assert page.read_bytes() == page_of(evening())


def test_another_folder_and_paper_can_be_chosen(plan_file: Path, tmp_path: Path) -> None:
    """A folder that is not there is made; letter paper reaches every sheet."""
    out = tmp_path / "new" / "folder"
    result = rota(str(plan_file), "--out", str(out), "--paper", "letter", "--formats", "xlsx,json")
    assert result.exit_code == 0, result.output
    assert {path.name for path in out.iterdir()} == {"Tuesday A B.xlsx", "plan.json"}
    book = openpyxl.load_workbook(out / "Tuesday A B.xlsx")
    assert {sheet.page_setup.paperSize for sheet in book} == {1}
    assert (out / "plan.json").read_bytes() == plan_file.read_bytes()


def test_json_lists_the_files_and_nothing_else(plan_file: Path) -> None:
    """With --json stdout is one document."""
    result = rota(str(plan_file), "--json")
    files = [str(plan_file.parent / f"Tuesday A B.{ending}") for ending in ("xlsx", "html")]
    assert json.loads(result.stdout) == {"files": files}


def test_quiet_says_nothing(plan_file: Path) -> None:
    """With --quiet the files are the whole answer."""
    assert rota(str(plan_file), "--quiet").output == ""


@pytest.mark.parametrize("words", [("--formats", "xls"), ("--formats", ","), ("--paper", "a5")])
def test_unknown_choices_are_usage_errors(plan_file: Path, words: tuple[str, str]) -> None:
    """Exit code 2, the known choices named, nothing written."""
    result = rota(str(plan_file), *words)
    assert result.exit_code == 2
    assert "xlsx" in result.stderr or "letter" in result.stderr
    assert list(plan_file.parent.iterdir()) == [plan_file]


def test_a_misspelt_format_gets_a_hint(plan_file: Path) -> None:
    """The nearest known format is offered."""
    assert "did you mean 'xlsx'?" in " ".join(
        rota(str(plan_file), "--formats", "xls").stderr.split()
    )


def test_a_plan_changed_by_hand_is_written_and_said_to_be_changed(plan_file: Path) -> None:
    """A new event name changes the id; the sheets carry the new one and the user is told."""
    document = plan_to_dict(evening())
    document["event"]["name"] = document["event_in_full"]["name"] = "Wednesday"
    plan_file.write_text(json.dumps(document), encoding="utf-8")
    result = rota(str(plan_file))
    assert result.exit_code == 0
    assert "plan.json was changed since it was written" in result.stderr
    assert (plan_file.parent / "Wednesday.xlsx").exists()


def test_an_unsound_plan_is_refused_with_every_fault(plan_file: Path) -> None:
    """Somebody in two places is named, exit code 1, and nothing is written."""
    text = plan_to_json(evening()).replace('"team_b": [\n      "Cy"', '"team_b": [\n      "Ana"')
    assert text != plan_to_json(evening())
    plan_file.write_text(text, encoding="utf-8")
    result = rota(str(plan_file))
    assert result.exit_code == 1
    assert "Ana" in result.stderr
    assert "Traceback" not in result.output
    assert list(plan_file.parent.iterdir()) == [plan_file]


def test_a_file_that_is_no_plan_is_refused(tmp_path: Path) -> None:
    """A missing file and a broken one are told in words."""
    broken = tmp_path / "plan.json"
    broken.write_text("{", encoding="utf-8")
    for path in (broken, tmp_path / "none.json"):
        result = rota(str(path), "--json")
        assert result.exit_code == 1
        assert json.loads(result.stdout)["faults"]


def test_a_folder_that_cannot_be_written_to_is_told(plan_file: Path) -> None:
    """A file standing where the folder should be is named, without a traceback."""
    result = rota(str(plan_file), "--out", str(plan_file))
    assert result.exit_code == 1
    assert "plan.json" in result.stderr
    assert "Traceback" not in result.output


def test_typed_scores_are_kept_when_the_workbook_is_written_again(plan_file: Path) -> None:
    """A workbook with a score in it stands on under a name of its own; without one none does."""
    path = plan_file.parent / "Tuesday A B.xlsx"
    assert rota(str(plan_file)).exit_code == 0
    assert rota(str(plan_file)).exit_code == 0
    assert not list(plan_file.parent.glob("*typed scores*"))
    book = openpyxl.load_workbook(path)
    book["Scores"]["F5"] = 6
    book.save(path)
    typed = path.read_bytes()
    for _ in range(2):
        result = rota(str(plan_file))
        assert result.exit_code == 0, result.output
        path.write_bytes(typed)
    kept = plan_file.parent / "Tuesday A B (typed scores 1).xlsx"
    assert kept.read_bytes() == typed
    assert [kept] == list(plan_file.parent.glob("*typed scores*"))
    assert f"Wrote {kept}" in result.stdout


def test_a_file_in_the_place_of_the_folder_is_told(plan_file: Path) -> None:
    """``--out`` naming a file is refused in words, and the file stands."""
    result = rota(str(plan_file), "--out", str(plan_file))
    assert result.exit_code == 1
    assert "is a file; name a folder to write into" in result.stderr
    assert plan_file.read_text(encoding="utf-8") == plan_to_json(evening())
