"""A sheet of settings: two columns, taken as the one row they are."""

from __future__ import annotations

from typing import TypeVar

from scheduler.domain.suggest import fold, hint
from scheduler.readers.cells import Cell, Findings, Grid
from scheduler.readers.fields import as_text
from scheduler.readers.plain_words import quoted
from scheduler.readers.records import Line, Record, headers, read_lines, read_record
from scheduler.readers.rows import Row, SettingRow

R = TypeVar("R", bound=Row)


def read_settings(grid: Grid | None, model: type[R], findings: Findings) -> Record[R] | None:
    """Return the settings with their cells, or None where the sheet's header has a fault."""
    if grid is None:
        return None
    lines = read_lines(grid, SettingRow, findings)
    if findings.has_faults_in(grid.order):
        return None
    cells: dict[str, Cell] = {}
    for line in lines:
        _take(line, model, cells, findings)
    filled = {name: cell for name, cell in cells.items() if cell.value is not None}
    blank = {name: cell for name, cell in cells.items() if cell.value is None}
    top = grid.cell(grid.rows[0][0], 1)
    return read_record(Line(top, filled, blank), model, findings)


def _take(line: Line, model: type[Row], cells: dict[str, Cell], findings: Findings) -> None:
    """Add one line of the sheet to the settings found so far."""
    known = {fold(name): name for name in headers(model)}
    label = line.cell("Setting")
    try:
        text = as_text(label.value).rstrip(" *:") if label.value is not None else ""
    except ValueError as error:
        findings.fault(label, f"setting {error}")
        return
    name = known.get(fold(text))
    if name is None:
        advice = hint(text, [name for name in known.values() if name not in cells])
        what = f"setting {quoted(text)} is not known and was not read{advice}"
        findings.warn(label, what if text else "a value without a setting was not read")
    elif name in cells:
        findings.fault(label, f"the setting '{name}' is already in {cells[name].where}")
    else:
        cells[name] = line.cell("Value")
