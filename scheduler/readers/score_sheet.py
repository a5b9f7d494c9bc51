"""Reading typed scores from a workbook or a csv file, wherever the table stands in it.

The table is known by its heads, not by its place: columns may have been moved,
rows sorted, lines put above, the sheet renamed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scheduler.domain.errors import BadInput
from scheduler.domain.score_text import Mark, SetScore
from scheduler.domain.suggest import fold, nearest
from scheduler.readers.cells import Cell, Findings, Grid, Unreadable, is_blank
from scheduler.readers.csv_file import read_csv
from scheduler.readers.score_cells import Uncertain, read_mark, read_pair, read_score
from scheduler.readers.stated_plan import stated_plan_id
from scheduler.readers.workbook_file import WorkbookFile

SCORES = "Scores"
MATCH, ROUND, COURT = "Match", "Round", "Court"
TEAM_A, TEAM_B = "Team A", "Team B"
SCORE_A, SCORE_B, SCORE, CUT_SHORT = "Score A", "Score B", "Score", "If cut short"
HEADS = (MATCH, ROUND, COURT, TEAM_A, SCORE_A, SCORE_B, SCORE, TEAM_B, CUT_SHORT)
_SCORE_HEADS = frozenset({SCORE_A, SCORE_B, SCORE})
_BY_FOLD = {fold(head): head for head in HEADS}


@dataclass(frozen=True, slots=True)
class ScoreRow:
    """One row with a match.

    Parameters
    ----------
    match, round, court, team_a, team_b
        What the row says of itself; empty where there is no such column.
    sets, mark
        What was typed.
    cells
        The row's cells by head, for messages.
    """

    match: str
    round: str
    court: str
    team_a: str
    team_b: str
    sets: tuple[SetScore, ...]
    mark: Mark | None
    cells: Mapping[str, Cell]

    def cell(self, *heads: str) -> Cell:
        """Return the cell under the first of the heads there is."""
        there = [self.cells[head] for head in heads if head in self.cells]
        return there[0] if there else next(iter(self.cells.values()))

    @property
    def score_cell(self) -> Cell:
        """The cell where the score begins."""
        return self.cell(SCORE_A, SCORE)


@dataclass(frozen=True, slots=True)
class ScoreSheet:
    """Typed scores; `plan_id` is empty where the file does not say which plan it belongs to.

    `findings` has the faults of single cells; their rows are left out.
    """

    plan_id: str
    rows: tuple[ScoreRow, ...]
    findings: Findings
    remarks: tuple[str, ...] = ()


def read_score_workbook(path: Path) -> ScoreSheet:
    """Return the scores typed into a workbook.

    Raises
    ------
    BadInput
        If it is no workbook, or no sheet, or more than one, has a table of scores.
    """
    titles = WorkbookFile(path, []).other_titles
    likely = [title for title in titles if fold(title).startswith(fold(SCORES)[:5])]
    tables = _tables(path, likely) or _tables(path, [t for t in titles if t not in likely])
    grid, at = _the_one(path, tables)
    others = [
        title
        for title, table in tables.items()
        if title != grid.title and not _missing(_heads(*table))
    ]
    remarks = [f"Sheet '{title}' has scores as well and was not read." for title in others]
    return _read(grid, at, stated_plan_id(path), tuple(remarks))


def read_score_csv(path: Path) -> ScoreSheet:
    """Return the scores typed into a csv file with the columns of the Scores sheet.

    Raises
    ------
    BadInput
        If it is no csv file or has no table of scores.
    """
    grid = read_csv(path)
    at = _head_row(grid)
    if at is None:
        raise BadInput.one(path.name, _no_table())
    return _read(grid, at, "", ())


def _tables(path: Path, titles: Sequence[str]) -> dict[str, tuple[Grid, int]]:
    if not titles:
        return {}
    grids = WorkbookFile(path, titles).grids.values()
    found = ((grid, _head_row(grid)) for grid in grids)
    return {grid.title: (grid, at) for grid, at in found if at is not None}


def _the_one(path: Path, tables: Mapping[str, tuple[Grid, int]]) -> tuple[Grid, int]:
    # Court sheets have a column to write scores in by hand, but do not name the matches.
    whole = {title: table for title, table in tables.items() if not _missing(_heads(*table))}
    tables = whole or tables
    if len(tables) == 1:
        return next(iter(tables.values()))
    for title, table in tables.items():
        if fold(title) == fold(SCORES):
            return table
    if tables:
        listed = ", ".join(f"'{title}'" for title in tables)
        what = f"the sheets {listed} all hold scores; name the right one '{SCORES}'"
        raise BadInput.one(path.name, what)
    raise BadInput.one(path.name, _no_table())


def _no_table() -> str:
    return (
        f"no table of scores was found: a row must name the columns {MATCH}, {SCORE_A} and "
        f"{SCORE_B}"
    )


def _head_row(grid: Grid) -> int | None:
    """Return the index of the row that has most of the heads, the score's among them."""
    best, most = None, 1
    for at in range(len(grid.rows)):
        known = _heads(grid, at)
        if known & _SCORE_HEADS and len(known) > most:
            best, most = at, len(known)
    return best


def _heads(grid: Grid, at: int) -> set[str]:
    """Return the known heads in a row, given by its index."""
    heads = (_BY_FOLD.get(_folded(value)) for value in grid.rows[at][1])
    return {head for head in heads if head}


def _folded(value: Any) -> str:
    return "" if value is None or isinstance(value, Unreadable) else fold(str(value).strip(" *:?"))


def _read(grid: Grid, at: int, plan_id: str, remarks: tuple[str, ...]) -> ScoreSheet:
    findings = Findings()
    columns = _columns(grid, at, findings)
    findings.raise_faults()
    rows = []
    for number, values in grid.rows[at + 1 :]:
        cells = {head: _cell(grid, number, column, values) for head, column in columns.items()}
        if all(cell.value is None for cell in cells.values()):
            continue
        row = _row(cells, findings)
        if row is not None:
            rows.append(row)
    return ScoreSheet(plan_id, tuple(rows), findings, remarks)


def _columns(grid: Grid, at: int, findings: Findings) -> dict[str, int]:
    number, values = grid.rows[at]
    columns: dict[str, int] = {}
    strangers: list[Cell] = []
    for column, value in enumerate(values, start=1):
        head = _BY_FOLD.get(_folded(value))
        if head is None:
            strangers += [] if is_blank(value) else [grid.cell(number, column, value)]
        elif head in columns:
            findings.fault(grid.cell(number, column), f"there are two columns called '{head}'")
        else:
            columns[head] = column
    for head in _missing(columns):
        near = [cell for cell in strangers if nearest(str(cell.value), [head])]
        where = near[0] if near else grid.cell(number, 1)
        advice = f"; is it '{near[0].value}'? Then name it '{head}'" if near else ""
        findings.fault(where, f"the column '{head}' is missing{advice}")
    return columns


def _missing(columns: Iterable[str]) -> list[str]:
    have = set(columns)
    missing = [] if MATCH in have or {ROUND, COURT} <= have else [MATCH]
    if SCORE not in have:
        missing += [head for head in (SCORE_A, SCORE_B) if head not in have]
    return missing


def _cell(grid: Grid, row: int, column: int, values: Sequence[Any]) -> Cell:
    value = values[column - 1] if column <= len(values) else None
    return grid.cell(row, column, None if is_blank(value) else value)


def _row(cells: Mapping[str, Cell], findings: Findings) -> ScoreRow | None:
    """Return what a row says, or None after noting what is not certain in it."""
    sound, mark = True, None
    sets: tuple[SetScore, ...] = ()
    try:
        sets = _sets(cells)
    except Uncertain as error:
        head = SCORE_B if error.second else SCORE_A if SCORE_A in cells else SCORE
        findings.fault(cells[head], f"{head.lower()} {error}")
        sound = False
    try:
        mark = read_mark(cells[CUT_SHORT].value) if CUT_SHORT in cells else None
    except Uncertain as error:
        findings.fault(cells[CUT_SHORT], f"{CUT_SHORT.lower()} {error}")
        sound = False
    if not sound:
        return None
    texts = {head: _text(cell) for head, cell in cells.items()}
    return ScoreRow(
        match=texts.get(MATCH, "").upper(),
        round=texts.get(ROUND, ""),
        court=texts.get(COURT, ""),
        team_a=texts.get(TEAM_A, ""),
        team_b=texts.get(TEAM_B, ""),
        sets=sets,
        mark=mark,
        cells=cells,
    )


def _sets(cells: Mapping[str, Cell]) -> tuple[SetScore, ...]:
    if SCORE_A in cells and SCORE_B in cells:
        pair = read_pair(cells[SCORE_A].value, cells[SCORE_B].value)
        if pair or SCORE not in cells:
            return pair
    return read_score(cells[SCORE].value)


def _text(cell: Cell) -> str:
    if cell.value is None or isinstance(cell.value, Unreadable):
        return ""
    value = cell.value
    is_whole = isinstance(value, float) and value.is_integer()
    return str(int(value) if is_whole else value).strip()
