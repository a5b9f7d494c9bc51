"""``rota cards`` from the door: files written, refused, or named."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner

from scheduler.cli.app import app


@pytest.fixture(scope="module")
def evening(tmp_path_factory):
    """Return the folder of a planned evening of eight people."""
    folder = tmp_path_factory.mktemp("evening")
    lines = ["Name,Level", *(f"Player {letter},5" for letter in "ABCDEFGH")]
    (folder / "players.csv").write_text("\n".join(lines), encoding="utf-8")
    words = ["plan", str(folder / "players.csv"), "--courts", "2", "--rounds", "2"]
    words += ["--minutes", "25", "--out", str(folder), "--effort", "quick", "--quiet"]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 0, result.output
    return folder


def rota(*words: object):
    """Return what a command answers."""
    return CliRunner().invoke(app, [str(word) for word in words])


def test_cards_of_a_planned_evening(evening, tmp_path):
    """Both forms are written, and the count is that of the plan's matches."""
    out = tmp_path / "new" / "folder"
    result = rota("cards", evening / "plan.json", "--out", out, "--json")
    assert result.exit_code == 0, result.output
    document = json.loads(result.stdout)
    plan = json.loads((evening / "plan.json").read_text(encoding="utf-8"))
    matches = [court for planned in plan["rounds"] for court in planned["courts"]]
    assert document["cards"] == len(matches) > 0
    assert sorted(path.suffix for path in out.iterdir()) == [".html", ".xlsx"]
    page = next(out.glob("*.html")).read_text(encoding="utf-8")
    assert page.count(plan["id"]) == len(matches)
    for court in matches:
        for name in court["serving_order"]:
            assert name in page


def test_one_form_on_other_paper(evening, tmp_path):
    """Paper, size and form can be chosen."""
    words = ["--paper", "letter", "--size", "a5", "--formats", "html", "--out", tmp_path]
    result = rota("cards", evening / "plan.json", *words)
    assert result.exit_code == 0, result.output
    (path,) = tmp_path.iterdir()
    assert "size: letter landscape" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["--formats", "pdf"], 2, "known: xlsx, html"),
        (["--formats", ","], 2, "at least one"),
        (["--size", "a7"], 2, "a6"),
    ],
)
def test_wrong_words_are_usage_errors(evening, tmp_path, words, code, said):
    """A form or size that does not exist ends with code 2 and writes nothing."""
    result = rota("cards", evening / "plan.json", "--out", tmp_path / "x", *words)
    assert result.exit_code == code
    assert said in result.stderr
    assert not (tmp_path / "x").exists()


def test_no_plan_no_cards(tmp_path):
    """A missing or broken plan ends with code 1 and writes nothing."""
    assert rota("cards", tmp_path / "plan.json").exit_code == 1
    (tmp_path / "plan.json").write_text("{}", encoding="utf-8")
    assert rota("cards", tmp_path / "plan.json", "--out", tmp_path / "x").exit_code == 1
    assert [path.name for path in tmp_path.iterdir()] == ["plan.json"]


def test_a_plan_of_drills_has_no_cards(tmp_path, evening):
    """A plan whose matches were taken out is refused in words, not written."""
    document = json.loads((evening / "plan.json").read_text(encoding="utf-8"))
    for planned in document["rounds"]:
        planned["courts"] = []
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    result = rota("cards", path, "--out", tmp_path / "x")
    assert result.exit_code == 1
    assert result.stderr.strip()
    assert not (tmp_path / "x").exists()
