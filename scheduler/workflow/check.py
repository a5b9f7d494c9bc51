"""Judging a plan file, alone or beside the event workbook it is said to be for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from scheduler.checker import Verdict, check
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.event import Event
from scheduler.domain.plan import Measure, Plan
from scheduler.readers.plan_file import PlanFile, read_plan_file
from scheduler.workflow.strays import still_there, strays

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Checked:
    """A plan read from a file, what the checker says of it, and what else is worth knowing.

    Parameters
    ----------
    plan
        The plan as the file has it, its measures replaced by those counted
        again, each beside the bound the file states.
    verdict
        The checker's verdict, the file's disagreements with itself included.
    remarks
        Sentences that are no faults of the plan: an id that is not the
        file's, sheets beside it that were made from another plan, doubts
        about the workbook.
    """

    plan: Plan
    verdict: Verdict
    remarks: tuple[str, ...]


def check_plan_file(plan_file: Path, event_file: Path | None = None) -> Checked:
    """Judge the plan in a file.

    Raises
    ------
    BadInput
        If a file cannot be read; with the faults of both files.
    """
    faults: list[Fault] = []
    read = _read(lambda: read_plan_file(plan_file), faults)
    given = _read(lambda: _read_event(event_file), faults) if event_file is not None else None
    if faults or read is None:
        raise BadInput(faults)
    event, doubts = given if given is not None else (None, ())
    verdict = _with_disagreements(read, check(read.plan, event))
    remarks = [] if read.id_matches else [_wrong_id(plan_file, read)]
    found = strays(read.plan, plan_file, plan_file.parent)
    if found:
        remarks.append(still_there(found, plan_file))
    return Checked(_as_counted(read.plan, verdict), verdict, (*remarks, *doubts))


def _read(reader: Callable[[], T], faults: list[Fault]) -> T | None:
    try:
        return reader()
    except BadInput as error:
        faults.extend(error.faults)
        return None


def _read_event(path: Path) -> tuple[Event, tuple[str, ...]]:
    from scheduler.readers.event_workbook import read_event  # noqa: PLC0415  openpyxl is slow

    read = read_event(path)
    return read.event, read.warnings


def _with_disagreements(read: PlanFile, verdict: Verdict) -> Verdict:
    faults = (*map(str, read.disagreements), *verdict.faults)
    return Verdict(not faults, faults, verdict.measures)


def _wrong_id(path: Path, read: PlanFile) -> str:
    return (
        f"{path.name} does not fit its id {read.stated_id}: it was changed since it was written, "
        "so sheets printed before may say something else"
    )


def _as_counted(plan: Plan, verdict: Verdict) -> Plan:
    names = [*(name for name in plan.measures if name in verdict.measures), *verdict.measures]
    counted = {
        name: replace(plan.measures.get(name, Measure(0)), value=verdict.measures[name])
        for name in dict.fromkeys(names)
    }
    return replace(plan, measures=counted)
