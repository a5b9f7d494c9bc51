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
from scheduler.exporters.seats_csv import seats_csv_of
from scheduler.exporters.workbook import workbook_of
from scheduler.workflow.cards import CARD_FORMS, write_cards
from scheduler.workflow.sheets import write_forms

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


def other_evening() -> Plan:
    """Return a sound plan of the same evening with the partners changed."""
    plan = evening()
    match = Match(
        "Court 1", ("Ana", "Cy"), ("Bo", "Zoë"), ("Ana", "Bo", "Cy", "Zoë"), ("Cy", "Zoë")
    )
    return replace(plan, rounds=(replace(plan.rounds[0], courts=(match,)),))


def test_files_of_another_plan_are_told_and_written_again(plan_file: Path) -> None:
    """What was cut short: a line names the files and the other plan, and every form is whole."""
    other = other_evening()
    write_forms(other, plan_file.parent, ("xlsx", "csv"), "a4")
    result = rota(str(plan_file))
    assert result.exit_code == 0, result.output
    other_id = plan_to_dict(other)["id"]
    assert result.stderr == (
        f"Tuesday A B.xlsx, Tuesday A B.csv belonged to another plan ({other_id}) and were "
        "written again.\n"
    )
    assert (plan_file.parent / "Tuesday A B.csv").read_bytes() == seats_csv_of(evening())
    assert (plan_file.parent / "Tuesday A B.xlsx").read_bytes() == workbook_of(evening())
    assert not rota(str(plan_file)).stderr


def test_files_of_another_plan_that_are_not_asked_for_are_told_alone(plan_file: Path) -> None:
    """With --formats nothing else is written; cards and what cannot be made are told as well."""
    other = other_evening()
    folder = plan_file.parent
    dated = replace(other, event=replace(other.event, date="2026-12-01"))
    write_forms(dated, folder, ("xlsx", "csv", "ics"), "a4")
    (folder / "other.json").write_text(plan_to_json(dated), encoding="utf-8")
    write_cards(folder / "other.json", None, CARD_FORMS, "a4", "a6")
    before = {path: path.read_bytes() for path in folder.iterdir()}
    assert rota(str(plan_file), "--formats", "html").stderr == (
        "Tuesday A B.xlsx, Tuesday A B.csv, Tuesday A B.ics, Tuesday A B cards.xlsx, "
        f"Tuesday A B cards.html belong to another plan ({plan_to_dict(dated)['id']}); "
        "rota sheets plan.json --formats xlsx,csv,ics and rota cards plan.json write them "
        "for this one.\n"
    )
    assert {path: path.read_bytes() for path in before} == before
    result = rota(str(plan_file))
    assert result.exit_code == 0, result.output
    again, left = result.stderr.splitlines()
    assert again.startswith("Tuesday A B.xlsx, Tuesday A B.csv belonged to another plan")
    assert left.startswith("Tuesday A B.ics, Tuesday A B cards.xlsx, Tuesday A B cards.html belong")
    assert (folder / "Tuesday A B.ics").read_bytes() == before[folder / "Tuesday A B.ics"]


def test_a_plan_file_is_never_lost_to_another(plan_file: Path, tmp_path: Path) -> None:
    """Another plan in the folder written to is told, and stays."""
    out = tmp_path / "print"
    write_forms(other_evening(), out, ("json",), "a4")
    result = rota(str(plan_file), "--out", str(out))
    other_id = plan_to_dict(other_evening())["id"]
    assert result.stderr == f"plan.json belongs to another plan ({other_id}).\n"
    assert (out / "plan.json").read_text(encoding="utf-8") == plan_to_json(other_evening())


def test_a_revision_beside_the_plan_before_it_keeps_its_names(plan_file: Path) -> None:
    """The sheets of the plan before it stand; elsewhere a revision has the usual names."""
    folder = plan_file.parent
    assert rota(str(plan_file)).exit_code == 0
    first = (folder / "Tuesday A B.xlsx").read_bytes()
    second = replace(other_evening(), revision=2)
    (folder / "Tuesday A B-r2.json").write_text(plan_to_json(second), encoding="utf-8")
    write_forms(evening(), folder, ("html",), "a4", stem="Tuesday A B-r2")
    result = rota(str(folder / "Tuesday A B-r2.json"))
    assert result.exit_code == 0, result.output
    assert "Tuesday A B-r2.html belonged to another plan" in result.stderr
    assert (folder / "Tuesday A B-r2.xlsx").read_bytes() == workbook_of(second)
    assert (folder / "Tuesday A B-r2.html").read_bytes() == page_of(second)
    assert (folder / "Tuesday A B.xlsx").read_bytes() == first
    out = folder / "print"
    assert rota(str(folder / "Tuesday A B-r2.json"), "--out", str(out)).exit_code == 0
    assert {path.name for path in out.iterdir()} == {"Tuesday A B.xlsx", "Tuesday A B.html"}
