"""From the grid of a sheet to validated rows, each knowing its cells."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Generic, TypeVar

from pydantic import ValidationError

from scheduler.domain.suggest import fold, hint, nearest
from scheduler.readers.cells import Cell, Findings, Grid, Unreadable, is_blank
from scheduler.readers.plain_words import in_words, quoted
from scheduler.readers.rows import Row, header_of

R = TypeVar("R", bound=Row)
_DECORATION = " *:?\t\r\n\u00a0\u200b\ufeff"


@dataclass(frozen=True, slots=True)
class Line:
    """The filled and the blank cells of one row by their column's header, and its first cell."""

    first: Cell
    cells: Mapping[str, Cell]
    blank: Mapping[str, Cell] = field(default_factory=dict)

    def cell(self, header: str) -> Cell:
        """Return the cell under a header, blank or not; the first one if there is no column."""
        found = self.cells.get(header) or self.blank.get(header)
        return found or replace(self.first, value=None)


@dataclass(frozen=True, slots=True)
class Record(Generic[R]):
    """A validated row.

    `data` is None where a required cell is faulty; a faulty cell that could be
    blank leaves its default in `data` and its header in `broken`.
    """

    line: Line
    data: R | None
    broken: frozenset[str]

    def cell(self, header: str) -> Cell:
        """Return the cell under a header."""
        return self.line.cell(header)


def read_records(grid: Grid, model: type[R], findings: Findings) -> list[Record[R]]:
    """Return every row of a sheet, validated; faults and unknown columns go to `findings`."""
    return [read_record(line, model, findings) for line in read_lines(grid, model, findings)]


def read_lines(grid: Grid, model: type[Row], findings: Findings) -> list[Line]:
    """Return the rows below the header as lines; none if the header has a fault."""
    known = headers(model)
    if not grid.rows:
        what = f"the sheet is empty; its first row must name the columns: {', '.join(known)}"
        findings.fault(grid.cell(1, 1), what)
        return []
    columns = _columns(grid, model, findings)
    if columns is None:
        return []
    if not model.has_notes_beside:
        _warn_of_headless_columns(grid, findings)
    lines = (_line(grid, row, values, columns) for row, values in grid.rows[1:])
    return [line for line in lines if line.cells]


def read_record(line: Line, model: type[R], findings: Findings) -> Record[R]:
    """Return one validated row."""
    values, broken = _readable_values(line, findings)
    try:
        return Record(line, model.model_validate(values), frozenset(broken))
    except ValidationError as error:
        for detail in error.errors(include_url=False):
            header = str(detail["loc"][0])
            if header not in broken:
                findings.fault(line.cell(header), f"{header.lower()} {in_words(detail)}")
            broken.add(header)
    kept = {header: value for header, value in values.items() if header not in broken}
    try:
        return Record(line, model.model_validate(kept), frozenset(broken))
    except ValidationError:
        return Record(line, None, frozenset(broken))


def headers(model: type[Row]) -> list[str]:
    """Return the headers a sheet may have, in the model's order."""
    return [header_of(field) for field in model.model_fields]


def _required(model: type[Row]) -> list[str]:
    return [header_of(name) for name, field in model.model_fields.items() if field.is_required()]


def _readable_values(line: Line, findings: Findings) -> tuple[dict[str, Any], set[str]]:
    values, broken = {}, set()
    for header, cell in line.cells.items():
        if isinstance(cell.value, Unreadable):
            findings.fault(cell, f"{header.lower()} {cell.value.why}")
            broken.add(header)
        else:
            values[header] = cell.value
    return values, broken


def _columns(grid: Grid, model: type[Row], findings: Findings) -> dict[str, int] | None:
    """Return the column of each known header, or None where the header has a fault."""
    known, columns, strangers, sound = headers(model), dict[str, int](), list[Cell](), True
    by_fold = {fold(header): header for header in known}
    for cell in _header_cells(grid):
        header = by_fold.get(fold(str(cell.value).strip(_DECORATION)))
        if header is None:
            strangers.append(cell)
        elif header in columns:
            findings.fault(cell, f"there are two columns called '{header}'")
            sound = False
        else:
            columns[header] = cell.column
    missing = [header for header in known if header not in columns]
    taken = _report_missing(
        grid, [h for h in _required(model) if h in missing], strangers, findings
    )
    for cell in strangers:
        if cell not in taken:
            advice = hint(str(cell.value), missing)
            findings.warn(
                cell, f"column {quoted(cell.value)} is not known and was not read{advice}"
            )
    return columns if sound and not any(h in missing for h in _required(model)) else None


def _header_cells(grid: Grid) -> list[Cell]:
    row, values = grid.rows[0]
    filled = [(column, value) for column, value in enumerate(values, 1) if not is_blank(value)]
    return [
        grid.cell(row, column, value.why if isinstance(value, Unreadable) else value)
        for column, value in filled
    ]


def _report_missing(
    grid: Grid, missing: list[str], strangers: list[Cell], findings: Findings
) -> list[Cell]:
    """Report each required column that is not there, at the header it may be meant by."""
    taken: list[Cell] = []
    for header in missing:
        near = [c for c in strangers if c not in taken and nearest(str(c.value), [header])]
        if near:
            what = f"there is no column {quoted(near[0].value)} here; did you mean '{header}'?"
            findings.fault(near[0], what)
            taken.append(near[0])
        else:
            findings.fault(grid.cell(grid.rows[0][0], 1), f"the column '{header}' is missing")
    return taken


def _warn_of_headless_columns(grid: Grid, findings: Findings) -> None:
    _, heading = grid.rows[0]
    reported: set[int] = set()
    for row, values in grid.rows[1:]:
        for column, value in enumerate(values, 1):
            headless = column > len(heading) or is_blank(heading[column - 1])
            if headless and not is_blank(value) and column not in reported:
                reported.add(column)
                what = "stands in a column without a header, which was not read"
                findings.warn(grid.cell(row, column), what)


def _line(grid: Grid, row: int, values: tuple[Any, ...], columns: dict[str, int]) -> Line:
    cells, blank = dict[str, Cell](), dict[str, Cell]()
    for header, column in columns.items():
        value = values[column - 1] if column <= len(values) else None
        place = blank if is_blank(value) else cells
        place[header] = grid.cell(row, column, None if is_blank(value) else value)
    return Line(grid.cell(row, min(columns.values())), cells, blank)
