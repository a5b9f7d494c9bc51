"""The workbook an organiser fills in: headings with help, drop-downs, examples.

The headings come from the models the reader validates with, so what is
written here can always be read.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.domain.event import (
    Emphasis,
    Hand,
    Here,
    Kind,
    Mixing,
    Side,
    SpareCourt,
    Strength,
    WishKind,
)
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.exporters import sample_evening
from scheduler.exporters.files import workbook_bytes
from scheduler.exporters.start_help import (
    COLUMN_HELP,
    EXAMPLE_ROWS,
    EXAMPLE_SETTINGS,
    HELP_SHEET,
    INTRODUCTION,
    SETTINGS_HELP,
)
from scheduler.readers.records import headers
from scheduler.readers.rows import CourtRow, PlayerRow, RoundRow, Row, StationRow, WishRow

MODELS: dict[str, type[Row]] = {
    "Players": PlayerRow,
    "Courts": CourtRow,
    "Rounds": RoundRow,
    "Wishes": WishRow,
    "Stations": StationRow,
}
NEEDED = {
    "Event": {"Name"},
    "Players": {"Name"},
    "Courts": {"Name"},
    "Rounds": {"Kind", "Minutes"},
    "Wishes": {"Wish", "Player"},
    "Stations": {"Court"},
}
CHOICES: dict[tuple[str, str], type[StrEnum]] = {
    ("Event", "Emphasis"): Emphasis,
    ("Event", "Spare court"): SpareCourt,
    ("Event", "Set"): SetFormat,
    ("Event", "Game"): GameFormat,
    ("Event", "End changes"): EndChanges,
    ("Players", "Hand"): Hand,
    ("Players", "Side"): Side,
    ("Players", "Here"): Here,
    ("Rounds", "Kind"): Kind,
    ("Rounds", "Levels"): Mixing,
    ("Wishes", "Wish"): WishKind,
    ("Wishes", "Strength"): Strength,
}
# Names to pick from, where anything else may be typed too: sheet, column, names' sheet.
PICKED = {
    ("Wishes", "Player"): "Players",
    ("Wishes", "Other"): "Players",
    ("Stations", "Court"): "Courts",
}
TIMES = {"Start", "Until", "From", "Arrives", "Leaves"}
WORDS = {"Name", "Group", "Topic", "Note", "Player", "Other", "Court", "Coach"}
WIDE = {"Name": 26, "Player": 26, "Other": 26, "Topic": 28, "Note": 30, "Wish": 24, "Kind": 22}
ROWS_TO_FILL = 300
WIDTH_OF_HELP = 96  # characters

_DARK, _LIGHT = PatternFill("solid", "FF1F4E5F"), PatternFill("solid", "FF7F98A3")
_WHITE = Font(name="Calibri", size=11, bold=True, color="FFFFFFFF")
_EXAMPLE = Font(name="Calibri", size=11, italic=True, color="FF707070")
_BOLD, _PLAIN = Font(name="Calibri", size=11, bold=True), Font(name="Calibri", size=11)
_TITLE = Font(name="Calibri", size=13, bold=True)
_TOP, _MIDDLE = Alignment(wrap_text=True, vertical="top"), Alignment(horizontal="center")
_LINE_HEIGHT = 15.0  # points


@dataclass(frozen=True, slots=True)
class Content:
    """What stands in the workbook, and whether its rows are only examples."""

    settings: Mapping[str, Any]
    rows: Mapping[str, Sequence[Mapping[str, Any]]]
    are_examples: bool


def start_workbook(*, example: bool = False, file_name: str = "EVENT.xlsx") -> bytes:
    """Return a workbook to fill in, with two example rows or with a whole sample evening.

    Parameters
    ----------
    example
        True fills in the sample evening.
    file_name
        The name the first sheet uses when it says which command comes next.
    """
    content = Content(EXAMPLE_SETTINGS, EXAMPLE_ROWS, are_examples=True)
    if example:
        content = Content(sample_evening.SETTINGS, sample_evening.SHEETS, are_examples=False)
    book = Workbook()
    book.properties.creator = "rota"
    help_sheet = book.active
    assert isinstance(help_sheet, Worksheet)
    _write_help(help_sheet, file_name)
    _write_settings(book.create_sheet("Event"), content)
    for title in MODELS:
        _write_sheet(book.create_sheet(title), content)
    return workbook_bytes(book)


def _write_help(sheet: Worksheet, file_name: str) -> None:
    sheet.title = HELP_SHEET
    sheet.column_dimensions["A"].width = 16
    sheet.column_dimensions["B"].width = 18
    sheet.column_dimensions["C"].width = WIDTH_OF_HELP
    for text in INTRODUCTION:
        sheet.append([text.format(file=file_name)])
    sheet["A1"].font = _TITLE
    sheet.append([])
    for title, columns in {**COLUMN_HELP, "Event": {**SETTINGS_HELP}}.items():
        sheet.append([title])
        _paint_heading(sheet.cell(sheet.max_row, 1), needed=True)
        for name, text in columns.items():
            sheet.append([None, name, text])
            sheet.cell(sheet.max_row, 2).font = _BOLD if name in NEEDED[title] else _PLAIN
            sheet.cell(sheet.max_row, 2).alignment = _TOP
            sheet.cell(sheet.max_row, 3).alignment = _TOP
            _fit_height(sheet, sheet.max_row, text)
    _set_up_page(sheet)


def _write_settings(sheet: Worksheet, content: Content) -> None:
    for column, name in enumerate(("Setting", "Value"), 1):
        _write_heading(sheet, column, name, needed=True)
    for row, (name, text) in enumerate(SETTINGS_HELP.items(), 2):
        sheet.cell(row, 1, name).font = _BOLD if name in NEEDED["Event"] else _PLAIN
        sheet.cell(row, 1).alignment = _TOP
        value = sheet.cell(row, 2)
        _put(value, content.settings.get(name))
        value.alignment = Alignment(horizontal="left", vertical="top", wrap_text=name == "Notes")
        value.number_format = _number_format(name)
        sheet.cell(row, 3, text).font = _EXAMPLE
        sheet.cell(row, 3).alignment = _TOP
        _fit_height(sheet, row, text)
        if ("Event", name) in CHOICES:
            _offer(sheet, f"B{row}", CHOICES["Event", name])
    for letter, width in (("A", 16), ("B", 58), ("C", WIDTH_OF_HELP)):
        sheet.column_dimensions[letter].width = width
    _set_up_page(sheet)


def _write_sheet(sheet: Worksheet, content: Content) -> None:
    title = sheet.title
    for column, name in enumerate(headers(MODELS[title]), 1):
        _write_heading(sheet, column, name, needed=name in NEEDED[title])
        _prepare_column(sheet, column, name)
        for row, values in enumerate(content.rows[title], 2):
            _put(sheet.cell(row, column), values.get(name))
            if content.are_examples:
                sheet.cell(row, column).font = _EXAMPLE
    _set_up_page(sheet)


def _write_heading(sheet: Worksheet, column: int, name: str, *, needed: bool) -> None:
    cell = sheet.cell(1, column, name)
    _paint_heading(cell, needed=needed)
    note = Comment(COLUMN_HELP[sheet.title][name], "rota", height=110, width=280)
    cell.comment = note


def _paint_heading(cell: Any, *, needed: bool) -> None:
    cell.font = _WHITE
    cell.fill = _DARK if needed else _LIGHT
    cell.alignment = Alignment(horizontal="left", vertical="center")


def _prepare_column(sheet: Worksheet, column: int, name: str) -> None:
    letter = get_column_letter(column)
    sheet.column_dimensions[letter].width = WIDE.get(name, 13)
    cells = f"{letter}2:{letter}{ROWS_TO_FILL}"
    is_word = name in WIDE or name in WORDS
    for row in range(2, ROWS_TO_FILL + 1):
        sheet.cell(row, column).number_format = _number_format(name)
    for row in range(1, ROWS_TO_FILL + 1) if not is_word else ():
        sheet.cell(row, column).alignment = _MIDDLE
    if (sheet.title, name) in CHOICES:
        _offer(sheet, cells, CHOICES[sheet.title, name])
    elif (sheet.title, name) in PICKED:
        _offer_names(sheet, cells, PICKED[sheet.title, name])
    elif (sheet.title, name) == ("Players", "Level"):
        _limit(sheet, cells, "decimal", 1, 10)
    elif (sheet.title, name) in {("Rounds", "Minutes"), ("Rounds", "Group size")}:
        _limit(sheet, cells, "whole", 1, 600)


def _fit_height(sheet: Worksheet, row: int, text: str) -> None:
    """Make room for wrapped text; not every program does so on opening."""
    lines = math.ceil(len(text) / (WIDTH_OF_HELP - 8))
    if lines > 1:
        sheet.row_dimensions[row].height = _LINE_HEIGHT * lines


def _number_format(name: str) -> str:
    if name in TIMES:
        return "hh:mm"
    if name == "Date":
        return "yyyy-mm-dd"
    return "@" if name in WORDS else "General"


def _offer(sheet: Worksheet, cells: str, options: type[StrEnum]) -> None:
    words = [str(option) for option in options]
    rule = DataValidation("list", formula1=f'"{",".join(words)}"', allow_blank=True)
    rule.error = f"Please pick one of: {', '.join(words)}"[:250]
    rule.errorTitle = "Not in the list"
    rule.showErrorMessage = True
    sheet.add_data_validation(rule)
    rule.add(cells)


def _offer_names(sheet: Worksheet, cells: str, names_sheet: str) -> None:
    source = f"{names_sheet}!$A$2:$A${ROWS_TO_FILL}"
    rule = DataValidation("list", formula1=source, allow_blank=True)
    rule.showErrorMessage = False  # a court or a number may belong here too
    sheet.add_data_validation(rule)
    rule.add(cells)


def _limit(sheet: Worksheet, cells: str, kind: Any, low: int, high: int) -> None:
    rule = DataValidation(
        kind, operator="between", formula1=str(low), formula2=str(high), allow_blank=True
    )
    rule.error = f"Please give a number from {low} to {high}"
    rule.errorTitle = "Not a number that fits"
    rule.showErrorMessage = True
    sheet.add_data_validation(rule)
    rule.add(cells)


def _put(cell: Any, value: Any) -> None:
    """Write a value; text stays text whatever it begins with."""
    if value is None or value == "":
        return
    cell.value = value
    if isinstance(value, str) and isinstance(cell, Cell):
        cell.data_type = "s"


def _set_up_page(sheet: Worksheet) -> None:
    if sheet.title != HELP_SHEET:
        sheet.freeze_panes = "A2"
        sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
