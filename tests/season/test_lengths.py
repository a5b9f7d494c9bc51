"""Lengths noted in a season, and what estimates make of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from scheduler.cli.app import app
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.season.exchange import export_tables, import_tables
from scheduler.season.lengths import learned_pace, record_length
from scheduler.timing import RecordedMatch, learn_factor


def rota(*words: object) -> str:
    """Run a command that must succeed; return what it says."""
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_a_season_learns_what_the_pure_fit_learns(tmp_path: Path) -> None:
    """After every note the factor is that of all lengths so far, and slow clubs get more than 1."""
    season = tmp_path / "club.db"
    matches = [RecordedMatch(SetFormat.SHORT, GameFormat.AD, minutes) for minutes in (48, 52, 55)]
    for count, match in enumerate(matches, 1):
        assert record_length(season, match) == learn_factor(matches[:count])
    assert learned_pace(season).factor > 1.05


def test_the_command_counts_past_midnight_and_estimates_follow(tmp_path: Path) -> None:
    """Began 23:50 and ended 00:40 is 50 minutes; rota timing --season is slower after it."""
    season = tmp_path / "club.db"
    words = ("--set", "short set", "--began", "23:50", "--ended", "00:40")
    assert "50 minutes noted" in rota("season", "length", season, *words)
    usual = rota("timing", "--set", "short set", "--json")
    learned = rota("timing", "--set", "short set", "--json", "--season", season)
    assert usual != learned


@pytest.mark.parametrize("times", [("25:00", "18:00"), ("18:00", "soon")])
def test_a_time_that_is_none_is_told(tmp_path: Path, times: tuple[str, str]) -> None:
    """A wrong time is refused with the option it was given to, and no season is made."""
    words = ["season", "length", str(tmp_path / "club.db"), "--set", "short set"]
    result = CliRunner().invoke(app, [*words, "--began", times[0], "--ended", times[1]])
    assert result.exit_code == 1
    assert "--began" in result.stderr or "--ended" in result.stderr
    assert not (tmp_path / "club.db").exists()


def test_no_time_at_all_is_no_length(tmp_path: Path) -> None:
    """Began and ended at the same minute is refused, and nothing is written."""
    words = ["season", "length", str(tmp_path / "club.db"), "--set", "short set"]
    result = CliRunner().invoke(app, [*words, "--began", "18:00", "--ended", "18:00"])
    assert result.exit_code == 1
    assert not (tmp_path / "club.db").exists()


def test_lengths_survive_the_way_out_and_back(tmp_path: Path) -> None:
    """A season exported and imported knows the same pace."""
    season, again = tmp_path / "club.db", tmp_path / "again.db"
    record_length(season, RecordedMatch(SetFormat.SHORT, GameFormat.AD, 50.5))
    import_tables(export_tables(season), again, "a workbook")
    assert learned_pace(again) == learned_pace(season)
