"""How good the plan is, in plain words; what to mind; where the plan comes from."""

from __future__ import annotations

from collections.abc import Iterable

from scheduler.exporters.text import number
from scheduler.exporters.wording import MeasureLine
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

QUALITY_WIDTHS: list[float] = [20, 62, 10, 12]


def write_quality(sheet: Sheet) -> None:
    """Lay out measures, warnings, cautions, the organiser's notes and the plan's id."""
    view = sheet.view
    sheet.heading("How good is this plan?", view.name)
    sheet.head(["About", "In words", "Figure", "Proven limit"], left=2)
    for line in view.measures:
        _write_measure(sheet, line)
    _block(sheet, "To know before you start", view.warnings)
    _block(sheet, "Take care", view.cautions)
    _block(sheet, "Notes", [view.notes] if view.notes else [])
    _block(sheet, "About this workbook", [view.play, f"Made from {view.identity}."])
    sheet.finish(landscape=False)


def _write_measure(sheet: Sheet, line: MeasureLine) -> None:
    bound = "none known" if line.bound is None else number(line.bound)
    cells = [(1, line.title, Look.NAME), (2, line.sentence, Look.CELL_LEFT)]
    for column, value, look in cells:
        sheet.text(column, value, look)
    sheet.text(3, number(line.value), Look.CELL)
    sheet.text(4, bound, Look.CELL)
    sheet.fit_height(cells)
    sheet.row += 1


def _block(sheet: Sheet, title: str, lines: Iterable[str]) -> None:
    lines = list(lines)
    if not lines:
        return
    sheet.row += 1
    sheet.banner(title, Look.TITLE)
    for line in lines:
        sheet.banner(line, Look.TEXT)
