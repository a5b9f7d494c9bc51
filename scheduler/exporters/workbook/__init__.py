"""The workbook people pin up: grids, court sheets, everybody's evening, quality."""

from __future__ import annotations

from pathlib import Path

from scheduler.domain.plan import Plan
from scheduler.exporters.files import write_whole


def workbook_of(plan: Plan, paper: str = "a4") -> bytes:
    """Return the whole workbook of a plan as the bytes of an ``.xlsx`` file.

    The same plan gives the same bytes.

    Parameters
    ----------
    plan
        The plan.
    paper
        ``"a4"`` or ``"letter"``.

    Raises
    ------
    ValueError
        If the paper is neither of the two.
    """
    from scheduler.exporters.workbook.book import build  # noqa: PLC0415  openpyxl is slow to import

    return build(plan, paper)


def write_workbook(plan: Plan, path: Path, paper: str = "a4") -> None:
    """Write the whole workbook of a plan to a file, or nothing.

    Raises
    ------
    ValueError
        If the paper is neither ``"a4"`` nor ``"letter"``.
    OSError
        If the file cannot be written; what stood there still stands.
    """
    write_whole(path, workbook_of(plan, paper))
