"""``rota start``: a file to fill in, and never over one that is there."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from scheduler.cli.app import app
from scheduler.readers.event_workbook import read_event


def run(*words: str) -> tuple[int, str, str]:
    """Run the command and return its exit code, stdout and stderr."""
    result = CliRunner().invoke(app, ["start", *words])
    return result.exit_code, result.stdout, result.stderr


def test_a_workbook_is_written_and_the_next_step_is_named(tmp_path: Path) -> None:
    """The file is there, can be read, and the command says what to run then."""
    path = tmp_path / "spring evening.xlsx"
    code, out, err = run(str(path))
    assert (code, err) == (0, "")
    assert f'rota plan "{path}"' in out
    assert read_event(path).event.name == "Club evening"


def test_a_file_that_is_there_is_kept(tmp_path: Path) -> None:
    """Without --force the command ends with 1 and the file is untouched; with it, replaced."""
    path = tmp_path / "event.xlsx"
    path.write_bytes(b"mine")
    code, out, err = run(str(path))
    assert (code, out) == (1, "")
    assert "is already there; choose another name, or give --force" in err
    assert path.read_bytes() == b"mine"
    assert run(str(path), "--force", "--example", "--quiet") == (0, "", "")
    assert len(read_event(path).event.players) == 22


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("event.csv", "must end in .xlsx"),
        ("nowhere/event.xlsx", "there is no such folder"),
        ("folder.xlsx", "is a folder"),
    ],
)
def test_bad_targets_are_named(name: str, words: str, tmp_path: Path) -> None:
    """A wrong ending, a missing folder and a folder each have their own sentence."""
    (tmp_path / "folder.xlsx").mkdir()
    code, _, err = run(str(tmp_path / name))
    assert code == 1
    assert words in err


def test_json_answers_with_one_document(tmp_path: Path) -> None:
    """With --json both success and fault are one document on stdout."""
    path = tmp_path / "event.xlsx"
    code, out, _ = run(str(path), "--json")
    assert (code, json.loads(out)) == (0, {"written": str(path)})
    code, out, _ = run(str(path), "--json")
    assert code == 1
    assert [fault["where"] for fault in json.loads(out)["faults"]] == [str(path)]
