"""``rota check`` from the outside: files in, words, one JSON document and exit codes out."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import Workbook
from typer.testing import CliRunner

from scheduler.checker import recount
from scheduler.cli.app import app
from scheduler.domain.codec import identity, plan_to_dict, plan_to_json
from scheduler.domain.event import Court, Event, Kind, Player, Round, Wish, WishKind
from scheduler.domain.plan import Match, Measure, Plan, PlannedRound
from scheduler.workflow.sheets import write_forms

START, MINUTES = 18 * 60 + 30, 20
NAMES = ("Ana", "Bo", "Cy", "Zoë", "李雷")
FOURS = [
    ("Ana", "Bo", "Cy", "Zoë", "李雷"),
    ("Ana", "Cy", "Bo", "李雷", "Zoë"),
    ("Ana", "Zoë", "Cy", "李雷", "Bo"),
]


def evening(*wishes: Wish) -> Plan:
    """Return a plan of five people on one court for three rounds, its measures stated truly."""
    event = Event(
        "Tuesday",
        START,
        tuple(Player(name, level) for level, name in enumerate(NAMES, 3)),
        (Court("Court 1"),),
        tuple(Round(Kind.DOUBLES, START + MINUTES * i, MINUTES) for i in range(3)),
        wishes=wishes,
    )
    rounds = tuple(
        PlannedRound(
            number=number,
            kind=Kind.DOUBLES,
            start=START + MINUTES * (number - 1),
            minutes=MINUTES,
            courts=(Match("Court 1", (a, b), (c, d), (a, c, b, d), (b, d)),),
            resting=(rests,),
        )
        for number, (a, b, c, d, rests) in enumerate(FOURS, 1)
    )
    plan = Plan(event, rounds)
    stated = {
        name: Measure(value, bound=0.0, proven=value == 0)
        for name, value in recount(plan, event).items()
    }
    return replace(plan, measures=stated)


def workbook(path: Path, levels: dict[str, float]) -> Path:
    """Write the event workbook of the evening, with the levels given."""
    book = Workbook()
    sheets = {
        "Event": [("Setting", "Value"), ("Name", "Tuesday"), ("Start", "18:30")],
        "Players": [("Name", "Level"), *levels.items()],
        "Courts": [("Name",), ("Court 1",)],
        "Rounds": [("Kind", "Minutes"), *[("doubles", MINUTES)] * 3],
    }
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    del book["Sheet"]
    book.save(path)
    return path


LEVELS = {name: float(level) for level, name in enumerate(NAMES, 3)}


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    """Return the file of a sound plan."""
    path = tmp_path / "plan.json"
    path.write_text(plan_to_json(evening()), encoding="utf-8")
    return path


def spoil(path: Path, **changes: object) -> None:
    """Change facts of round 2 in a plan file, and give it the id of what it now holds."""
    document = json.loads(path.read_text(encoding="utf-8"))
    document["rounds"][1].update(changes)
    document["id"] = identity(document)
    path.write_text(json.dumps(document), encoding="utf-8")


def rota(*arguments: object):
    """Run the command line."""
    return CliRunner().invoke(app, ["check", *map(str, arguments)])


def test_a_sound_plan_is_said_to_be_sound_with_its_measures(plan_file):
    """The first line is the verdict; a table of the measures in words follows; exit code 0."""
    result = rota(plan_file)

    assert result.exit_code == 0
    assert result.stdout.startswith("Sound: plan.json keeps every rule and every must.\n\n")
    assert "No two people partner twice." in result.stdout
    assert result.stderr == ""


def test_quiet_says_nothing_of_a_sound_plan(plan_file):
    """With --quiet the exit code is the answer."""
    result = rota(plan_file, "--quiet")

    assert (result.exit_code, result.output) == (0, "")


@pytest.mark.parametrize("options", [[], ["--quiet"]])
def test_a_plan_that_is_not_sound_exits_1_with_a_line_a_fault(plan_file, options):
    """Every fault is told, quiet or not, naming round and people in their own script."""
    spoil(plan_file, resting=[], absent=["Zoë", "孟"], minutes=25)

    result = rota(plan_file, *options)

    assert result.exit_code == 1
    assert result.stdout.splitlines()[:4] == [
        "Not sound: plan.json has 3 faults.",
        "Round 2 lasts 25 minutes in the plan, 20 minutes in the event",
        "Round 2: 孟 (absent) is not on the players list",
        "Round 2: Zoë is absent, but is there for all of the round",
    ]


def test_json_is_one_document_of_verdict_faults_and_measures(plan_file):
    """Stdout holds one JSON document and nothing else, sound or not."""
    sound = rota(plan_file, "--json")
    spoil(plan_file, resting=[])
    spoilt = rota(plan_file, "--json")

    assert sound.exit_code == 0
    answer = json.loads(sound.stdout)
    assert answer["accepted"] is True
    assert answer["faults"] == []
    assert answer["measures"] == pytest.approx(dict(recount(evening(), evening().event)))
    assert spoilt.exit_code == 1
    answer = json.loads(spoilt.stdout)
    assert answer["accepted"] is False
    assert "Round 2: Zoë is on no court, not resting and not absent" in answer["faults"]


def test_a_stated_figure_that_is_not_true_is_a_fault(plan_file):
    """Measures are counted again; the file's figure is only compared."""
    document = json.loads(plan_file.read_text(encoding="utf-8"))
    document["measures"]["opponent_repeats"]["value"] = 1
    document["id"] = identity(document)
    plan_file.write_text(json.dumps(document), encoding="utf-8")

    faults = json.loads(rota(plan_file, "--json").stdout)["faults"]

    assert faults == ["The measure opponent_repeats is stated as 1, counted again it is 3"]


def test_a_wrong_id_is_told_without_condemning_the_plan(plan_file):
    """A plan changed by hand may be sound; that its id no longer fits is said beside."""
    document = json.loads(plan_file.read_text(encoding="utf-8"))
    document["id"] = "000000000000"
    plan_file.write_text(json.dumps(document), encoding="utf-8")

    result = rota(plan_file)

    assert result.exit_code == 0
    assert result.stderr.startswith("plan.json does not fit its id 000000000000: ")
    assert json.loads(rota(plan_file, "--json").stdout)["warnings"] == [result.stderr.strip()]


def test_sheets_of_another_plan_are_told_without_condemning_the_plan(plan_file):
    """What a command that was cut short left beside it: in one line, with what makes it whole."""
    plan = evening()
    other = replace(plan, warnings=("another plan",))
    write_forms(plan, plan_file.parent, ("html",), "a4")
    write_forms(other, plan_file.parent, ("xlsx",), "a4")
    result = rota(plan_file)
    assert result.exit_code == 0
    assert result.stderr == (
        f"Tuesday.xlsx belongs to another plan ({plan_to_dict(other)['id']}); "
        "rota sheets plan.json --formats xlsx writes it for this one.\n"
    )
    assert json.loads(rota(plan_file, "--json").stdout)["warnings"] == [result.stderr.strip()]


def test_a_file_at_odds_with_itself_is_not_sound(plan_file):
    """The players at the head of the file must be those of the event it carries."""
    document = json.loads(plan_file.read_text(encoding="utf-8"))
    document["players"][0]["level"] = 9.0
    document["id"] = identity(document)
    plan_file.write_text(json.dumps(document), encoding="utf-8")

    result = rota(plan_file)

    assert result.exit_code == 1
    assert "players[0]" in result.stdout


def test_the_event_workbook_it_was_made_for_is_served(plan_file, tmp_path):
    """With --event, the workbook asks for just what the plan holds."""
    result = rota(plan_file, "--event", workbook(tmp_path / "event.xlsx", LEVELS))

    assert result.exit_code == 0, result.output


def test_another_event_workbook_is_not_served(plan_file, tmp_path):
    """A level and a player that differ are two faults, and so is the player without a place."""
    other = workbook(tmp_path / "event.xlsx", {**LEVELS, "Ana": 9.0, "Max": 5.0})

    result = rota(plan_file, "--event", other, "--json")

    assert result.exit_code == 1
    faults = json.loads(result.stdout)["faults"]
    assert faults[:2] == [
        "The event has a player Max that the plan does not know",
        "Ana has level 3 in the plan, 9 in the event",
    ]
    assert "Round 1: Max is on no court, not resting and not absent" in faults


def test_a_broken_must_is_told_with_its_cell(tmp_path):
    """The wish's own words and cell stand in the fault."""
    path = tmp_path / "plan.json"
    wish = Wish(WishKind.NOT_PARTNERS, "Ana", "Zoë", where="Wishes!A2")
    path.write_text(plan_to_json(evening(wish)), encoding="utf-8")

    result = rota(path)

    assert result.exit_code == 1
    assert (
        "Round 3, Court 1: Ana and Zoë are partners, "
        "though Ana and Zoë must not be partners (Wishes!A2)"
    ) in result.stdout


def test_faults_of_both_files_are_told_at_once(tmp_path):
    """A plan that is no JSON and a workbook that is not there are two faults, exit code 1."""
    path = tmp_path / "plan.json"
    path.write_text("not a plan", encoding="utf-8")

    result = rota(path, "--event", tmp_path / "gone.xlsx", "--json")

    assert result.exit_code == 1
    faults = json.loads(result.stdout)["faults"]
    assert len(faults) == 2
    assert faults[0]["where"].startswith("plan.json")
    assert "gone.xlsx" in faults[1]["where"]
