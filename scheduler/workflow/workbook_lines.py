"""The scores typed into a workbook, as the lines a phone would copy out."""

from __future__ import annotations

from pathlib import Path

from scheduler.domain.codec import plan_to_dict
from scheduler.domain.errors import BadInput
from scheduler.domain.plan import Plan
from scheduler.domain.score_text import ScoreLine
from scheduler.workflow.score_rows import typed_in_rows


def lines_of_workbook(file: Path, plan: Plan) -> list[str]:
    """Return a line for every match of the plan that has a score in the workbook.

    The workbook may be one of an earlier revision; a row whose teams are not
    those of the plan is a fault if it has a score.

    Raises
    ------
    BadInput
        With every fault, each with its cell, or if no score is typed at all.
    """
    from scheduler.readers.score_sheet import (  # noqa: PLC0415  openpyxl is slow to import
        read_score_workbook,
    )

    sheet = read_score_workbook(file)
    typed = typed_in_rows(plan, sheet.rows, sheet.findings)
    if sheet.findings.faults:
        raise BadInput(sheet.findings.faults)
    plan_id = str(plan_to_dict(plan)["id"])
    lines = [str(ScoreLine(plan_id, s.match, s.sets, s.mark)) for s in typed if s.sets]
    if not lines:
        raise BadInput.one(file.name, "has no score yet; type some and save it first")
    return lines
