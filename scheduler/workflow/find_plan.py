"""Finding the plan that typed scores belong to."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from scheduler.domain.errors import BadInput
from scheduler.domain.plan import Plan
from scheduler.readers.plan_file import plan_of_text, read_plan_file
from scheduler.readers.stated_plan import stated_plan_id

_PLAN = "plan.json"


def find_plan(scores: Path, plan_id: str, named: Path | None, remembered: str | None) -> Plan:
    """Return the plan of a file with scores.

    Looked for in this order: the file named on the command line, the plan of
    that id the season remembers, a plan file of that id beside the scores, and
    ``plan.json`` beside them where the scores do not say their plan's id.

    Parameters
    ----------
    scores
        The file with the scores.
    plan_id
        The id they state; "" if none.
    named
        The plan file the user named.
    remembered
        The document the season has of the plan with that id.

    Raises
    ------
    BadInput
        If there is none, or the one named has another id.
    """
    if named is not None:
        return _checked(named, plan_id)
    if remembered is not None:
        return plan_of_text(remembered, scores).plan
    if plan_id:
        for path in _plan_files(scores.parent):
            if stated_plan_id(path) == plan_id:
                return _checked(path, plan_id)
        what = f"is for plan {plan_id}, which is not beside it; name its file with --plan"
        raise BadInput.one(scores.name, what)
    beside = scores.parent / _PLAN
    if beside.exists():
        return _checked(beside, "")
    what = f"does not say its plan and there is no {_PLAN} beside it; name one with --plan"
    raise BadInput.one(scores.name, what)


def _checked(path: Path, plan_id: str) -> Plan:
    read = read_plan_file(path)
    if read.disagreements:
        raise BadInput(read.disagreements)
    if not read.id_matches:
        what = f"was changed since it was written (its id {read.stated_id} does not fit)"
        raise BadInput.one(path.name, f"{what}; rota check tells more")
    if plan_id and read.stated_id != plan_id:
        what = f"is plan {read.stated_id}, but the scores are for plan {plan_id}"
        raise BadInput.one(path.name, f"{what}; rota sheets PLAN.json writes a workbook anew")
    return read.plan


def _plan_files(folder: Path) -> Iterator[Path]:
    usual = folder / _PLAN
    if usual.exists():
        yield usual
    yield from (path for path in sorted(folder.glob("*.json")) if path != usual)
