"""A workbook to fill in: headings with help, drop-downs, limits, examples.

What is in it, and in which words, comes as a `Form`; here is only how it is
laid out, the same for an organiser's evening and for a captain's season.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
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

from scheduler.exporters.files import workbook_bytes

HELP_SHEET = "Read me first"
ROWS_TO_FILL = 300
WIDTH_OF_HELP = 96  # characters

_DARK, _LIGHT = PatternFill("solid", "FF1F4E5F"), PatternFill("solid", "FF7F98A3")
_WHITE = Font(name="Calibri", size=11, bold=True, color="FFFFFFFF")
_EXAMPLE = Font(name="Calibri", size=11, italic=True, color="FF707070")
_BOLD, _PLAIN = Font(name="Calibri", size=11, bold=True), Font(name="Calibri", size=11)
_TITLE = Font(name="Calibri", size=13, bold=True)
_TOP, _MIDDLE = Alignment(wrap_text=True, vertical="top"), Alignment(horizontal="center")
_LINE_HEIGHT = 15.0  # points
_NARROW, _TURNED_HEIGHT = 10, 130.0  # characters, points


@dataclass(frozen=True, slots=True)
class Content:
    """What stands in the workbook, and whether its rows are only examples."""

    settings: Mapping[str, Any]
    rows: Mapping[str, Sequence[Mapping[str, Any]]]
    are_examples: bool


@dataclass(frozen=True)
class Form:
    """Which sheets a workbook has and what they say about themselves.

    Attributes
    ----------
    introduction
        The lines of the first sheet; ``{file}`` becomes the file's name.
    settings_sheet, settings_help
        The sheet of settings, and a line of help for each setting.
    headings
        The column headings of every other sheet, in order.
    column_help
        Help for each heading of every sheet, the settings' two included.
    needed
        The settings and headings that may not stay blank.
    choices
        Words to pick from, by sheet and heading or setting.
    picked
        Names to pick from, where anything else may be typed too: the sheet
        that has them in its first column.
    limits
        Kind of number (``"whole"`` or ``"decimal"``), least and most.
    times, words, wide
        Headings whose cells hold times, or text, and the widths of broad ones.
    turned
        Headings written upwards over narrow columns.
    """

    introduction: Sequence[str]
    settings_sheet: str
    settings_help: Mapping[str, str]
    headings: Mapping[str, Sequence[str]]
    column_help: Mapping[str, Mapping[str, str]]
    needed: Mapping[str, frozenset[str] | set[str]]
    choices: Mapping[tuple[str, str], type[StrEnum]] = field(default_factory=dict)
    picked: Mapping[tuple[str, str], str] = field(default_factory=dict)
    limits: Mapping[tuple[str, str], tuple[str, int, int]] = field(default_factory=dict)
    times: frozenset[str] | set[str] = frozenset()
    words: frozenset[str] | set[str] = frozenset()
    wide: Mapping[str, int] = field(default_factory=dict)
    turned: frozenset[str] = frozenset()


def form_bytes(form: Form, content: Content, file_name: str) -> bytes:
    """Return the workbook.

    Parameters
    ----------
    form
        The sheets and their words.
    content
        What is filled in already.
    file_name
        The name the first sheet uses when it says which command comes next.
    """
    book = Workbook()
    book.properties.creator = "rota"
    help_sheet = book.active
    assert isinstance(help_sheet, Worksheet)
    _write_help(help_sheet, form, file_name)
    _write_settings(book.create_sheet(form.settings_sheet), form, content)
    for title in form.headings:
        _write_sheet(book.create_sheet(title), form, content)
    return workbook_bytes(book)


def _write_help(sheet: Worksheet, form: Form, file_name: str) -> None:
    sheet.title = HELP_SHEET
    sheet.column_dimensions["A"].width = 16
    sheet.column_dimensions["B"].width = 18
    sheet.column_dimensions["C"].width = WIDTH_OF_HELP
    for text in form.introduction:
        sheet.append([text.format(file=file_name)])
    sheet["A1"].font = _TITLE
    sheet.append([])
    for title, columns in {**form.column_help, form.settings_sheet: form.settings_help}.items():
        sheet.append([title])
        _paint_heading(sheet.cell(sheet.max_row, 1), needed=True)
        for name, text in columns.items():
            sheet.append([None, name, text])
            sheet.cell(sheet.max_row, 2).font = _BOLD if name in form.needed[title] else _PLAIN
            sheet.cell(sheet.max_row, 2).alignment = _TOP
            sheet.cell(sheet.max_row, 3).alignment = _TOP
            _fit_height(sheet, sheet.max_row, text)
    _set_up_page(sheet)


def _write_settings(sheet: Worksheet, form: Form, content: Content) -> None:
    for column, name in enumerate(("Setting", "Value"), 1):
        _write_heading(sheet, form, column, name)
    for row, (name, text) in enumerate(form.settings_help.items(), 2):
        sheet.cell(row, 1, name).font = _BOLD if name in form.needed[sheet.title] else _PLAIN
        sheet.cell(row, 1).alignment = _TOP
        value = sheet.cell(row, 2)
        _put(value, content.settings.get(name))
        value.alignment = Alignment(horizontal="left", vertical="top", wrap_text=name == "Notes")
        value.number_format = _number_format(form, name)
        sheet.cell(row, 3, text).font = _EXAMPLE
        sheet.cell(row, 3).alignment = _TOP
        _fit_height(sheet, row, text)
        if (sheet.title, name) in form.choices:
            _offer(sheet, f"B{row}", form.choices[sheet.title, name])
    for letter, width in (("A", 16), ("B", 58), ("C", WIDTH_OF_HELP)):
        sheet.column_dimensions[letter].width = width
    _set_up_page(sheet)


def _write_sheet(sheet: Worksheet, form: Form, content: Content) -> None:
    title = sheet.title
    for column, name in enumerate(form.headings[title], 1):
        _write_heading(sheet, form, column, name)
        _prepare_column(sheet, form, column, name)
        if name in form.turned:
            _turn_heading(sheet, column)
        for row, values in enumerate(content.rows[title], 2):
            _put(sheet.cell(row, column), values.get(name))
            if content.are_examples:
                sheet.cell(row, column).font = _EXAMPLE
    _set_up_page(sheet)


def _write_heading(sheet: Worksheet, form: Form, column: int, name: str) -> None:
    cell = sheet.cell(1, column, name)
    is_settings = sheet.title == form.settings_sheet
    _paint_heading(cell, needed=is_settings or name in form.needed[sheet.title])
    if name not in form.column_help[sheet.title]:
        return
    note = Comment(form.column_help[sheet.title][name], "rota", height=110, width=280)
    cell.comment = note


def _paint_heading(cell: Any, *, needed: bool) -> None:
    cell.font = _WHITE
    cell.fill = _DARK if needed else _LIGHT
    cell.alignment = Alignment(horizontal="left", vertical="center")


def _prepare_column(sheet: Worksheet, form: Form, column: int, name: str) -> None:
    letter = get_column_letter(column)
    sheet.column_dimensions[letter].width = form.wide.get(name, 13)
    cells = f"{letter}2:{letter}{ROWS_TO_FILL}"
    is_word = name in form.wide or name in form.words
    for row in range(2, ROWS_TO_FILL + 1):
        sheet.cell(row, column).number_format = _number_format(form, name)
    for row in range(1, ROWS_TO_FILL + 1) if not is_word else ():
        sheet.cell(row, column).alignment = _MIDDLE
    where = (sheet.title, name)
    if where in form.choices:
        _offer(sheet, cells, form.choices[where])
    elif where in form.picked:
        _offer_names(sheet, cells, form.picked[where])
    elif where in form.limits:
        _limit(sheet, cells, *form.limits[where])


def _turn_heading(sheet: Worksheet, column: int) -> None:
    sheet.cell(1, column).alignment = Alignment(horizontal="center", text_rotation=90)
    sheet.column_dimensions[get_column_letter(column)].width = _NARROW
    sheet.row_dimensions[1].height = _TURNED_HEIGHT


def _fit_height(sheet: Worksheet, row: int, text: str) -> None:
    """Make room for wrapped text; not every program does so on opening."""
    lines = math.ceil(len(text) / (WIDTH_OF_HELP - 8))
    if lines > 1:
        sheet.row_dimensions[row].height = _LINE_HEIGHT * lines


def _number_format(form: Form, name: str) -> str:
    if name in form.times:
        return "hh:mm"
    if name == "Date":
        return "yyyy-mm-dd"
    return "@" if name in form.words else "General"


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
