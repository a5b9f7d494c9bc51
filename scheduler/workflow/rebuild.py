"""Writing the sheets of a plan file again: those asked for, and what a cut short set left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.checker import check
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.plan import Plan
from scheduler.readers.plan_file import PlanFile, read_plan_file
from scheduler.workflow.sheets import DEFAULT_FORMATS, FORMS, Wanted, write_forms
from scheduler.workflow.strays import CARDS, Stray, stem_of, still_there, strays, written_again

_NEVER_REPLACED = frozenset({CARDS, "json"})
"""Cards have sizes of their own to choose from, and a plan is never lost to another."""


@dataclass(frozen=True, slots=True)
class Written:
    """The files written, and the sentences the user should know of."""

    plan: Plan
    files: tuple[Path, ...]
    remarks: tuple[str, ...]


def write_sheets(
    plan_file: Path,
    folder: Path | None,
    formats: Sequence[str] | None,
    paper: str,
    zone: str = "",
) -> Written:
    """Write the sheets of a plan file again, beside it or in another folder.

    Parameters
    ----------
    plan_file, folder
        The plan, and where to write; beside it if None.
    formats
        What to write. If None, workbook and page, and every form that stands
        there from another plan.
    paper, zone
        As for `scheduler.workflow.sheets.write_forms`.

    Raises
    ------
    BadInput
        If the file holds no plan, or the checker refuses it; nothing is written.
    OSError
        If a file cannot be written.
    """
    read = read_plan_file(plan_file)
    faults = [*read.disagreements, *(Fault("", text) for text in check(read.plan).faults)]
    if faults:
        raise BadInput(faults)
    where = plan_file.parent if folder is None else folder
    found = strays(read.plan, plan_file, where)
    wanted = Wanted(paper, zone)
    forms = _with_strays(read.plan, found, wanted) if formats is None else tuple(formats)
    stem = stem_of(read.plan, plan_file, where)
    files = write_forms(read.plan, where, forms, paper, zone, stem=stem)
    return Written(read.plan, files, tuple(_remarks(read, plan_file, found, forms)))


def _with_strays(plan: Plan, found: Iterable[Stray], wanted: Wanted) -> tuple[str, ...]:
    """Return the usual forms, and those of strays that this plan can have as well."""
    more = (stray.form for stray in found if stray.form not in {*_NEVER_REPLACED, *DEFAULT_FORMATS})
    return (*DEFAULT_FORMATS, *(form for form in more if _can_be_made(plan, form, wanted)))


def _can_be_made(plan: Plan, form: str, wanted: Wanted) -> bool:
    try:
        FORMS[form].make(plan, wanted)
    except BadInput:  # no date for a calendar, no library for a picture
        return False
    return True


def _remarks(
    read: PlanFile, plan_file: Path, found: Sequence[Stray], forms: Iterable[str]
) -> Iterator[str]:
    if not read.id_matches:
        what = "was changed since it was written: the sheets carry a new plan id."
        yield f"{plan_file.name} {what}"
    replaced = [stray for stray in found if stray.form in forms]
    if replaced:
        yield written_again(replaced)
    left = [stray for stray in found if stray not in replaced]
    if left:
        yield still_there(left, plan_file)
