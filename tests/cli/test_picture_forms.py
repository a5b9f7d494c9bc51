"""``rota sheets --formats met-png,time-png``: pictures from the plan file alone."""

from __future__ import annotations

import json
from pathlib import Path

from PIL import Image
from typer.testing import CliRunner

from scheduler import doubles_evening, make_plan, write_plan
from scheduler.cli.app import app


def test_both_pictures_are_written_and_carry_the_plans_id(tmp_path: Path) -> None:
    """Each picture lands under the event's name and says inside which plan it shows."""
    event = doubles_evening(8, courts=2, rounds=2)
    (plan_file,) = write_plan(make_plan(event, effort="quick"), tmp_path, formats=["json"])
    result = CliRunner().invoke(
        app, ["sheets", str(plan_file), "--formats", "met-png,time-png", "--out", str(tmp_path)]
    )
    assert result.exit_code == 0, result.output
    identity = json.loads(plan_file.read_text(encoding="utf-8"))["id"]
    for what in ("who met whom", "time on court"):
        with Image.open(tmp_path / f"{event.name} {what}.png") as image:
            assert image.info["Description"] == f"plan {identity}, revision 1"
