"""``rota plan --compare --picture``: the curve as a file on request."""

from __future__ import annotations

from pathlib import Path

from PIL import Image
from typer.testing import CliRunner

from scheduler.cli.app import app

LEVELS = (1, 2, 3, 4, 6, 7, 8, 10)


def rota(*words: object) -> object:
    """Run ``rota plan`` with these words."""
    return CliRunner().invoke(app, ["plan", *map(str, words)])


def players(folder: Path) -> Path:
    """Write a players list of eight."""
    path = folder / "players.csv"
    rows = (f"Player {number},{level}" for number, level in enumerate(LEVELS, start=1))
    path.write_text("\n".join(["Name,Level", *rows]), encoding="utf-8")
    return path


def test_the_curve_is_drawn_beside_the_table(tmp_path: Path) -> None:
    """The table is printed as without a picture, the file is a PNG, and no plan is written."""
    words = (players(tmp_path), "--courts", 2, "--rounds", 2, "--minutes", 20, "--compare")
    picture = tmp_path / "curve.png"
    result = rota(*words, "--picture", picture, "--effort", "quick")
    assert result.exit_code == 0, result.output
    assert "opponent repeats" in result.stdout
    with Image.open(picture) as image:
        assert image.format == "PNG"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["curve.png", "players.csv"]


def test_a_picture_without_compare_is_a_usage_error(tmp_path: Path) -> None:
    """There is no curve to draw for one plan: exit code 2, nothing written."""
    result = rota(
        players(tmp_path), "--courts", 2, "--rounds", 2, "--minutes", 20, "--picture", "x.png"
    )
    assert result.exit_code == 2
    assert "--compare" in result.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["players.csv"]
