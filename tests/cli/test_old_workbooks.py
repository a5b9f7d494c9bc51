"""Score workbooks as they come back: moved about, retyped, and mangled by spreadsheets.

What can mean only one thing is taken; anything else is a fault with its cell,
and nothing is lost either way.
"""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from typed_night import GOOD, evening, rota, type_in, write

from scheduler.season.results import results_of

APRIL, JUNE = dt.datetime(2026, 4, 6), dt.datetime(2026, 6, 4)  # noqa: DTZ001  as workbooks hold them
Change = Callable[[Any], None]


@pytest.fixture
def night(tmp_path: Path) -> Path:
    """Return a folder with a plan and its workbook as they are written."""
    write(tmp_path, evening())
    return tmp_path


def scores_in(season: Path) -> dict[str, str]:
    """Return the scores of a season by match."""
    return {match.key: " ".join(map(str, match.sets)) for match in results_of(season).matches}


ALL_FOUR = {"R1C1": "6-4", "R1C2": "6-3", "R2C1": "7-6", "R2C2": "2-6"}


# ---- changes to the sheet as a whole ----------------------------------------------------


def rename_sheet(book: Any) -> None:
    """Call the sheet something else, in another language, and move it to the front."""
    book["Scores"].title = "Ergebnisse"
    book.move_sheet("Ergebnisse", -len(book.sheetnames) + 1)


def leave_only_the_sheet(book: Any) -> None:
    """Send the one sheet on alone."""
    for title in book.sheetnames:
        if title != "Scores":
            del book[title]
    book["Scores"].title = "Sheet1"


def move_score_columns(book: Any) -> None:
    """Move both columns far to the right."""
    sheet = book["Scores"]
    sheet.move_range(f"F1:G{sheet.max_row}", cols=40)


def put_score_b_before_a(book: Any) -> None:
    """Exchange the two columns, heads and all."""
    for row in book["Scores"].iter_rows(_head_row(book["Scores"]), max_col=7):
        row[5].value, row[6].value = row[6].value, row[5].value


def insert_a_column(book: Any) -> None:
    """Add a column of somebody's own between the two."""
    sheet = book["Scores"]
    sheet.insert_cols(7)
    sheet.cell(_head_row(sheet), 7).value = "Balls"
    sheet.cell(_head_row(sheet) + 1, 7).value = 3


def insert_rows_above(book: Any) -> None:
    """Write two lines above everything."""
    sheet = book["Scores"]
    sheet.insert_rows(1, 2)
    sheet["A1"] = "Typed by Kim"


def insert_rows_between(book: Any) -> None:
    """Put a line between the heads and the matches, and a blank one between two matches."""
    sheet = book["Scores"]
    head = _head_row(sheet)
    sheet.insert_rows(head + 3)
    sheet.insert_rows(head + 1)
    sheet.cell(head + 1, 5).value = "Tuesday"


def turn_rows_round(book: Any) -> None:
    """Sort the matches the other way."""
    sheet = book["Scores"]
    first = _head_row(sheet) + 1
    rows = [[cell.value for cell in row] for row in sheet.iter_rows(first, first + 3, max_col=9)]
    for number, row in enumerate(reversed(rows), start=first):
        for column, value in enumerate(row, start=1):
            sheet.cell(number, column).value = value


def write_heads_otherwise(book: Any) -> None:
    """Change letters, blanks and marks of the heads."""
    sheet = book["Scores"]
    for cell in sheet[_head_row(sheet)]:
        cell.value = cell.value and f" {str(cell.value).upper()} *"


def empty_match_column(book: Any) -> None:
    """Leave round and court to tell the matches."""
    for row in book["Scores"].iter_rows(max_col=1):
        row[0].value = None


def write_keys_otherwise(book: Any) -> None:
    """Retype the keys of the matches in small letters, with blanks."""
    for row in book["Scores"].iter_rows(max_col=1):
        if re.fullmatch(r"R\dC\d", str(row[0].value)):
            row[0].value = f" {row[0].value.lower()}\u00a0"


def lose_the_properties(book: Any) -> None:
    """Copy the sheets into a new workbook, as it were: the plan's id is gone."""
    for name in list(book.custom_doc_props.names):
        del book.custom_doc_props[name]


def _head_row(sheet: Any) -> int:
    return next(row[0].row for row in sheet.iter_rows() if row[5].value == "Score A")


@pytest.mark.parametrize(
    "change",
    [
        rename_sheet,
        leave_only_the_sheet,
        move_score_columns,
        put_score_b_before_a,
        insert_a_column,
        insert_rows_above,
        insert_rows_between,
        turn_rows_round,
        write_heads_otherwise,
        empty_match_column,
        write_keys_otherwise,
        lose_the_properties,
    ],
)
def test_an_altered_sheet_is_taken_where_its_meaning_is_certain(
    night: Path, change: Change
) -> None:
    """Every score arrives at its match, and the workbook stays as it was."""
    season = night / "club.db"
    path = type_in(night, GOOD, change)
    before = path.read_bytes()
    result = rota("scores", path, "--season", season)
    assert result.exit_code == 0, result.output
    assert scores_in(season) == ALL_FOUR
    assert path.read_bytes() == before


# ---- what is typed into the two cells of one match --------------------------------------

CERTAIN: dict[str, tuple[Any, Any]] = {
    "text": ("6-4", None),
    "text with a dash of print": ("6 \u2013 4", None),
    "text with a slash": ("6/4", None),
    "text with blanks after it": ("6-4  ", " "),
    "text with a blank that does not break": ("6-4\u00a0", None),
    "text and the same number": ("6-4", 4),
    "numbers as text": ("6", "4"),
    "numbers as text with an apostrophe": ("'6", " 4"),
    "numbers with a comma": (6.0, 4.0),
    "a day of April beside the second number": (APRIL, 4),
    "a day of June beside the second number": (JUNE, 4),
    "a day of June in the second cell": (6, JUNE),
    "a day in words beside the second number": ("Jun-04", 4),
    "a time": (dt.time(6, 4), None),
    "a time as text": ("6:04:00", None),
}


@pytest.mark.parametrize("cells", CERTAIN.values(), ids=CERTAIN)
def test_six_four_typed_in_any_way_that_can_mean_nothing_else(
    night: Path, cells: tuple[Any, Any]
) -> None:
    """It arrives as 6-4, and the other matches beside it."""
    season = night / "club.db"
    result = rota("scores", type_in(night, {**GOOD, "R1C1": cells}), "--season", season)
    assert result.exit_code == 0, result.output
    assert scores_in(season) == ALL_FOUR


UNCERTAIN: dict[str, tuple[tuple[Any, Any], str]] = {
    "a day of April": ((APRIL, None), r"F5: score a holds the date 2026-04-06.*6-4 or 4-6"),
    "a day of June": ((JUNE, None), r"F5: score a holds the date 2026-06-04.*4-6 or 6-4"),
    "a day in the second cell": ((None, JUNE), r"G5: score b holds the date 2026-06-04"),
    "two days": ((APRIL, JUNE), r"F5: score a holds the date"),
    "a day and a number that is not in it": ((APRIL, 3), r"F5: score a holds the date"),
    "a day in words": (("Jun-04", None), r'F5: score a holds "Jun-04".*4-6 or 6-4'),
    "a day in words, turned": (("06-Apr", None), r'F5: score a holds "06-Apr".*6-4 or 4-6'),
    "a day in figures": (("06.04.2026", None), r'F5: score a holds "06.04.2026"'),
    "a count of days": ((46118, None), r"F5: score a holds 46118, which counts days"),
    "a count of days beside a number": ((46118, 4), r"F5: score a holds 46118"),
    "a decimal": ((6.4, None), r"F5: score a must be .* got 6.4; if 6-4 is meant"),
    "one number": ((6, None), r"G5: score b is missing"),
    "the other number": ((None, 4), r"F5: score a is missing"),
    "a word": (("six", 4), r'F5: score a must be a whole number from 0 to 999, got "six"'),
    "text that the number denies": (("6-4", 3), r'F5: score a holds a whole score, "6-4"'),
    "text in the second cell": ((None, "6-4"), r'G5: score b holds a whole score, "6-4"'),
    "no score of a set": ((6, 5), r"F5: 6-5 is not a finished tie-break set"),
}


@pytest.mark.parametrize(("cells", "fault"), UNCERTAIN.values(), ids=UNCERTAIN)
def test_what_may_mean_two_things_is_one_fault_with_its_cell(
    night: Path, cells: tuple[Any, Any], fault: str
) -> None:
    """Nothing is written; the sound scores are taken if part is asked for."""
    season = night / "club.db"
    path = type_in(night, {**GOOD, "R1C1": cells})
    result = rota("scores", path, "--season", season)
    assert result.exit_code == 1
    (line,) = result.stderr.splitlines()
    assert re.match("Scores!" + fault, line), line
    assert not season.exists()
    part = rota("scores", path, "--season", season, "--partial")
    assert part.exit_code == 0, part.output
    assert scores_in(season) == {key: text for key, text in ALL_FOUR.items() if key != "R1C1"}


def test_a_score_that_was_a_date_is_typed_again_into_the_same_cell(night: Path) -> None:
    """The cell keeps the format of a date, shows 6 January 1900, and counts as 6."""
    season = night / "club.db"
    path = type_in(night, {**GOOD, "R1C1": (APRIL, None)})
    assert rota("scores", path, "--season", season, "--partial").exit_code == 0
    again = rota("scores", type_in(night, GOOD), "--season", season, "--json")
    assert json.loads(again.stdout)["added"] == ["R1C1"]
    assert scores_in(season) == ALL_FOUR


def test_a_number_formatted_as_a_date_is_that_date(night: Path) -> None:
    """Workbooks store a date as a count of days and a format: 46118 is 6 April 2026."""
    season = night / "club.db"

    def formatted(book: Any) -> None:
        sheet = book["Scores"]
        cell = sheet.cell(_head_row(sheet) + 1, 6)
        cell.value, cell.number_format = 46118, "d-mmm"

    path = type_in(night, GOOD, formatted)
    assert rota("scores", path, "--season", season).exit_code == 0
    assert scores_in(season) == ALL_FOUR
    path = type_in(night, {"R1C1": (None, None)}, formatted)
    result = rota("scores", path, "--season", season)
    assert re.match(r"Scores!F5: score a holds the date 2026-04-06", result.stderr)


def test_a_score_in_no_match_is_a_fault_and_not_passed_over(night: Path) -> None:
    """A row typed below the table, or with its key lost, is told with its cell."""
    season = night / "club.db"

    def below(book: Any) -> None:
        sheet = book["Scores"]
        row = _head_row(sheet) + 5
        sheet.cell(row, 6).value, sheet.cell(row, 7).value = 6, 1

    def lose_a_key(book: Any) -> None:
        sheet = book["Scores"]
        for column in (1, 2, 4):
            sheet.cell(_head_row(sheet) + 1, column).value = None

    for change, cell in ((below, "A9"), (lose_a_key, "A5")):
        write(night, evening())
        result = rota("scores", type_in(night, GOOD, change), "--season", season)
        assert result.exit_code == 1
        assert f"Scores!{cell}: the plan has no match in round ? on ?" in result.stderr
        assert not season.exists()


@pytest.mark.parametrize("change", [rename_sheet, move_score_columns, insert_rows_above, None])
def test_new_sheets_never_write_over_typed_scores(night: Path, change: Change | None) -> None:
    """Wherever the scores stand in the workbook by now; the workbook is kept beside the new one."""
    path = night / "Tuesday.xlsx"
    type_in(night, GOOD, change).rename(path)
    typed = path.read_bytes()
    assert rota("sheets", night / "plan.json").exit_code == 0
    kept = night / "Tuesday (typed scores 1).xlsx"
    assert kept.read_bytes() == typed
    season = night / "club.db"
    assert rota("scores", kept, "--season", season).exit_code == 0
    assert scores_in(season) == ALL_FOUR


@pytest.mark.parametrize(
    ("sheet", "cell"), [("Scores", "I5"), ("Court 1", "F5"), ("Court 2", "F5")]
)
def test_a_mark_or_a_score_on_a_court_sheet_is_kept_as_well(
    night: Path, sheet: str, cell: str
) -> None:
    """Typed into the column for cut short matches, or into the place to write scores by hand."""
    path = night / "Tuesday.xlsx"
    assert rota("sheets", night / "plan.json").exit_code == 0
    book = openpyxl.load_workbook(path)
    heads = {str(one.value) for row in book[sheet].iter_rows(max_row=5) for one in row}
    assert heads & {"If cut short", "Score"}
    book[sheet][cell] = "unfinished"
    book.save(path)
    typed = path.read_bytes()
    assert rota("sheets", night / "plan.json").exit_code == 0
    assert (night / "Tuesday (typed scores 1).xlsx").read_bytes() == typed
