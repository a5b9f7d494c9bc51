"""``rota replan`` and ``rota next`` from the outside: files, exit codes, what is said."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from drawn_events import plain_event
from typer.testing import CliRunner, Result

from scheduler.checker import check
from scheduler.cli import night_options
from scheduler.cli.app import app
from scheduler.domain.codec import plan_to_dict, plan_to_json
from scheduler.domain.event import Kind
from scheduler.readers.plan_file import read_plan
from scheduler.rotation.effort import EFFORTS
from scheduler.season.recording import record
from scheduler.workflow.plan import make_plan


@pytest.fixture(autouse=True)
def tiny_effort(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every plan here take milliseconds."""
    monkeypatch.setitem(EFFORTS, "quick", 20_000)


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    """Return a plan of nine people on two courts: doubles, then up and down."""
    kinds = (Kind.DOUBLES, Kind.DOUBLES, Kind.UP_AND_DOWN, Kind.UP_AND_DOWN)
    event = plain_event(9, 2, 4, *kinds)
    people = tuple(replace(p, level=9 - i / 2) for i, p in enumerate(event.players))
    event = replace(event, players=people, name="Tuesday: A/B")
    path = tmp_path / "plan.json"
    path.write_text(plan_to_json(make_plan(event, effort="quick").plan), encoding="utf-8")
    return path


def rota(*words: object) -> Result:
    """Run a command at the least effort, the sheets left out unless they are asked for."""
    told = [str(word) for word in words]
    formats = [] if "--formats" in told else ["--formats", "json"]
    return CliRunner().invoke(app, [*told, "--effort", "quick", *formats])


def files(folder: Path) -> set[str]:
    """Return the names of the files in a folder."""
    return {path.name for path in folder.iterdir()}


def test_a_revision_is_written_beside_the_plan_which_stays(plan_file: Path) -> None:
    """NAME-rN.json and its sheets; the plan read is not touched."""
    before = plan_file.read_bytes()
    result = rota("replan", plan_file, "--after", 1, "--absent", "P3", "--formats", "xlsx,html")
    assert result.exit_code == 0, result.output
    stem = "Tuesday A B-r2"
    assert files(plan_file.parent) == {
        "plan.json", f"{stem}.json", f"{stem}.xlsx", f"{stem}.html"
    }  # fmt: skip
    assert plan_file.read_bytes() == before
    plan = read_plan(plan_file.parent / f"{stem}.json")
    assert plan.revision == 2
    assert check(plan).accepted
    assert re.search(r"^Not here:\n  P3: rounds 2", result.stdout, re.MULTILINE)
    last = result.stdout.split("Next:\n")[1]
    assert last.startswith("Round 2, ")
    assert last.rstrip().endswith("absent  P3")


def test_the_same_replan_gives_the_same_bytes(plan_file: Path) -> None:
    """A rerun changes no file, sheets included."""
    words = ("replan", plan_file, "--after", 1, "--absent", "P3", "--formats", "xlsx,html")
    rota(*words)
    first = {path.name: path.read_bytes() for path in plan_file.parent.iterdir()}
    assert rota(*words).exit_code == 0
    assert {path.name: path.read_bytes() for path in plan_file.parent.iterdir()} == first


def test_another_plan_in_the_way_is_kept(plan_file: Path) -> None:
    """A second revision 2 of another content does not lose the first."""
    rota("replan", plan_file, "--after", 1, "--absent", "P3")
    first = (plan_file.parent / "Tuesday A B-r2.json").read_bytes()
    result = rota("replan", plan_file, "--after", 1, "--absent", "P4")
    assert "held another plan, which is kept as" in result.stderr
    identity = json.loads(first)["id"]
    assert (plan_file.parent / f"Tuesday A B-r2 {identity}.json").read_bytes() == first


def test_with_a_folder_the_names_are_those_of_a_new_plan(plan_file: Path, tmp_path: Path) -> None:
    """--out DIR gives DIR/plan.json, but never over the plan that was read."""
    out = tmp_path / "new"
    assert rota("replan", plan_file, "--after", 1, "--out", out).exit_code == 0
    assert files(out) == {"plan.json"}
    assert rota("replan", plan_file, "--after", 1, "--out", tmp_path).exit_code == 0
    assert files(tmp_path) == {"plan.json", "new", "Tuesday A B-r2.json"}


def test_the_plan_that_was_read_is_never_overwritten(plan_file: Path) -> None:
    """A plan that has the very name of its next revision is refused, and stays."""
    clash = plan_file.with_name("Tuesday A B-r2.json")
    plan_file.rename(clash)
    before = clash.read_bytes()
    result = rota("replan", clash, "--after", 1)
    assert result.exit_code == 1
    assert "would overwrite it" in result.stderr
    assert clash.read_bytes() == before


def test_a_chain_of_revisions_counts_on(plan_file: Path) -> None:
    """Each revision is made from the one before, and carries every change in order."""
    rota("replan", plan_file, "--after", 0, "--absent", "P8")
    second = plan_file.parent / "Tuesday A B-r2.json"
    rota("replan", second, "--after", 1, "--add", "Zed,5")
    third = plan_file.parent / "Tuesday A B-r3.json"
    result = rota("next", third, "--scores", "C0=6-4", "--scores", "2=4-6")
    assert result.exit_code == 0, result.output
    plan = read_plan(plan_file.parent / "Tuesday A B-r4.json")
    assert [change.split(":")[0] for change in plan.event.changes] == [
        "Revision 2, before round 1",
        "Revision 3, after round 1",
        "Revision 4, round 4 seated from the results of round 3",
    ]
    assert not any(planned.open for planned in plan.rounds)


def test_json_is_the_plan_with_its_changes_and_nothing_else(plan_file: Path) -> None:
    """One document on stdout; each change has player, round, was and now."""
    result = rota("replan", plan_file, "--after", 1, "--absent", "P3", "--json")
    document = json.loads(result.stdout)
    assert document["revision"] == 2
    assert document["changes"]
    assert all(set(c) == {"player", "round", "was", "now"} for c in document["changes"])


def test_least_change_says_how_many(plan_file: Path) -> None:
    """The number is said, and stands in the plan."""
    result = rota("replan", plan_file, "--after", 1, "--absent", "P3", "--least-change")
    assert "fewest people moved: " in result.stdout
    plan = read_plan(plan_file.parent / "Tuesday A B-r2.json")
    assert "fewest people moved: " in plan.event.changes[-1]


def test_faults_are_listed_and_nothing_is_written(plan_file: Path) -> None:
    """Exit 1, every fault a line; with --json as a document."""
    words = ("replan", plan_file, "--after", 9, "--absent", "Nobody")
    assert rota(*words).exit_code == 1
    assert "none is left after 9" in rota(*words).stderr
    wrong = ("replan", plan_file, "--after", 1, "--absent", "Nobody", "--lost-court", "Q")
    assert len(rota(*wrong).stderr.splitlines()) == 2
    faults = json.loads(rota(*wrong, "--json").stdout)["faults"]
    assert [fault["where"] for fault in faults] == ['--absent "Nobody"', '--lost-court "Q"']
    assert files(plan_file.parent) == {"plan.json"}


def test_musts_that_cannot_be_kept_end_with_exit_3(plan_file: Path) -> None:
    """Both courts lost leaves a drill without a place to go; nothing is written."""
    event = plain_event(8, 2, 2, Kind.DOUBLES, Kind.DRILL)
    plan_file.write_text(plan_to_json(make_plan(event, effort="quick").plan), encoding="utf-8")
    result = rota("replan", plan_file, "--after", 1, "--lost-court", 1, "--lost-court", 2)
    assert result.exit_code == 3
    assert "no court is open" in result.stderr
    assert files(plan_file.parent) == {"plan.json"}


def test_a_plan_that_is_not_sound_is_not_replanned(plan_file: Path) -> None:
    """The base plan is checked first, so that its faults are not called a bug."""
    text = plan_file.read_text(encoding="utf-8").replace('"minutes": 20', '"minutes": 21', 1)
    plan_file.write_text(text, encoding="utf-8")
    result = rota("replan", plan_file, "--after", 1)
    assert result.exit_code == 1
    assert "Round 1 lasts 21 minutes" in result.stderr


def test_after_is_needed_and_not_negative(plan_file: Path) -> None:
    """Wrong use ends with exit 2."""
    assert rota("replan", plan_file).exit_code == 2
    assert rota("replan", plan_file, "--after", "-1").exit_code == 2


def test_scores_may_come_from_a_file(plan_file: Path) -> None:
    """One score a line, as typed or as a phone copies it out; other rounds' lines are let be."""
    scores = plan_file.with_name("scores.txt")
    scores.write_text(
        "# Tuesday\nC0 = 6-4\nrota 0123456789ab R1C1 6-1\nrota 0123456789ab R3C2 2-6\n",
        encoding="utf-8",
    )
    result = rota("next", plan_file, "--scores", scores)
    assert result.exit_code == 0, result.output
    plan = read_plan(plan_file.parent / "Tuesday A B-r2.json")
    assert plan.event.changes[-1].endswith("C0 6-4; C1 2-6")


def test_a_missing_score_is_said_and_decided_by_the_rule(plan_file: Path) -> None:
    """The stronger team counts as the winner where there is no score."""
    result = rota("next", plan_file, "--scores", "C0=6-4")
    assert result.exit_code == 0
    assert "C1: no score" in result.stderr
    assert rota("next", plan_file, "--scores", "no such file").exit_code == 1


def test_every_score_that_cannot_be_read_is_named_at_once(plan_file: Path) -> None:
    """Whatever is wrong with them, and lines typed in one go are as good as several options."""
    seen = files(plan_file.parent)
    wrong = ("", "C1", "no file.txt", "=6-4", "C7=6-4", "C1=6-x", "x" * 300)
    result = rota("next", plan_file, "--json", *(word for w in wrong for word in ("--scores", w)))
    assert result.exit_code == 1
    where = [fault["where"] for fault in json.loads(result.stdout)["faults"]]
    assert where == [f'--scores "{text}"' for text in wrong]
    assert files(plan_file.parent) == seen
    result = rota("next", plan_file, "--scores", "C0=6-4\nC1=2-6")
    assert result.exit_code == 0, result.output
    plan = read_plan(plan_file.parent / "Tuesday A B-r2.json")
    assert plan.event.changes[-1].endswith("C0 6-4; C1 2-6")


@pytest.mark.parametrize(
    ("words", "where"),
    [
        ((), "--after"),
        (("--after", "x"), "--after"),
        (("--after", "-1"), "--after"),
        (("--after", "1", "--nobody", "x"), "--nobody"),
        (("--after", "1", "--effort", "great"), "--effort"),
    ],
)
def test_with_json_a_misused_option_is_a_document_too(
    plan_file: Path, words: tuple[str, ...], where: str
) -> None:
    """Nothing but that document is on stdout, and the exit code stays that of misuse."""
    told = ["replan", str(plan_file), "--json", *words]
    result = CliRunner().invoke(app, told)
    assert result.exit_code == 2
    assert [fault["where"] for fault in json.loads(result.stdout)["faults"]] == [where]


# ---- who moves, who never came, the season --------------------------------------------------


def test_the_text_and_the_json_tell_of_the_same_people(plan_file: Path) -> None:
    """Everybody in `changes` has one line of the read-out, and nobody else has."""
    text = rota("replan", plan_file, "--after", 1, "--absent", "P3", "--add", "Zed,5").stdout
    told = text[: text.index("Wrote ")].splitlines()
    lines = [line.strip().split(":")[0] for line in told if re.match(r"  (P\d|Zed): r", line)]
    document = json.loads(
        rota("replan", plan_file, "--after", 1, "--absent", "P3", "--add", "Zed,5", "--json").stdout
    )
    later = "seated from the results of the round before"
    people = {change["player"] for change in document["changes"] if change["now"] != later}
    assert sorted(lines) == sorted(people)


def test_a_no_show_is_said_with_the_option_of_its_own(plan_file: Path) -> None:
    """The round played carries the mark, the sheets can be written, the checker accepts it."""
    result = rota(
        "replan", plan_file, "--after", 1, "--no-show", "P3", "--formats", "xlsx,html,csv"
    )
    assert result.exit_code == 0, result.output
    assert "P3 never came: round 1 stands as printed, but does not count for P3" in result.stdout
    document = json.loads((plan_file.parent / "Tuesday A B-r2.json").read_text(encoding="utf-8"))
    assert document["rounds"][0]["missing"] == ["P3"]
    assert "missing" not in document["rounds"][1]
    page = (plan_file.parent / "Tuesday A B-r2.html").read_text(encoding="utf-8")
    assert "P3 did not come" in page


def test_a_revision_counts_the_season_when_it_is_named(plan_file: Path, tmp_path: Path) -> None:
    """With --season the measures over the season are there; a chain keeps the fading cost."""
    season = tmp_path / "club.db"
    plan = read_plan(plan_file)
    earlier = replace(plan, event=replace(plan.event, name="Last week", date="2026-01-01"))
    record(season, earlier)
    result = rota("replan", plan_file, "--after", 1, "--absent", "P3", "--season", season)
    assert result.exit_code == 0, result.output
    assert "Season: 1 earlier evening counted; a meeting weighs half after 4" in result.stderr
    second = plan_file.parent / "Tuesday A B-r2.json"
    counted = read_plan(second)
    assert counted.season_measures.keys() >= {"partner_repeats", "wishes_missed"}
    assert counted.weighted["evenings"] == 1
    assert counted.event.earlier
    again = rota("replan", second, "--after", 2, "--least-change")
    assert "Earlier evenings still count in this plan" in again.stderr
    third = read_plan(plan_file.parent / "Tuesday A B-r3.json")
    assert third.season_measures == {}
    assert third.weighted == pytest.approx(dict(counted.weighted), rel=1e-4)
    assert third.event.earlier == counted.event.earlier


def test_a_calendar_of_a_revision_takes_a_time_zone(plan_file: Path) -> None:
    """--zone is there where --formats is, and a wrong one ends with exit 2."""
    assert rota("replan", plan_file, "--after", 1, "--zone", "Europe/Olso").exit_code == 2
    assert rota("next", plan_file, "--zone", "Europe/Olso").exit_code == 2
    plan = read_plan(plan_file)
    dated = replace(plan, event=replace(plan.event, date="2026-05-05"))
    plan_file.write_text(plan_to_json(dated), encoding="utf-8")
    zone = ("--formats", "ics", "--zone", "Europe/Oslo")
    result = rota("replan", plan_file, "--after", 1, *zone)
    assert result.exit_code == 0, result.output
    calendar = (plan_file.parent / "Tuesday A B-r2.ics").read_text(encoding="utf-8")
    assert "TZID=Europe/Oslo" in calendar


def test_a_score_of_a_match_somebody_never_came_to_counts_for_nobody(plan_file: Path) -> None:
    """It was played by other people than the sheet says: it is left out, said to be, and closed."""
    rota("replan", plan_file, "--after", 1, "--no-show", "P3")
    second = plan_file.parent / "Tuesday A B-r2.json"
    plan = read_plan(second)
    lacking = next(match for match in plan.rounds[0].matches if "P3" in match.players)
    scores = plan_file.with_name("scores.txt")
    plan_id = plan_to_dict(plan)["id"]
    lines = [f"rota {plan_id} R1C{number} 6-4\n" for number in (1, 2)]
    scores.write_text("".join(lines), encoding="utf-8")
    season = plan_file.with_name("club.db")
    told = CliRunner().invoke(
        app, ["scores", str(scores), "--season", str(season), "--plan", str(second), "--json"]
    )
    document = json.loads(told.stdout)
    key = f"R1C{int(lacking.court[1:]) + 1}"
    assert document["added"] == [other for other in ("R1C1", "R1C2") if other != key]
    left_out = f"{key} 6-4 is left out: P3 never came, so the score is of other people."
    assert left_out in document["remarks"]
    assert key not in document["open"]


def test_the_way_with_fewer_moves_is_offered_where_many_move(
    plan_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only where more move than are easily called out, and not to who asked for it already."""
    monkeypatch.setattr(night_options, "_MANY", 0)
    offer = "With --least-change as few people as possible move."
    leaves = ("--after", 1, "--absent", "P3")
    assert offer in rota("replan", plan_file, *leaves).stdout
    assert offer not in rota("replan", plan_file, *leaves, "--least-change").stdout
    monkeypatch.setattr(night_options, "_MANY", 9)
    assert offer not in rota("replan", plan_file, *leaves).stdout


def test_a_season_that_is_not_there_is_a_fault(plan_file: Path) -> None:
    """A misspelt season does not silently count nothing."""
    result = rota("replan", plan_file, "--after", 1, "--season", plan_file.with_name("nope.db"))
    assert result.exit_code == 1
    assert "nope.db" in result.stderr
    assert files(plan_file.parent) == {"plan.json"}
