"""The plan a file was made from: its id, and where a workbook says it."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.packaging.custom import StringProperty

from scheduler.domain.codec import plan_to_dict
from scheduler.domain.plan import Plan
from scheduler.readers.stated_plan import PLAN_PROPERTY


def plan_id(plan: Plan) -> str:
    """Return the id of a plan, as everything written from it carries it."""
    return str(plan_to_dict(plan)["id"])


def state_plan(book: Workbook, plan_id: str, revision: int) -> None:
    """Let a workbook say which plan it was made from, wherever its sheets and cells end up."""
    custom = book.custom_doc_props  # type: ignore[attr-defined]  # missing in the stubs
    for name, value in ((PLAN_PROPERTY, plan_id), ("rota plan revision", str(revision))):
        custom.append(StringProperty(name=name, value=value))
