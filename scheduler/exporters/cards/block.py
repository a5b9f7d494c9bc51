"""One card as a block of cells: every value plain text, nothing to calculate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.exporters.cards.content import Card, Server, Tick, TieBreakRow
from scheduler.exporters.cards.panels import CHANGE, Panel
from scheduler.exporters.text import lines_needed, width
from scheduler.rules.state import Half

BOX_COLUMNS = 12  # narrow columns that 1, 2, 3, 4 or 6 boxes share out evenly
COLUMN_WIDTHS: tuple[float, ...] = (5.0, 28.5, *([1.4] * BOX_COLUMNS))
FONT = "Arial"
_LINE = Side(style="thin", color="000000")
_NAME_SIZES = ((15, 14.0), (19, 12.0), (23, 10.0), (26, 9.0))  # columns up to which a size fits
_SMALLEST_NAME = 8.0
_SMALL, _ROOMY = 7.2, 9.0  # type of the texts, with and without a tie-break beside them
_LINE_HEIGHT = 1.36  # of a line over the size of its letters, as the tallest fonts need it
_ACROSS = sum(COLUMN_WIDTHS) * 11 * 1.1  # letters of 1 point that fit across a card
_NAME_ROW, _DETAIL_ROW, _POINT_ROW, _TALL_ROW = 19.0, 10.5, 20.0, 26.0  # points


@dataclass(frozen=True, slots=True)
class Look:
    """How a block of cells is set."""

    size: float
    bold: bool = False
    across: str = "left"
    up: str = "center"
    framed: bool = False
    grey: bool = False


@dataclass(slots=True)
class CardBlock:
    """Writes one card into a sheet, its first cell at `top`, `left`; `scale` is 1 for A6."""

    sheet: Worksheet
    top: int
    left: int
    scale: float
    row: int = 0

    def write(self, card: Card) -> int:
        """Write the card and return the first row under it."""
        self.row = self.top
        self._cells("Start end: ____________", Look(8.0, up="center"), 2, BOX_COLUMNS)
        self._line(card.court, 14.0, bold=True, columns=2)
        self._line(f"{card.round}  \N{MIDDLE DOT}  {card.what}", 9.0, bold=True)
        columns = max(len(server.ticks) for server in card.servers)
        for server in card.servers:
            self._server(server, columns)
        self._line(card.legend, 7.4)
        if card.goal:
            self._line(card.goal, 10.0, bold=True)
        if card.tie_break:
            self._line(f"{card.tie_break_title} (serve R right, L left)", 8.2, bold=True)
            columns = max(len(row.points) for row in card.tie_break)
            for row in card.tie_break:
                self._points(row, columns)
        for panel in card.panels:
            self._panel(panel, _SMALL if card.tie_break else _ROOMY)
        self._line(f"{card.identity}. {card.event}", 6.2)
        return self.row

    def _line(
        self, text: str, size: float, *, bold: bool = False, columns: int = len(COLUMN_WIDTHS)
    ) -> None:
        """Write a line over the card or its first columns, as tall as its text needs."""
        share = sum(COLUMN_WIDTHS[:columns]) / sum(COLUMN_WIDTHS)
        lines = lines_needed(text, _ACROSS * share / size / (1.08 if bold else 1.0))
        self._cells(text, Look(size, bold, up="top"), 0, columns)
        self._height(lines * size * _LINE_HEIGHT + 1)
        self.row += 1

    def _panel(self, panel: Panel, size: float) -> None:
        """Write a panel, its title bold."""
        cell = self.sheet.cell(self.row, self.left)
        self._line(f"{panel.title} {panel.text}", size)
        points = round(size * self.scale, 1)
        bold, plain = (InlineFont(rFont=FONT, sz=points, b=heavy) for heavy in (True, False))
        cell.value = CellRichText(TextBlock(bold, panel.title), TextBlock(plain, f" {panel.text}"))

    def _server(self, server: Server, columns: int) -> None:
        """Write a server's two rows: the name over side and end, the boxes beside both."""
        grey, size = server.team == "B", _name_size(server.name)
        lines = lines_needed(server.name, COLUMN_WIDTHS[1] * 11 / size)
        self._cells(f"{server.turn}\n{server.team}", Look(13, True, "center", "center", True, grey),
                    0, 1, rows=2)  # fmt: skip
        self._cells(server.name, Look(size, bold=True, framed=True, grey=grey), 1, 1)
        self._ticks(server.ticks, columns, rows=2)
        self._height(max(_NAME_ROW, lines * size * _LINE_HEIGHT))
        self.row += 1
        lines_of_detail = [f"receives on the {server.receives}"]
        if server.end:
            lines_of_detail.append(f"serves from the {server.end} end")
        self._cells("\n".join(lines_of_detail), Look(7.4, framed=True, grey=grey), 1, 1)
        self._height(_DETAIL_ROW * 2 if server.end else _TALL_ROW)
        self.row += 1

    def _points(self, row: TieBreakRow, columns: int) -> None:
        """Write one player's points of the tie-break."""
        grey = row.team == "B"
        size = min(9.5, _name_size(row.name))
        self._cells(row.name, Look(size, bold=True, framed=True, grey=grey), 0, 2)
        self._ticks(row.points, columns, rows=1)
        self._height(_POINT_ROW)
        self.row += 1

    def _ticks(self, ticks: Sequence[Tick], columns: int, *, rows: int) -> None:
        each = BOX_COLUMNS // columns
        size = 9.0 if ticks[0].half is None else 7.2
        for place, tick in enumerate(ticks):
            look = Look(size, True, "left", "top", framed=True)
            self._cells(_tick_text(tick, each), look, 2 + place * each, each, rows=rows)

    def _cells(self, text: str, look: Look, first: int, columns: int, *, rows: int = 1) -> None:
        """Write text, as text whatever it begins with, over a block of cells."""
        left, right = self.left + first, self.left + first + columns - 1
        bottom = self.row + rows - 1
        for row in range(self.row, bottom + 1):
            for column in range(left, right + 1):
                self._dress(row, column, look)
        cell = self.sheet.cell(self.row, left)
        cell.value = text
        cell.data_type = "s"
        if text.startswith(("=", "+", "-", "@")):
            cell.quotePrefix = True
        if (left, self.row) != (right, bottom):
            block = f"{get_column_letter(left)}{self.row}:{get_column_letter(right)}{bottom}"
            self.sheet.merged_cells.add(block)

    def _dress(self, row: int, column: int, look: Look) -> None:
        cell = self.sheet.cell(row, column)
        cell.font = Font(name=FONT, size=round(look.size * self.scale, 1), bold=look.bold)
        cell.alignment = Alignment(horizontal=look.across, vertical=look.up, wrap_text=True)
        if look.framed:
            cell.border = Border(left=_LINE, right=_LINE, top=_LINE, bottom=_LINE)
        if look.grey:
            cell.fill = PatternFill("solid", fgColor="E6E6E6")

    def _height(self, points: float) -> None:
        """Make the row so tall, unless the card beside it needs more."""
        known = self.sheet.row_dimensions[self.row].height or 0
        self.sheet.row_dimensions[self.row].height = max(known, round(points * self.scale, 1))


def _tick_text(tick: Tick, columns: int) -> str:
    """Return a box's number, half and change mark, on two lines where the box is narrow."""
    half = "" if tick.half is None else ("R" if tick.half is Half.DEUCE else "L")
    change = CHANGE if tick.change_ends else ""
    if columns <= 2:
        return "\n".join(filter(None, (str(tick.number), f"{half} {change}".strip())))
    return "\n".join(filter(None, (f"{tick.number} {half}".strip(), change)))


def _name_size(name: str) -> float:
    return next((size for most, size in _NAME_SIZES if width(name) <= most), _SMALLEST_NAME)
