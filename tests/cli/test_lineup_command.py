"""``rota lineup`` from the outside: files, answers, exit codes, the change on the day."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner

from scheduler.cli.app import app

SAMPLE = Path(__file__).parents[2] / "sample_data" / "league_fixture.xlsx"
NEXT = "2031-05-10"


def run(*words: str) -> tuple[int, str, str]:
    """Run rota and return its exit code, stdout and stderr."""
    result = CliRunner().invoke(app, list(words))
    return result.exit_code, result.stdout, result.stderr


def answered(*words: str) -> dict:
    """Return the JSON document of a run that must succeed."""
    code, out, err = run("lineup", *words, "--json", "--effort", "quick")
    assert (code, err) == (0, "")
    return json.loads(out)


def changed(folder: Path, *changes: tuple[str, object]) -> Path:
    """Return the sample with some cells changed."""
    book = openpyxl.load_workbook(SAMPLE)
    for place, value in changes:
        sheet, cell = place.split("!")
        book[sheet][cell] = value
    path = folder / "season.xlsx"
    book.save(path)
    return path


def test_the_season_is_answered_as_documented(tmp_path: Path):
    """Every fixture has line-ups with pairs, sums, reserves and why; appearances add up."""
    document = answered(str(SAMPLE), "--out", str(tmp_path))
    assert [f["date"] for f in document["fixtures"]][2] == NEXT
    assert [f["played"] for f in document["fixtures"]] == [True, True, False, False, False, False]
    for fixture in document["fixtures"]:
        assert len(fixture["lineups"]) == (1 if fixture["played"] else 5)
        for lineup in fixture["lineups"]:
            assert [pair["line"] for pair in lineup["pairs"]] == [1, 2, 3, 4]
            assert all(len(pair["players"]) == 2 for pair in lineup["pairs"])
            assert lineup["why"].endswith(".")
    played = sum(
        "Noor Zwartbol" in pair["players"]
        for fixture in document["fixtures"]
        for pair in fixture["lineups"][0]["pairs"]
    )
    assert document["appearances"]["Noor Zwartbol"] == 1 + played
    assert document["measures"]["appearance_spread"]["proven"]
    assert json.loads((tmp_path / "lineup.json").read_text("utf-8")) == document
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        f"Millrace second team {NEXT}.txt",
        f"Millrace second team {NEXT}.xlsx",
        "lineup.json",
    ]


def test_the_same_run_gives_the_same_files(tmp_path: Path):
    """Two runs write the same bytes."""
    for name in ("one", "two"):
        answered(str(SAMPLE), "--out", str(tmp_path / name))
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()


def test_one_fixture_is_picked_by_date_and_aim(tmp_path: Path):
    """--date answers that fixture alone, and --aim overrides the sheet."""
    document = answered(
        str(SAMPLE), "--out", str(tmp_path), "--date", "7.6.2031", "--aim", "strong"
    )
    assert [f["date"] for f in document["fixtures"]] == ["2031-06-07"]
    assert document["fixtures"][0]["lineups"][0]["why"].startswith("Best for the aim 'strong'")
    assert document["fixtures"][0]["lineups"][0]["proven"]


def test_people_read_the_line_up_the_alternatives_and_the_grid(tmp_path: Path):
    """The text has pairs with ranges of chances, four alternatives, the season and its proof."""
    code, out, err = run("lineup", str(SAMPLE), "--out", str(tmp_path), "--effort", "quick")
    assert code == 0
    for words in (
        "Millrace second team v Gullwing",
        "Saturday 10 May 2031, home",
        "Alternative 4",
        "gives up",
        " % ",
        "proved the least possible",
        "never a promise",
        "Wrote ",
    ):
        assert words in out.replace("%\n", "% \n"), words
    assert "no answer yet for 2031-06-21" in err
    assert "fitted to 8 results" in err


def test_a_withdrawal_starts_from_what_was_announced(tmp_path: Path):
    """Those who withdraw go, one after the other, and everybody else stays where they can."""
    before = answered(str(SAMPLE), "--out", str(tmp_path))
    announced = before["fixtures"][2]["lineups"][0]["pairs"]
    first, second = announced[0]["players"][0], announced[2]["players"][0]
    after = answered(str(SAMPLE), "--out", str(tmp_path), "--withdrawn", first)
    assert [f["date"] for f in after["fixtures"]] == [NEXT]
    assert after["fixtures"][0]["withdrawn"] == [first]
    assert after["revision"] == 2
    assert after["appearances"][first] == before["appearances"][first] - 1
    again = answered(str(SAMPLE), "--out", str(tmp_path), "--withdrawn", second)
    playing = [n for p in again["fixtures"][0]["lineups"][0]["pairs"] for n in p["players"]]
    assert again["fixtures"][0]["withdrawn"] == [first, second]
    assert not {first, second} & set(playing)
    assert (tmp_path / f"Millrace second team {NEXT}-r3.xlsx").exists()
    message = (tmp_path / f"Millrace second team {NEXT}-r3.txt").read_text("utf-8")
    assert f"Change: {first}, {second} cannot play." in message
    whole = json.loads((tmp_path / "lineup.json").read_text("utf-8"))
    assert len(whole["fixtures"]) == 6


def test_whoever_withdrew_stays_out_when_line_ups_are_picked_again(tmp_path: Path):
    """A run without --withdrawn does not undo it, and says so; without the file all is as new."""
    before = answered(str(SAMPLE), "--out", str(tmp_path))
    gone = before["fixtures"][2]["lineups"][0]["pairs"][0]["players"][0]
    answered(str(SAMPLE), "--out", str(tmp_path), "--withdrawn", gone)
    for revision in (3, 4):
        again = answered(str(SAMPLE), "--out", str(tmp_path))
        assert again["fixtures"][2]["withdrawn"] == [gone]
        assert all(
            gone not in pair["players"]
            for lineup in again["fixtures"][2]["lineups"]
            for pair in lineup["pairs"]
        )
        assert again["revision"] == revision
        said = f"{gone} withdrew from the fixture on {NEXT} and stays out"
        assert any(text.startswith(said) for text in again["warnings"])
    (tmp_path / "lineup.json").unlink()
    assert answered(str(SAMPLE), "--out", str(tmp_path)) == before


def test_a_withdrawal_without_a_file_works_out_the_line_up_first(tmp_path: Path):
    """Without lineup.json the answer is the same as after announcing."""
    document = answered(str(SAMPLE), "--out", str(tmp_path / "a"))
    name = document["fixtures"][2]["lineups"][0]["pairs"][1]["players"][0]
    known = answered(str(SAMPLE), "--out", str(tmp_path / "a"), "--withdrawn", name)
    fresh = answered(str(SAMPLE), "--out", str(tmp_path / "b"), "--withdrawn", name)
    assert fresh["fixtures"] == known["fixtures"]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--withdrawn", "Noor Zwartbo"], "did you mean 'Noor Zwartbol'?"),
        (["--withdrawn", "Noor Zwartbol"], "does not play on 2031-05-10"),
        (["--date", "2031-05-11"], "there is no fixture on 2031-05-11"),
        (["--date", "2031-04-12"], "has been played"),
        (["--date", "soon"], "must be a date such as"),
    ],
)
def test_what_cannot_be_meant_ends_with_1(tmp_path: Path, options: list[str], words: str):
    """A wrong name or date is said with a hint, and nothing is written."""
    code, out, err = run("lineup", str(SAMPLE), "--out", str(tmp_path), *options)
    assert (code, out) == (1, "")
    assert words in err
    assert not list(tmp_path.iterdir())


def test_an_impossible_fixture_ends_with_3_and_names_the_conflict(tmp_path: Path):
    """A lowest sum above the highest is named with its cells, and nothing is written."""
    path = changed(
        tmp_path,
        ("Conditions!B4", 11),
        ("Conditions!A9", "lowest pair sum"),
        ("Conditions!B9", 11.5),
    )
    folder = tmp_path / "out"
    code, out, err = run("lineup", str(path), "--out", str(folder))
    assert (code, out) == (3, "")
    assert err.splitlines()[0] == "No plan can keep all of these together:"
    assert "Conditions!A4: no pair's levels may add up to more than 11" in err
    assert "Conditions!A9: every pair's levels must add up to at least 11.5" in err
    assert len(err.splitlines()) == 4
    assert not folder.exists()
    code, out, _ = run("lineup", str(path), "--out", str(folder), "--json")
    assert code == 3
    assert {fault["where"] for fault in json.loads(out)["faults"]} >= {"Conditions!A4"}


def test_too_few_people_are_said_plainly(tmp_path: Path):
    """Eight people and three absent: only so many players for four pairs."""
    rows = [("Fixtures!" + column + "4", "no") for column in "FGHIJKL"]
    code, _, err = run("lineup", str(changed(tmp_path, *rows)), "--out", str(tmp_path / "out"))
    assert code == 3
    assert "Fixtures!A4: only 6 available players for 4 pairs on 2031-05-10" in err


def test_a_document_changed_by_hand_is_refused(tmp_path: Path):
    """A lineup.json somebody edited is not taken for what was announced."""
    answered(str(SAMPLE), "--out", str(tmp_path))
    path = tmp_path / "lineup.json"
    path.write_text(path.read_text("utf-8").replace("Millrace", "Millraces"), "utf-8")
    code, _, err = run(
        "lineup", str(SAMPLE), "--out", str(tmp_path), "--withdrawn", "Noor Zwartbol"
    )
    assert code == 1
    assert "lineup.json: is not whole" in err


def test_start_offers_the_captains_form(tmp_path: Path):
    """``rota start --fixture --example`` writes a workbook that ``rota lineup`` reads."""
    path = tmp_path / "league.xlsx"
    code, out, _ = run("start", str(path), "--fixture", "--example")
    assert code == 0
    assert f"rota lineup {path}" in out
    assert run("lineup", str(path), "--out", str(tmp_path), "--date", NEXT, "--quiet")[0] == 0


def test_a_line_up_without_a_proof_is_said_to_be_one(tmp_path: Path):
    """The search's budget is counted; past it the captain is told that better is not ruled out."""
    from scheduler.domain.fixture import FixtureAnswer  # noqa: PLC0415
    from scheduler.readers.fixture_workbook import read_fixtures  # noqa: PLC0415
    from scheduler.workflow import lineup  # noqa: PLC0415

    season = read_fixtures(SAMPLE).season
    picked = lineup.pick_lineups(season, lineup.Wanted(NEXT), lineup.Work())
    assert not any("ruled out" in warning for warning in picked.answer.warnings)
    unproven = dataclasses.replace(picked.fixture.chosen, proven=False)
    answer = dataclasses.replace(
        picked.answer, fixtures=(FixtureAnswer(picked.fixture.fixture, (unproven,)),)
    )
    assert lineup._unproven(answer) == [
        f"the line-up for {NEXT} is the best found; a better one is not ruled out"
    ]
