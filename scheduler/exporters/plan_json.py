"""The plan file, from which everything else can be written again."""

from __future__ import annotations

from pathlib import Path

from scheduler.domain.codec import plan_to_json
from scheduler.domain.plan import Plan
from scheduler.exporters.files import write_whole


def write_plan(plan: Plan, path: Path) -> None:
    """Write the plan document as UTF-8, whole or not at all.

    Raises
    ------
    OSError
        If the file cannot be written; what stood there still stands.
    """
    write_whole(path, plan_to_json(plan).encode("utf-8", "replace"))
