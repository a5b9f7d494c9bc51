"""``rota plan`` from the outside: files in, files and words out, exit codes, processes, signals."""

from __future__ import annotations

import json
import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner

from scheduler.checker import check
from scheduler.cli.app import app
from scheduler.readers.plan_file import read_plan_file
from scheduler.rotation import effort

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_data" / "club_evening.xlsx"
SIXTEEN = ROOT / "sample_data" / "sixteen.csv"
LONG = 120
"""Seconds after which a process is taken to hang; a busy machine is allowed to be slow."""


def invoke(*words: object):
    """Run ``rota plan`` with these words in this process."""
    return CliRunner().invoke(app, ["plan", *map(str, words)])


def rota(*words: object, **facts) -> subprocess.CompletedProcess[str]:
    """Run ``rota`` in a process of its own."""
    command = [sys.executable, "-m", "scheduler", *map(str, words)]
    return subprocess.run(
        command, capture_output=True, encoding="utf-8", timeout=LONG, check=False, cwd=ROOT, **facts
    )


def players_list(path: Path, *names: str) -> Path:
    """Write a players list of these names."""
    rows = [f'"{name}",{level % 10 + 1}' for level, name in enumerate(names)]
    path.write_text("\n".join(["Name,Level", *rows]) + "\n", encoding="utf-8")
    return path


def evening(path: Path, *wishes: tuple[object, ...], rounds: int = 3) -> Path:
    """Write an event workbook of eight people on two courts."""
    book = openpyxl.Workbook()
    sheets = {
        "Event": [("Setting", "Value"), ("Name", "Tuesday"), ("Start", "18:30")],
        "Players": [("Name", "Level"), *((f"P{i}", i + 1) for i in range(8))],
        "Courts": [("Name",), ("Court 1",), ("Court 2",)],
        "Rounds": [("Kind", "Minutes"), *[("doubles", 20)] * rounds],
        "Wishes": [("Wish", "Player", "Other", "Strength"), *wishes],
    }
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    del book["Sheet"]
    book.save(path)
    return path


@pytest.fixture
def little_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make every effort a tiny one where quality is not the question."""
    for name in effort.EFFORTS:
        monkeypatch.setitem(effort.EFFORTS, name, 40_000)


def files(folder: Path) -> dict[str, bytes]:
    """Return what lies in a folder, by relative path."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


# ---- the acceptance figures ---------------------------------------------------------------


def values(plan: dict) -> dict[str, float]:
    """Return the measures of a plan document by name."""
    return {name: measure["value"] for name, measure in plan["measures"].items()}


@pytest.mark.parametrize("effort_word", ["quick", "normal"])
def test_the_sample_evening_is_fair_and_even(effort_word: str, tmp_path: Path) -> None:
    """Rests within one of the share, nobody partners twice, gaps 0.8 on average and 3 at most."""
    result = invoke(SAMPLE, "--out", tmp_path, "--effort", effort_word, "--json")
    assert result.exit_code == 0, result.output
    got = values(json.loads(result.stdout))
    assert got["rest_unfairness"] < 1
    assert got["partner_repeats"] == 0
    assert got["level_gap_mean"] <= 0.8
    assert got["level_gap_max"] <= 3
    assert check(read_plan_file(tmp_path / "plan.json").plan).faults == ()


def test_sixteen_in_six_rounds_meet_nobody_twice_in_a_role(tmp_path: Path) -> None:
    """16 players, 4 courts, 6 rounds: 96 meetings across the net fit the 120 pairs."""
    words = ("--courts", 4, "--rounds", 6, "--minutes", 20, "--emphasis", "variety", "--json")
    result = invoke(SIXTEEN, *words, "--out", tmp_path)
    got = values(json.loads(result.stdout))
    assert (got["partner_repeats"], got["opponent_repeats"]) == (0, 0)


def test_twelve_in_six_rounds_reach_the_computed_optimum(tmp_path: Path) -> None:
    """12 players, 3 courts, 6 rounds: squares of opponent counts add up to 84 at best.

    The counting bound: 72 meetings over 66 pairs, 6 of them twice, which a
    local search attains; so 6 is the least there is.
    """
    list_of_twelve = players_list(tmp_path / "twelve.csv", *(f"P{i}" for i in range(12)))
    words = ("--courts", 3, "--rounds", 6, "--minutes", 20, "--emphasis", "variety", "--json")
    result = invoke(list_of_twelve, *words, "--out", tmp_path)
    plan = json.loads(result.stdout)
    got = values(plan)
    assert (got["partner_repeats"], got["opponent_repeats"]) == (0, 6)
    assert plan["measures"]["opponent_repeats"]["proven"] is True


def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    """Same seed, two processes with different hash seeds: every file is the same to the byte."""
    written = []
    for hash_seed in ("1", "4242"):
        out = tmp_path / hash_seed
        words = ("--out", out, "--effort", "quick", "--seed", 7, "--quiet")
        done = rota("plan", SAMPLE, *words, env={**os.environ, "PYTHONHASHSEED": hash_seed})
        assert done.returncode == 0, done.stderr
        assert done.stdout == ""
        written.append(files(out))
    assert "plan.json" in written[0]
    assert written[0] == written[1]


def test_two_processes_give_the_same_reasons(tmp_path: Path) -> None:
    """A refusal, which the constraint model words, is the same under any hash seed."""
    apart = [("not same court", f"P{i}", f"P{j}") for i in range(5) for j in range(i)]
    book = evening(tmp_path / "e.xlsx", *apart, ("partners", "P6", "P7"))
    told = []
    for hash_seed in ("3", "99"):
        words = ("--out", tmp_path / hash_seed, "--effort", "quick")
        done = rota("plan", book, *words, env={**os.environ, "PYTHONHASHSEED": hash_seed})
        assert done.returncode == 3, done.stderr
        told.append(done.stderr)
    assert told[0] == told[1]
    assert "Wishes!A" in told[0]


# ---- refusals -----------------------------------------------------------------------------

CLASH = [("partners", "P0", "P1"), ("not same court", "P0", "P1")]
HARMLESS = [("not partners", "P2", "P3"), ("partners once", "P4", "P5", "should")]


@pytest.mark.usefixtures("little_work")
def test_musts_that_clash_are_named_with_their_cells(tmp_path: Path) -> None:
    """A must partner B, A must not share a court with B: exit 3 and just these two wishes."""
    book = evening(tmp_path / "e.xlsx", HARMLESS[0], CLASH[0], HARMLESS[1], CLASH[1])
    result = invoke(book, "--out", tmp_path / "out")
    assert result.exit_code == 3
    told = result.stderr.strip().splitlines()
    assert sorted(line.split(": ")[0] for line in told[1:]) == ["Wishes!A3", "Wishes!A5"]
    assert result.stdout == ""
    as_json = invoke(book, "--out", tmp_path / "out", "--json")
    assert as_json.exit_code == 3
    where = sorted(fault["where"] for fault in json.loads(as_json.stdout)["faults"])
    assert where == ["Wishes!A3", "Wishes!A5"]
    assert not (tmp_path / "out").exists()


def _refused(folder: Path) -> Iterator[tuple[int, list[object]]]:
    yield 1, [ROOT / "sample_data" / "broken" / "level_too_high.xlsx"]
    yield 1, [folder / "no such file.xlsx"]
    yield 1, [SIXTEEN, "--courts", 0, "--rounds", 2, "--minutes", 20]
    yield 2, [SIXTEEN]
    yield 2, [SAMPLE, "--effort", "mighty"]
    yield 2, [SAMPLE, "--formats", "stone tablet"]
    yield 3, [evening(folder / "clash.xlsx", *CLASH)]


@pytest.mark.usefixtures("little_work")
@pytest.mark.parametrize("case", range(7))
def test_a_refusal_changes_no_file(case: int, tmp_path: Path) -> None:
    """On exit 1, 2 and 3 what lies in the folder stays, and nothing is added."""
    code, words = list(_refused(tmp_path))[case]
    out = tmp_path / "out"
    out.mkdir()
    for name in ("plan.json", "Tuesday.xlsx", "sixteen.xlsx"):
        (out / name).write_bytes(b"as it was")
    before = files(out)
    result = invoke(*words, "--out", out)
    assert result.exit_code == code
    assert result.stdout == ""
    assert result.stderr.strip()
    assert "Traceback" not in result.output
    assert files(out) == before


@pytest.mark.usefixtures("little_work")
@pytest.mark.parametrize("case", [0, 1, 2, 6])
def test_a_refusal_is_one_document_on_request(case: int, tmp_path: Path) -> None:
    """With ``--json`` stdout holds one document of faults, each with where and what."""
    code, words = list(_refused(tmp_path))[case]
    result = invoke(*words, "--out", tmp_path / "out", "--json")
    assert result.exit_code == code
    faults = json.loads(result.stdout)["faults"]
    assert faults
    assert all(set(fault) == {"where", "what"} and fault["what"] for fault in faults)


@pytest.mark.usefixtures("little_work")
def test_a_folder_that_cannot_be_written_is_a_fault(tmp_path: Path) -> None:
    """A file where the folder should be: exit 1, one line that names it, no traceback."""
    (tmp_path / "out").write_text("a file")
    result = invoke(evening(tmp_path / "e.xlsx"), "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert "out" in result.stderr
    assert (tmp_path / "out").read_text() == "a file"


@pytest.mark.usefixtures("little_work")
def test_no_file_is_changed_when_one_of_them_cannot_be(tmp_path: Path) -> None:
    """Where the workbook's name is taken by a folder, the old plan file stands: all or nothing."""
    out = tmp_path / "out"
    (out / "Tuesday.xlsx").mkdir(parents=True)
    (out / "plan.json").write_bytes(b"as it was")
    assert invoke(evening(tmp_path / "e.xlsx"), "--out", out).exit_code == 1
    assert (out / "plan.json").read_bytes() == b"as it was"


# ---- what is printed ------------------------------------------------------------------------


def test_the_document_printed_is_the_one_written(tmp_path: Path) -> None:
    """With ``--json`` stdout is the plan file's own document, and stderr is empty."""
    words = ("--courts", 4, "--rounds", 2, "--minutes", 20, "--effort", "quick", "--json")
    done = rota("plan", SIXTEEN, *words, "--out", tmp_path)
    assert done.returncode == 0
    assert json.loads(done.stdout) == json.loads((tmp_path / "plan.json").read_text("utf-8"))
    assert done.stderr == ""


@pytest.mark.usefixtures("little_work")
def test_rounds_people_and_measures_are_printed(tmp_path: Path) -> None:
    """The grid names every round and everybody; files written are told; quiet is quiet."""
    book = evening(tmp_path / "e.xlsx")
    told = invoke(book, "--out", tmp_path).stdout
    assert all(f"Round {number}, " in told for number in (1, 2, 3))
    assert all(f"P{i}" in told for i in range(8))
    assert "No two people partner twice." in told
    assert f"Wrote {tmp_path / 'plan.json'}" in told
    assert invoke(book, "--out", tmp_path, "--quiet").stdout == ""


def on_a_terminal(words: list[object], until: bytes, then: int | None) -> tuple[int, str, str]:
    """Run ``rota`` with errors and progress on a terminal; send a signal once some text shows.

    Returns
    -------
    tuple
        Exit code, what stdout got, what the terminal got.
    """
    master, slave = pty.openpty()
    command = [sys.executable, "-m", "scheduler", *map(str, words)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=slave, cwd=ROOT)
    os.close(slave)
    seen, sent, give_up = b"", False, time.monotonic() + LONG
    while time.monotonic() < give_up:
        if select.select([master], [], [], 0.1)[0]:
            try:
                seen += os.read(master, 65536)
            except OSError:  # the other end is closed: the process is done
                break
        if then is not None and not sent and until in seen:
            process.send_signal(then)
            sent = True
    else:
        process.kill()
    stdout, _ = process.communicate()
    os.close(master)
    return process.returncode, stdout.decode(), seen.decode(errors="replace")


def test_progress_shows_on_a_terminal_alone(tmp_path: Path) -> None:
    """On a terminal a bar says what is being done; the plan itself still goes to stdout."""
    words = ("--courts", 4, "--rounds", 6, "--minutes", 20, "--effort", "quick", "--out", tmp_path)
    code, stdout, terminal = on_a_terminal(["plan", SIXTEEN, *words], b"", None)
    assert code == 0
    assert "Round 1" in stdout
    assert re.search(r"\d+%", terminal)
    assert "\x1b" not in stdout
    silent = rota("plan", SIXTEEN, *words)
    assert silent.returncode == 0
    assert all(line.startswith("Please note: ") for line in silent.stderr.splitlines())


def test_interrupting_saves_the_best_plan_so_far(tmp_path: Path) -> None:
    """Ctrl-C in a long search: exit 130, the plan file is named, and the checker accepts it."""
    words = ["plan", SAMPLE, "--effort", "thorough", "--out", tmp_path]
    code, _, terminal = on_a_terminal(words, b"Seating", signal.SIGINT)
    assert code == 130, terminal
    assert "Interrupted: the best plan so far is saved as" in terminal
    assert "plan.json" in terminal
    assert "Traceback" not in terminal
    checked = rota("check", tmp_path / "plan.json", "--event", SAMPLE)
    assert checked.returncode == 0, checked.stdout + checked.stderr


# ---- names ------------------------------------------------------------------------------------

AWKWARD = (
    "=HYPERLINK(1)",
    "+1",
    "-2+3",
    "@SUM(A1)",
    "Ω" * 300,
    "🎾🏆 Zoë",
    "שרה כהן",
    "ليلى حداد",
    "O'Brien; DROP",
    "<b>Bob</b> & {{7*7}}",
    "{name}",
    "%s\\n",
)


@pytest.mark.usefixtures("little_work")
def test_awkward_names_come_through_everything_as_text(tmp_path: Path) -> None:
    """Names like formulas, markup, 300 letters, pictures, right to left: plan, check, sheets."""
    people = players_list(tmp_path / "people.csv", *AWKWARD)
    words = ("--courts", 3, "--rounds", 3, "--minutes", 20, "--formats", "xlsx,html,csv,take-home")
    result = invoke(people, *words, "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    plan = json.loads((tmp_path / "out" / "plan.json").read_text("utf-8"))
    assert [player["name"] for player in plan["players"]] == list(AWKWARD)
    for name in AWKWARD:
        assert name in result.stdout
    assert CliRunner().invoke(app, ["check", str(tmp_path / "out" / "plan.json")]).exit_code == 0
    seen, told_from_formulas = set(), set(AWKWARD) - {"+1"}
    for sheet in openpyxl.load_workbook(tmp_path / "out" / "people.xlsx"):
        for cell in (cell for row in sheet.iter_rows() for cell in row):
            if cell.data_type == "f":
                assert not any(name in str(cell.value) for name in told_from_formulas)
            elif isinstance(cell.value, str):
                seen.update(name for name in AWKWARD[:4] if cell.value == name)
    assert seen == set(AWKWARD[:4])
    page = (tmp_path / "out" / "people.html").read_text("utf-8")
    assert "<b>Bob</b>" not in page


@pytest.mark.usefixtures("little_work")
def test_an_event_with_an_awkward_name_stays_in_its_folder(tmp_path: Path) -> None:
    """A name like a path becomes a plain file name; nothing is written outside the folder."""
    people = players_list(tmp_path / "p.csv", *"ABCD")
    words = ("--courts", 1, "--rounds", 1, "--minutes", 20, "--name", "../../over the net: =1+1")
    result = invoke(people, *words, "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out", "p.csv"]
    written = sorted(path.suffix for path in (tmp_path / "out").iterdir())
    assert written == [".html", ".json", ".xlsx"]


# ---- what a list leaves open, what a season brings, example rows -----------------------------


def test_a_players_list_takes_the_set_that_is_played(tmp_path: Path) -> None:
    """--set says it for a list and overrides the sheet; without it a tie-break set is played."""
    people = players_list(tmp_path / "people.csv", *(f"P{i}" for i in range(8)))
    size = ("--courts", 2, "--rounds", 2, "--minutes", 20, "--effort", "quick", "--json")
    for given, wanted in (((), "tie-break set"), (("--set", "timed"), "timed")):
        result = invoke(people, *size, "--formats", "json", "--out", tmp_path, *given)
        assert result.exit_code == 0, result.output
        assert json.loads(result.stdout)["event_in_full"]["set_format"] == wanted
    assert invoke(people, *size, "--set", "best of nine").exit_code == 2


def test_the_exchange_may_be_as_large_as_on_the_sheet(tmp_path: Path, little_work: None) -> None:
    """1000 levels a repeat are taken from either place, more from neither."""
    path = evening(tmp_path / "a.xlsx")
    words = ("--formats", "json", "--out", tmp_path, "--json")
    result = invoke(path, *words, "--exchange", 1000)
    assert json.loads(result.stdout)["event_in_full"]["exchange"] == 1000
    assert invoke(path, *words, "--exchange", 1001).exit_code == 2


def test_numbers_beside_a_whole_workbook_say_what_they_leave_out(tmp_path: Path) -> None:
    """With --courts, --rounds and --minutes only its people count, which must not go unsaid."""
    path = evening(tmp_path / "a.xlsx", ("rests", "P0"))
    size = ("--courts", 2, "--rounds", 2, "--minutes", 20, "--effort", "quick")
    result = invoke(path, *size, "--formats", "json", "--out", tmp_path)
    assert result.exit_code == 0, result.output
    assert "a.xlsx: only Players is read" in result.stderr
    assert "left out are Event, Courts, Rounds, Wishes" in result.stderr


def test_a_season_is_said_to_be_counted(tmp_path: Path) -> None:
    """One line tells how many evenings count and how fast they fade; with --json not on stdout."""
    season = tmp_path / "club.db"
    path = evening(tmp_path / "a.xlsx")
    options = ("--out", tmp_path, "--effort", "quick", "--formats", "json")
    assert invoke(path, *options).exit_code == 0
    plan = tmp_path / "plan.json"
    recorded = CliRunner().invoke(app, ["scores", str(plan), "--season", str(season)])
    assert recorded.exit_code == 0, recorded.output
    book = openpyxl.load_workbook(path)
    book["Event"].append(("Date", "2099-01-01"))
    book.save(path)
    told = "Season: 1 earlier evening counted; a meeting weighs half after 4 evenings."
    assert invoke(path, *options, "--season", season).stdout.splitlines()[0] == told
    as_json = invoke(path, *options, "--season", season, "--json")
    assert told in as_json.stderr
    assert json.loads(as_json.stdout)["weighted"]["evenings"] == 1


def test_the_words_for_quality_are_plain(tmp_path: Path) -> None:
    """The exchange is told with its rate; what the evening has not is not praised."""
    path = evening(tmp_path / "a.xlsx")
    out = invoke(path, "--out", tmp_path, "--effort", "quick", "--formats", "json").stdout
    assert "a repeated opponent counting as 2 levels more, come to " in out
    for absent in ("station", "drill", "wish"):
        assert absent not in out
