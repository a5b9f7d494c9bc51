"""The workbook people pin up: grids, court sheets, everybody's evening, quality."""

from __future__ import annotations

from pathlib import Path

from scheduler.domain.plan import Plan

PAPERS = ("a4", "letter")


def write_workbook(plan: Plan, path: Path, paper: str = "a4") -> None:
    """Write the whole workbook of a plan, or nothing.

    Parameters
    ----------
    plan
        The plan.
    path
        The ``.xlsx`` file to write.
    paper
        ``"a4"`` or ``"letter"``.

    Raises
    ------
    ValueError
        If the paper is neither of the two.
    OSError
        If the file cannot be written; what stood there still stands.
    """
    from scheduler.exporters.files import write_whole  # noqa: PLC0415  openpyxl is slow to import
    from scheduler.exporters.workbook.book import workbook_of  # noqa: PLC0415

    write_whole(path, workbook_of(plan, paper))
