"""One sheet of the workbook: text that stays text, shared styles, pages that fit.

Everything people typed goes in through `Sheet.text`, which stores it as a
string whatever it begins with; only `Sheet.formula` writes formulas, and those
are built from the program's own cell addresses.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

from openpyxl.cell import Cell
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.exporters.text import lines_needed
from scheduler.exporters.view import View
from scheduler.exporters.workbook.paper import LONELY, MARGINS, Paper, pages_high
from scheduler.exporters.workbook.style import BOLD, POINTS, Look

_LINE = 1.36  # height of a line over the size of its letters, as the tallest fonts need it
_RISKY_START = ("=", "+", "-", "@")
_TALLEST_ROW = 400.0  # points; a spreadsheet allows 409
_MOST_CHARACTERS = 32_000  # a cell holds 32767
_LONGEST_IN_HEADER = 60
_HEADER_SIZE = 9
_LETTERS, _BOLD_LETTERS = 1.1, 0.95  # average letters that fit where one digit does
_PLAIN_ROW = 15.0  # points
FIRST_ROW = 2  # row 1 holds the links and is not printed


@dataclass(slots=True)
class Sheet:
    """A worksheet with its printed width in columns, and what is written so far.

    `row` is the next free row. Rows and columns count from 1.
    """

    ws: Worksheet
    view: View
    paper: Paper
    widths: Sequence[float]
    row: int = FIRST_ROW
    title_rows: tuple[int, int] | None = field(default=None)
    _styles: dict[Look, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for column, width in enumerate(self.widths, start=1):
            self.ws.column_dimensions[get_column_letter(column)].width = width

    @property
    def last_column(self) -> int:
        """The last printed column."""
        return len(self.widths)

    def text(self, column: int, value: str, look: Look, *, row: int | None = None) -> None:
        """Write text, as text whatever it begins with."""
        cell = self._styled(column, look, row)
        if not value:
            return
        cell.value = value[:_MOST_CHARACTERS]
        cell.data_type = "s"
        if value.startswith(_RISKY_START):
            cell.style = str(look)  # a copy of the shared style, to be changed here alone
            cell.quotePrefix = True

    def number(self, column: int, value: float, look: Look, *, row: int | None = None) -> None:
        """Write a number."""
        self._styled(column, look, row).value = value

    def formula(self, column: int, formula: str, look: Look, *, row: int | None = None) -> None:
        """Write a formula made of the program's own addresses, without its ``=``."""
        self._styled(column, look, row).value = f"={formula}"

    def blank(self, column: int, look: Look, *, row: int | None = None) -> None:
        """Give an empty cell its frame."""
        self._styled(column, look, row)

    def _styled(self, column: int, look: Look, row: int | None) -> Cell:
        cell = cast("Cell", self.ws.cell(row or self.row, column))
        known = self._styles.get(look)
        if known is None:
            cell.style = str(look)
            self._styles[look] = cell._style  # type: ignore[attr-defined]  # noqa: SLF001  see below
        else:
            # Setting a style by name searches the list of names each time, a fifth of
            # all the time spent; the cells of a sheet share what the first search found.
            cell._style = known  # type: ignore[attr-defined]  # noqa: SLF001
        return cell

    def texts(self, values: Iterable[str], look: Look, *, start: int = 1) -> None:
        """Write texts side by side in the current row."""
        for column, value in enumerate(values, start=start):
            self.text(column, value, look)

    def link(self, column: int, to: str, *, row: int | None = None) -> None:
        """Make a written cell lead to the top of another sheet of this workbook."""
        cell = self.ws.cell(row or self.row, column)
        target = "'{}'!A1".format(to.replace("'", "''"))
        cell.hyperlink = Hyperlink(ref=cell.coordinate, location=target)

    def banner(self, value: str, look: Look, *, first: int = 1, last: int | None = None) -> None:
        """Write text over several columns of the current row, as tall as it needs, and go on."""
        last = last or self.last_column
        self.merged(value, look, first=first, last=last)
        room = sum(self.widths[first - 1 : last])
        self.height(lines_needed(value, self._columns(room, look)), look)
        self.row += 1

    def merged(self, value: str, look: Look, *, first: int, last: int) -> None:
        """Write text over several columns of the current row."""
        for column in range(first + 1, last + 1):
            self.blank(column, look)
        self.text(first, value, look)
        if last > first:
            self.join(self.row, self.row, first, last)

    def join(self, top: int, bottom: int, first: int, last: int) -> None:
        """Make one cell of a block whose cells all have their look already.

        openpyxl's own `merge_cells` copies frames side by side, far too slow for
        thousands of blocks.
        """
        block = f"{get_column_letter(first)}{top}:{get_column_letter(last)}{bottom}"
        self.ws.merged_cells.add(block)

    def height(self, lines: float, look: Look, *, row: int | None = None) -> None:
        """Set a row's height to so many lines of a look."""
        points = lines * POINTS[look] * _LINE + 4
        self.ws.row_dimensions[row or self.row].height = min(points, _TALLEST_ROW)

    def fit_height(self, cells: Iterable[tuple[int, str, Look]], *, least: float = 0) -> None:
        """Set the current row's height to its tallest cell, given as (column, text, look)."""
        points = max(least, *(self.points(*cell) for cell in cells), 0.0)
        self.ws.row_dimensions[self.row].height = min(points, _TALLEST_ROW)

    def points(self, column: int, value: str, look: Look) -> float:
        """Return the height a cell needs, in points."""
        room = self._columns(self.widths[column - 1], look)
        return lines_needed(value, room) * POINTS[look] * _LINE + 6

    def heading(self, title: str, subtitle: str = "") -> None:
        """Write the sheet's title over its whole width, and a line under it."""
        self.banner(title, Look.TITLE)
        if subtitle:
            self.banner(subtitle, Look.SUBTITLE)

    def head(self, labels: Sequence[str], *, left: int = 0) -> None:
        """Write a row of column heads that is repeated on every page and stays in sight.

        The first `left` of them are set to the left.
        """
        for column, label in enumerate(labels, start=1):
            self.text(column, label, Look.HEAD_LEFT if column <= left else Look.HEAD)
        self.fit_height((c, label, Look.HEAD) for c, label in enumerate(labels, start=1))
        self.title_rows = (self.row, self.row)
        self.row += 1

    def _columns(self, room: float, look: Look) -> float:
        # Widths are given in digits of the 11 point standard letter; a little is lost to
        # edges, and most letters are narrower than a digit unless they are bold.
        letters = _BOLD_LETTERS if look in BOLD else _LETTERS
        return (room - 1) * 11 / POINTS[look] * letters

    def finish(
        self,
        *,
        landscape: bool,
        lonely: float = LONELY,
        freeze_columns: int = 0,
        pages_wide: int = 1,
    ) -> None:
        """Set up the pages: paper, direction, width to fit, repeated heads, header and footer.

        The print area ends with the row before the next free one; `pages_wide` pages side by
        side repeat the frozen columns.
        """
        ws = self.ws
        last = max(self.row - 1, FIRST_ROW)
        ws.page_setup.paperSize = self.paper.code
        ws.page_setup.orientation = "landscape" if landscape else "portrait"
        room = self.paper.room(landscape=landscape)
        ws.page_setup.fitToWidth = pages_wide
        ws.page_setup.fitToHeight = 0 if pages_wide > 1 else self._pages(last, room, lonely)
        ws.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
        ws.print_options.horizontalCentered = True
        ws.print_area = f"A{FIRST_ROW}:{get_column_letter(self.last_column)}{last}"
        for edge, inches in MARGINS.items():
            setattr(ws.page_margins, edge, inches)
        ws.page_margins.header = ws.page_margins.footer = 0.3
        self._header_and_footer()
        ws.sheet_view.showGridLines = False
        if self.title_rows:
            first, final = self.title_rows
            ws.print_title_rows = f"{first}:{final}"
            if pages_wide > 1:
                ws.print_title_cols = f"A:{get_column_letter(freeze_columns)}"
            ws.freeze_panes = f"{get_column_letter(freeze_columns + 1)}{final + 1}"

    def _pages(self, last: int, room: tuple[float, float], lonely: float) -> int:
        heights = [
            float(self.ws.row_dimensions[row].height or _PLAIN_ROW)
            for row in range(FIRST_ROW, last + 1)
        ]
        first, final = self.title_rows or (0, -1)
        repeated = sum(heights[first - FIRST_ROW : final - FIRST_ROW + 1]) if first else 0
        return pages_high(
            room, widths=self.widths, heights=heights, repeated=repeated, lonely=lonely
        )

    def _header_and_footer(self) -> None:
        view, header, footer = self.view, self.ws.oddHeader, self.ws.oddFooter
        assert header is not None
        assert footer is not None
        when = " · ".join(filter(None, (view.date, view.times)))
        for part, text in (
            (header.left, _for_header(view.name)),
            (header.right, _for_header(when)),
            (footer.left, _for_header(view.identity)),
            (footer.center, _for_header(self.ws.title)),
            (footer.right, "Page &P of &N"),
        ):
            part.text, part.size = text, _HEADER_SIZE


def _for_header(text: str) -> str:
    # A leading blank keeps digits apart from the size code in front of them.
    cut = text if len(text) <= _LONGEST_IN_HEADER else f"{text[: _LONGEST_IN_HEADER - 1]}…"
    return " " + cut.replace("&", "&&")
