"""``rota scores``, ``standings``, ``levels`` and ``season`` from the outside."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from typed_night import GOOD, NAMES, Typed, evening, rota, type_in, write

from scheduler.domain.codec import plan_to_dict, plan_to_json


@pytest.fixture
def night(tmp_path: Path) -> Path:
    """Return a folder with a plan and its workbook as they are written."""
    write(tmp_path, evening())
    return tmp_path


def standing(season: Path) -> dict[str, tuple[int, int]]:
    """Return matches won and games won of everybody."""
    found = json.loads(rota("standings", season, "--json").stdout)["standings"]
    return {line["player"]: (line["matches_won"], line["games_won"]) for line in found}


def test_typed_scores_go_into_the_season_once(night: Path) -> None:
    """The second time nothing is added; standings hold what was typed."""
    season = night / "club.db"
    path = type_in(night, GOOD)
    first = rota("scores", path, "--season", season)
    assert first.exit_code == 0, first.output
    assert "added         4" in first.stdout
    before = season.read_bytes()
    again = rota("scores", path, "--season", season)
    assert "had all of it already" in again.stdout
    assert season.read_bytes() == before
    # Worked by hand: Ana won 6-4 and 7-6; Hu Hazel lost 6-3 and 7-6.
    assert standing(season)["Ana Ash"] == (2, 13)
    assert standing(season)["Hu Hazel"] == (1, 12)


def test_every_fault_is_told_with_its_cell_and_nothing_is_written(night: Path) -> None:
    """6-5 is not finished, 8-6 cannot be, one score is missing, one is a word."""
    bad: Typed = {"R1C1": (6, 5), "R1C2": (8, 6), "R2C1": (6, None), "R2C2": ("six", 2)}
    season = night / "club.db"
    result = rota("scores", type_in(night, bad), "--season", season)
    assert result.exit_code == 1
    lines = result.stderr.splitlines()
    assert len(lines) == 4
    assert all(line.startswith("Scores!") for line in lines)
    assert "6-5 is not a finished tie-break set" in result.stderr
    assert not season.exists()


def test_part_of_it_is_taken_if_asked_for(night: Path) -> None:
    """The rest is listed and stays open."""
    season = night / "club.db"
    path = type_in(night, {**GOOD, "R1C1": (6, 5)})
    result = rota("scores", path, "--season", season, "--partial", "--json")
    assert result.exit_code == 0
    answer = json.loads(result.stdout)
    assert (len(answer["added"]), answer["open"]) == (3, ["R1C1"])
    assert answer["faults"][0]["where"].startswith("Scores!F")


def test_a_correction_is_told_with_what_it_was(night: Path) -> None:
    """And the season keeps both rows."""
    season = night / "club.db"
    rota("scores", type_in(night, GOOD), "--season", season)
    result = rota("scores", type_in(night, {"R1C1": (4, 6)}), "--season", season)
    assert "corrected     R1C1: was 6-4, now 4-6" in result.stdout
    back = rota("scores", night / "plan.json", "--season", season, "--withdraw", "R1C1")
    assert "now open again" in back.stdout


def test_a_row_with_other_people_is_refused_and_turned_teams_are_turned_back(night: Path) -> None:
    """The names on the sheet are what the scorer saw."""
    season = night / "club.db"

    def turn(book: Any) -> None:
        for row in book["Scores"].iter_rows():
            if row[0].value == "R1C1":
                row[4].value, row[7].value = row[7].value, row[4].value

    def overwrite(book: Any) -> None:
        for row in book["Scores"].iter_rows():
            if row[0].value == "R1C2":
                row[4].value = "Somebody & Else"

    assert rota("scores", type_in(night, GOOD, turn), "--season", season).exit_code == 0
    assert standing(season)["Cy Cedar"] == (1, 8)
    result = rota("scores", type_in(night, {}, overwrite), "--season", season)
    rightly = f"{NAMES[4]} & {NAMES[5]}"
    assert f'team a of R1C2 is "Somebody & Else" here, but "{rightly}" in the plan' in result.stderr


def test_scores_from_a_phone_and_from_csv(night: Path) -> None:
    """The same evening, three ways; the plan is found by its id."""
    season = night / "club.db"
    plan_id = plan_to_dict(evening())["id"]
    text = f"Scores!\nrota {plan_id} R1C1 6-4 # Court 1\nrota {plan_id} R1C2 4-2 B retired\n"
    (night / "chat.txt").write_text(text, encoding="utf-8")
    assert "added         2" in rota("scores", night / "chat.txt", "--season", season).stdout
    # Now the season remembers the plan, so lines pasted anywhere are enough.
    (night / "plan.json").unlink()
    more = rota("scores", "-", "--season", season, text=f"rota {plan_id} R2C1 6-0\n")
    assert more.exit_code == 0, more.output
    (night / "plan.json").write_text(plan_to_json(evening()), encoding="utf-8")
    (night / "typed.csv").write_text("Match,Score A,Score B\nR2C2,2,6\nR1C1,6,4\n")
    done = json.loads(rota("scores", night / "typed.csv", "--season", season, "--json").stdout)
    assert (done["added"], done["unchanged"], done["open"]) == (["R2C2"], 1, [])


def test_lines_that_contradict_each_other_are_a_fault(night: Path) -> None:
    """Both phones of one match."""
    plan_id = plan_to_dict(evening())["id"]
    text = f"rota {plan_id} R1C1 6-4\nrota {plan_id} R1C1 4-6\nrota {plan_id} R1C2 6-4\n"
    (night / "chat.txt").write_text(text, encoding="utf-8")
    result = rota("scores", night / "chat.txt", "--season", night / "club.db")
    assert result.exit_code == 1
    assert "chat.txt line 2: says 4-6 for R1C1, but chat.txt line 1 says 6-4" in result.stderr
    part = rota("scores", night / "chat.txt", "--season", night / "club.db", "--partial", "--json")
    assert json.loads(part.stdout)["added"] == ["R1C2"]


def test_a_workbook_of_another_plan_needs_its_plan(night: Path) -> None:
    """The id in the workbook is what counts; the file can be named."""
    path = type_in(night, GOOD)
    (night / "plan.json").write_text(plan_to_json(evening("2026-12-08")), encoding="utf-8")
    result = rota("scores", path, "--season", night / "club.db")
    assert result.exit_code == 1
    assert "name its file with --plan" in result.stderr
    wrong = rota("scores", path, "--season", night / "club.db", "--plan", night / "plan.json")
    assert wrong.exit_code == 1
    assert "but the scores are for plan" in wrong.stderr
    (night / "kept.json").write_text(plan_to_json(evening()), encoding="utf-8")
    assert rota("scores", path, "--season", night / "club.db").exit_code == 0


def test_a_match_the_plan_marks_unfinished_takes_its_score_as_it_stood(night: Path) -> None:
    """The replan has said so already."""
    plan = evening()
    first = plan.rounds[0]
    broken = replace(first.matches[0], unfinished=True)
    courts = (broken, *first.courts[1:])
    write(night, replace(plan, rounds=(replace(first, courts=courts), plan.rounds[1])))
    season = night / "club.db"
    result = rota("scores", type_in(night, {**GOOD, "R1C1": (3, 2)}), "--season", season)
    assert result.exit_code == 0, result.output
    found = json.loads(rota("standings", season, "--json").stdout)["standings"]
    ana = next(line for line in found if line["player"] == "Ana Ash")
    assert (ana["neither"], ana["games_won"]) == (1, 10)


def test_tie_break_points_can_be_asked_for(night: Path) -> None:
    """7-6 alone is enough otherwise."""
    path = type_in(night, GOOD)
    result = rota("scores", path, "--season", night / "club.db", "--tie-breaks")
    assert result.exit_code == 1
    assert "7-6 needs the loser's points" in result.stderr


def test_standings_as_files(night: Path) -> None:
    """Csv and xlsx; names stay text whatever they begin with."""
    season = night / "club.db"
    rota("scores", type_in(night, GOOD), "--season", season)
    assert rota("standings", season, "--out", night / "s.csv").exit_code == 0
    assert rota("standings", season, "--evening", "last", "--out", night / "s.xlsx").exit_code == 0
    with (night / "s.csv").open(encoding="utf-8-sig", newline="") as stream:
        lines = list(csv.DictReader(stream))
    assert {line["Player"] for line in lines} == {name.replace("=", "'=") for name in NAMES}
    cells = openpyxl.load_workbook(night / "s.xlsx")["Standings"]
    gum = next(row[1] for row in cells.iter_rows() if row[1].value == "=Gum")
    assert gum.data_type == "s"
    bad = rota("standings", season, "--out", night / "s.pdf")
    assert (bad.exit_code, (night / "s.pdf").exists()) == (1, False)
    none = rota("standings", season, "--evening", "2020-01-01")
    assert 'there is no evening "2020-01-01"' in none.stderr


def test_levels_are_ranges_on_the_scale(night: Path) -> None:
    """Strongest first, low to high around each level."""
    season = night / "club.db"
    rota("scores", type_in(night, GOOD), "--season", season)
    answer = json.loads(rota("levels", season, "--json").stdout)
    found = answer["levels"]
    assert [line["level"] for line in found] == sorted(
        (line["level"] for line in found), reverse=True
    )
    assert all(1 <= line["low"] <= line["level"] <= line["high"] <= 10 for line in found)
    assert answer["margin"]["used"] is False
    assert "once there is a second evening" in rota("levels", season).stdout


def test_a_season_goes_to_a_workbook_and_back(night: Path) -> None:
    """And does not write over what is there."""
    season, again = night / "club.db", night / "again.db"
    rota("scores", type_in(night, GOOD), "--season", season)
    assert rota("season", "export", season, night / "club.xlsx").exit_code == 0
    assert rota("season", "export", season, night / "club.xlsx").exit_code == 1
    assert rota("season", "import", night / "club.xlsx", again).exit_code == 0
    assert rota("season", "import", night / "club.xlsx", again).exit_code == 1
    assert standing(again) == standing(season)


@pytest.mark.parametrize(
    ("sheet", "column", "fault"),
    [
        ("data plans", 1, "data plans row 2: cannot be taken"),
        ("data scores", 4, "data scores row 2: cannot be taken: a score looks like 6-4"),
        ("data presence", 8, "data presence row 2: cannot be taken: rounds must be a whole number"),
        ("data plan documents", 1, "data plan documents row 2: plan and part must be numbers"),
        ("data plan documents", 3, "data plan documents: plan 1 is damaged"),
    ],
)
def test_a_season_workbook_somebody_typed_into_is_refused_in_words(
    night: Path, sheet: str, column: int, fault: str
) -> None:
    """A word where a plan's number or its document was is named with its sheet."""
    season, book = night / "club.db", night / "club.xlsx"
    assert rota("scores", type_in(night, GOOD), "--season", season).exit_code == 0
    assert rota("season", "export", season, book).exit_code == 0
    opened = openpyxl.load_workbook(book)
    opened[sheet].cell(2, column).value = "word"
    opened.save(book)
    result = rota("season", "import", book, night / "again.db")
    assert result.exit_code == 1
    assert fault in result.stderr
    assert not (night / "again.db").exists()


def test_only_what_is_recorded_is_offered_to_be_taken_back(night: Path) -> None:
    """A score already taken back is not asked about as a slip for itself."""
    season, plan_file = night / "club.db", night / "plan.json"
    assert rota("scores", type_in(night, GOOD), "--season", season).exit_code == 0
    taking_back = ("scores", plan_file, "--season", season, "--withdraw", "R1C1")
    assert rota(*taking_back).exit_code == 0
    again = rota(*taking_back)
    assert again.exit_code == 1
    assert again.stderr.strip() == "--withdraw: no score is recorded for R1C1"


def test_names_are_put_right_and_shortened(night: Path) -> None:
    """Rename, refuse a merge of two who were there, short names in public."""
    season = night / "club.db"
    rota("scores", type_in(night, GOOD), "--season", season)
    assert (
        "Ana Ash is now Ana Aspen."
        in rota("season", "rename", season, "Ana Ash", "Ana Aspen").stdout
    )
    assert "Ana Aspen" in standing(season)
    assert rota("season", "merge", season, "Bo Beech", "Cy Cedar").exit_code == 1
    wrong = rota("season", "rename", season, "Bo Beach", "X")
    assert "did you mean 'Bo Beech'" in wrong.stderr
    assert "Bo B." in rota("standings", season, "--public").stdout
    assert "Bo B." not in rota("standings", season).stdout
    rota("season", "names", season, "--show", "short", "--short", "Bo Beech=Bobo")
    assert "Bobo" in rota("standings", season).stdout
    assert "Bobo" in rota("levels", season).stdout


def test_a_new_name_close_to_a_known_one_is_asked_about(night: Path) -> None:
    """The message gives both ways on."""
    season = night / "club.db"
    rota("scores", night / "plan.json", "--season", season)
    plan = evening("2026-12-08")
    text = plan_to_json(plan).replace("Bo Beech", "Bo Beach")
    misspelt = json.loads(text)
    from scheduler.domain.codec import identity  # noqa: PLC0415

    misspelt["id"] = identity(misspelt)
    (night / "plan.json").write_text(json.dumps(misspelt), encoding="utf-8")
    asked = rota("scores", night / "plan.json", "--season", season)
    assert asked.exit_code == 1
    assert '--same "Bo Beach=Bo Beech"' in asked.stderr
    done = rota("scores", night / "plan.json", "--season", season, "--same", "Bo Beach=Bo Beech")
    assert done.exit_code == 0, done.output
    assert "new people" not in done.stdout


def test_a_missing_season_is_told_and_not_made(tmp_path: Path) -> None:
    """By every command that only reads."""
    season = tmp_path / "none.db"
    for words in (["standings", season], ["levels", season], ["season", "names", season]):
        result = rota(*words)
        assert result.exit_code == 1
        assert "no such season file" in result.stderr
        answer = rota(*words, "--json")
        assert json.loads(answer.stdout)["faults"][0]["where"] == str(season)
    assert list(tmp_path.iterdir()) == []
