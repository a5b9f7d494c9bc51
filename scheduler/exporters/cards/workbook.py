"""Cards as a workbook: a sheet a printed page, four A6 or two A5 cards on each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from openpyxl import Workbook
from openpyxl.styles import Border, Font, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.domain.plan import Plan
from scheduler.exporters.cards.block import COLUMN_WIDTHS, FONT, CardBlock
from scheduler.exporters.cards.content import Card, cards_of
from scheduler.exporters.files import workbook_bytes
from scheduler.exporters.plan_property import plan_id, state_plan

_MARGIN = 0.2  # inches
_GAP_WIDTH, _GAP_HEIGHT = 2.5, 14.0  # columns and points beside and under a line to cut along
_CUT = Side(style="mediumDashed", color="888888")
_PAPER_CODES = {"a4": 9, "letter": 1}


@dataclass(frozen=True, slots=True)
class _Page:
    """How many cards lie on a page, which way up it is, and how much larger than A6 they are."""

    across: int
    down: int
    orientation: Literal["portrait", "landscape"]
    scale: float


_PAGES = {"a6": _Page(2, 2, "portrait", 1.0), "a5": _Page(2, 1, "landscape", 1.38)}


def cards_workbook(plan: Plan, paper: str = "a4", size: str = "a6") -> bytes:
    """Return the cards of a plan as the bytes of an ``.xlsx`` file.

    Each sheet is one printed page, shrunk to fit whatever the printer's type
    needs, so that no card is ever split.

    Parameters
    ----------
    plan
        The plan.
    paper
        ``"a4"`` or ``"letter"``.
    size
        ``"a6"`` for four cards a page, ``"a5"`` for two.

    Raises
    ------
    KeyError
        If paper or size is neither of the two.
    """
    page, code = _PAGES[size], _PAPER_CODES[paper]
    book = Workbook()
    # Column widths are counted in digits of this font, so it must be the one of the sheets.
    book._named_styles["Normal"].font = Font(name=FONT, size=11)  # type: ignore[attr-defined]  # noqa: SLF001
    first = book.active
    assert first is not None
    cards, each = cards_of(plan), page.across * page.down
    for begin in range(0, len(cards), each):
        on_page = cards[begin : begin + each]
        sheet = book.create_sheet(_sheet_name(on_page))
        _write_page(sheet, on_page, page)
        _set_up(sheet, page, code)
    if cards:
        book.remove(first)
    else:
        first["A1"] = "This plan has no doubles match, so there are no cards."
    state_plan(book, plan_id(plan), plan.revision)
    return workbook_bytes(book)


def _sheet_name(cards: Sequence[Card]) -> str:
    first, last = cards[0].key, cards[-1].key
    return first if first == last else f"{first}-{last}"


def _write_page(sheet: Worksheet, cards: Sequence[Card], page: _Page) -> None:
    stride = len(COLUMN_WIDTHS) + 2  # the card, and a column on either side of the cut
    for column in range(page.across):
        for index, wide in enumerate(COLUMN_WIDTHS):
            letter = get_column_letter(1 + column * stride + index)
            sheet.column_dimensions[letter].width = wide * page.scale
    for gap in (stride - 1, stride):
        sheet.column_dimensions[get_column_letter(gap)].width = _GAP_WIDTH / 2 * page.scale
    top = 1
    for begin in range(0, len(cards), page.across):
        row = cards[begin : begin + page.across]
        blocks = [
            CardBlock(sheet, top, 1 + place * stride, page.scale) for place in range(len(row))
        ]
        ends = [block.write(card) for block, card in zip(blocks, row, strict=True)]
        bottom = max(ends)
        _cut_down(sheet, stride, top, bottom)
        if begin + page.across < len(cards):
            _cut_across(sheet, bottom, 2 * stride - 2)
        top = bottom + 2


def _cut_down(sheet: Worksheet, column: int, top: int, bottom: int) -> None:
    for row in range(top, bottom + 1):
        sheet.cell(row, column).border = Border(left=_CUT)


def _cut_across(sheet: Worksheet, row: int, columns: int) -> None:
    for line in (row, row + 1):
        sheet.row_dimensions[line].height = _GAP_HEIGHT / 2
    for column in range(1, columns + 1):
        left = sheet.cell(row + 1, column).border.left
        sheet.cell(row + 1, column).border = Border(top=_CUT, left=left)


def _set_up(sheet: Worksheet, page: _Page, paper: int) -> None:
    sheet.sheet_view.showGridLines = False
    setup = sheet.page_setup
    setup.paperSize, setup.orientation = paper, page.orientation
    setup.fitToWidth, setup.fitToHeight = 1, 1
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.print_options.horizontalCentered = True
    margins = sheet.page_margins
    margins.left = margins.right = margins.top = margins.bottom = _MARGIN
    margins.header = margins.footer = 0
