"""``rota timing`` as a user meets it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from scheduler.cli.app import app
from scheduler.domain.formats import SetFormat
from scheduler.timing import ORIGINS


def run(*options: str) -> Result:
    """Run the command."""
    return CliRunner().invoke(app, ["timing", *options])


def answer(*options: str) -> dict[str, Any]:
    """Return the command's JSON document."""
    result = run(*options, "--json")
    assert result.exit_code == 0, result.output
    document: dict[str, Any] = json.loads(result.stdout)
    return document


def test_json_has_the_promised_keys() -> None:
    """The document holds chances, means and minutes under their names."""
    document = answer("--points-won", "0.6,0.55")
    assert document["game_chance"] == pytest.approx([0.735729, 0.623149], abs=1e-6)
    assert document["set_chance"] == pytest.approx(1 - 0.330522, abs=1e-6)
    assert document["tie_break_chance"] == pytest.approx(1 - 0.420433, abs=1e-6)
    assert document["games_mean"] > 9
    assert document["points_mean"] > 60
    minutes = document["minutes"]
    assert minutes["median"] < minutes["p80"] < minutes["p95"]


@pytest.mark.parametrize("set_format", SetFormat)
@pytest.mark.parametrize("game", ["ad", "no-ad"])
def test_every_format_answers(set_format: SetFormat, game: str) -> None:
    """Every format gives numbers in their ranges, as JSON and in words."""
    options = ("--set", set_format, "--game", game, "--levels", "3.0,3.5/4.0,2.5", "--courts", "3")
    document = answer(*options)
    chances = [*document["game_chance"], document["tie_break_chance"], document["set_chance"]]
    assert all(0 < chance < 1 for chance in chances)
    assert document["minutes"]["median"] >= document["minutes_one_court"]["median"]
    assert run(*options).exit_code == 0


def test_origins_stand_beside_the_defaults() -> None:
    """Every default is shown with its origin, and a changed one as given."""
    shown = answer("--rally", "9")["defaults"]
    assert shown["between_points"]["origin"] == ORIGINS["between_points"]
    assert (shown["rally"]["value"], shown["rally"]["origin"]) == (9, "given")
    text = run("--rally", "9").stdout
    assert "ITF Rule 29, upper limit" in text
    assert "as given" in text


def test_levels_own_up_to_being_invented() -> None:
    """Chances from levels say that the relation is an invented default."""
    for options in ((), ("--levels", "3,3/4,4")):
        assert "invented default" in run(*options).stdout
    assert "invented" not in run("--points-won", "0.6,0.5").stdout


def test_fit_lists_formats_against_the_minutes() -> None:
    """A match tie-break fits 25 minutes on four courts with 95 %, a full set does not."""
    found = answer("--fit", "25", "--courts", "4")["fit"]
    fits = {(row["set"], row["game"]): (row["fits_80"], row["fits_95"]) for row in found["formats"]}
    assert fits["match tie-break 10", "ad"] == (True, True)
    assert fits["tie-break set", "ad"] == (False, False)
    for row in found["formats"]:
        assert row["fits_80"] == (row["minutes"]["p80"] <= 25)
        assert row["fits_95"] == (row["minutes"]["p95"] <= 25)
    assert sum(found["timed"]["games"]) == pytest.approx(1)
    text = run("--fit", "25", "--courts", "4").stdout
    assert "all four equally often" in text


def test_fit_can_be_narrowed() -> None:
    """With --set and --game only those formats are listed."""
    found = answer("--fit", "30", "--set", "short set", "--game", "no-ad")["fit"]["formats"]
    assert [(row["set"], row["game"]) for row in found] == [("short set", "no-ad")]


def test_four_servers_can_differ() -> None:
    """Chances for each server come in teams, and are answered in serving order."""
    document = answer("--points-won", "0.7,0.5/0.6,0.55")
    assert document["points_won"] == [0.7, 0.6, 0.5, 0.55]
    assert document["game_chance_by_server"][0] > document["game_chance_by_server"][2]


def test_endless_set_is_null_minutes_and_words() -> None:
    """Where most sets go on beyond what is listed, minutes are null and said to have no end."""
    options = ("--points-won", "0.95,0.95", "--set", "advantage set")
    assert answer(*options)["minutes"]["median"] is None
    assert "no end in sight" in run(*options).stdout


def test_certain_servers_can_play_a_timed_round() -> None:
    """A timed round ends by the bell even where a tie-break would never end."""
    options = ("--points-won", "1,1", "--set", "timed")
    assert answer(*options)["tie_break_chance"] is None
    assert run(*options).exit_code == 0


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--points-won", "-0.1,0.5"), "got -0.1"),
        (("--points-won", "1.2,0.5"), "got 1.2"),
        (("--points-won", "nan,0.5"), "got nan"),
        (("--points-won", "60,55"), "write 60 % as 0.6"),
        (("--points-won", ""), "must be two chances"),
        (("--points-won", "0.5"), "must be two chances"),
        (("--points-won", "a,b"), 'got "b"'),
        (("--points-won", "1,1"), "never ends"),
        (("--levels", "3,3/4,11"), "from 1 to 10, got 11"),
        (("--levels", "3,3,4,4"), "two levels for each team"),
        (("--fit", "0"), "above 0"),
        (("--fit", "nan"), "above 0"),
        (("--set", "timed", "--minutes", "-1"), "above 0"),
        (("--rally", "-1"), "rally"),
        (("--factor", "nan"), "factor"),
    ],
)
def test_bad_values_are_said_in_words(options: tuple[str, ...], said: str) -> None:
    """Bad chances, levels, minutes and seconds end with exit code 1 and a sentence."""
    result = run(*options)
    assert result.exit_code == 1
    assert said in result.stderr
    assert result.stdout == ""
    as_json = run(*options, "--json")
    assert as_json.exit_code == 1
    assert any(said in f"{f['where']} {f['what']}" for f in json.loads(as_json.stdout)["faults"])


@pytest.mark.parametrize(
    "options",
    [
        ("--points-won", "0.5,0.5", "--levels", "3,3/3,3"),
        ("--minutes", "20"),
        ("--minutes", "20", "--set", "short set"),
        ("--fit", "20", "--minutes", "25"),
        ("--courts", "0"),
        ("--set", "best of nine"),
        ("--fit", "soon"),
    ],
)
def test_contradictions_are_usage_errors(options: tuple[str, ...]) -> None:
    """Options that cannot both be meant, or mean nothing, end with exit code 2."""
    assert run(*options).exit_code == 2


@pytest.mark.skipif(sys.platform == "win32", reason="children's times are not kept there")
def test_answers_within_a_second() -> None:
    """The command needs under a second of computing, start-up included (best of three).

    Computing and not waiting is measured, so that a busy machine does not
    fail it.
    """
    command = [sys.executable, "-m", "scheduler", "timing", "--fit", "25", "--courts", "4"]
    took = []
    for _ in range(3):
        before = os.times()
        subprocess.run(command, check=True, capture_output=True)
        after = os.times()
        took.append(
            after.children_user
            - before.children_user
            + after.children_system
            - before.children_system
        )
    assert 0 < min(took) < 1
