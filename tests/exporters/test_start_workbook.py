"""The workbook to fill in: readable as it is, helpful, and the same every time."""

from __future__ import annotations

import datetime as dt
import io
import json
import runpy
from enum import StrEnum
from pathlib import Path

import openpyxl
import pytest
from openpyxl import Workbook

from scheduler.exporters.form import HELP_SHEET
from scheduler.exporters.start_help import COLUMN_HELP, SETTINGS_HELP
from scheduler.exporters.start_workbook import CHOICES, MODELS, start_workbook
from scheduler.readers.event_workbook import SHEETS, read_event
from scheduler.readers.players_list import event_from_players
from scheduler.readers.records import headers
from scheduler.readers.rows import EventRow

SAMPLES = Path(__file__).parents[2] / "sample_data"


def opened(*, example: bool) -> Workbook:
    """Return the workbook as openpyxl reads it."""
    return openpyxl.load_workbook(io.BytesIO(start_workbook(example=example)))


def test_the_blank_workbook_is_read_without_faults(tmp_path: Path) -> None:
    """Its two example rows a sheet are an event, with a warning that they are examples."""
    path = tmp_path / "event.xlsx"
    path.write_bytes(start_workbook())
    result = read_event(path)
    event = result.event
    sizes = (len(event.players), len(event.courts), len(event.rounds), len(event.wishes))
    assert sizes == (2, 2, 2, 2)
    assert [text.partition(":")[0] for text in result.warnings] == [
        "Players!A2",
        "Players!A3",
        "Rounds!A3",
    ]


def test_the_example_is_the_sample_evening(tmp_path: Path) -> None:
    """What ``--example`` writes reads as the very event in sample_data, with no warning."""
    path = tmp_path / "event.xlsx"
    path.write_bytes(start_workbook(example=True))
    assert read_event(path) == read_event(SAMPLES / "club_evening.xlsx")
    assert read_event(path).warnings == ()


@pytest.mark.parametrize("example", [False, True])
def test_the_same_workbook_is_written_every_time(example: bool) -> None:
    """Two writings are equal byte for byte: no time of day and no random number is in them."""
    assert start_workbook(example=example) == start_workbook(example=example)


def test_every_sheet_and_column_of_the_format_is_there_and_explained() -> None:
    """Each heading the reader knows stands in its sheet and carries a note."""
    book = opened(example=False)
    assert book.sheetnames == [HELP_SHEET, *SHEETS]
    for title, model in MODELS.items():
        heading = [cell for cell in book[title][1] if cell.value is not None]
        assert [cell.value for cell in heading] == headers(model) == list(COLUMN_HELP[title])
        assert all(cell.comment is not None for cell in heading)
    assert [row[0].value for row in book["Event"].iter_rows(min_row=2)] == headers(EventRow)
    assert list(SETTINGS_HELP) == headers(EventRow)


@pytest.mark.parametrize(("place", "options"), CHOICES.items())
def test_lists_offer_every_word_the_reader_takes(
    place: tuple[str, str], options: type[StrEnum]
) -> None:
    """The drop-down of a column holds just the words of its list."""
    title, header = place
    sheet = opened(example=False)[title]
    if title == "Event":
        labels = [row[0].value for row in sheet.iter_rows()]
        cell = f"B{labels.index(header) + 1}"
    else:
        cell = f"{sheet[1][headers(MODELS[title]).index(header)].column_letter}2"
    rules = [rule for rule in sheet.data_validations.dataValidation if cell in rule.sqref]
    assert [rule.formula1 for rule in rules] == [f'"{",".join(options)}"']


def test_times_and_words_keep_their_format_down_the_sheet() -> None:
    """Cells for times are formatted as times, cells for names as text, in filled rows and blank."""
    sheet = opened(example=True)["Players"]
    columns = {cell.value: cell.column for cell in sheet[1]}
    for row in (2, 30, 300):
        assert sheet.cell(row, columns["Name"]).number_format == "@"
        assert sheet.cell(row, columns["Arrives"]).number_format == "hh:mm"
    late = [cell.value for cell in sheet["F"] if isinstance(cell.value, dt.time)]
    assert late == [dt.time(19, 25), dt.time(18, 50)]


def test_the_sample_files_are_what_their_scripts_write(tmp_path: Path) -> None:
    """Running the scripts again gives the same events and the same expected faults."""
    for name, data in runpy.run_path(str(SAMPLES / "make_samples.py"))["files"]().items():
        (tmp_path / name).write_bytes(data)
    assert (tmp_path / "sixteen.csv").read_bytes() == (SAMPLES / "sixteen.csv").read_bytes()
    new = event_from_players(tmp_path / "sixteen.csv", 4, 6, 20, "18:00", None)
    assert len(new.event.players) == 16
    evening = "club_evening.xlsx"
    assert read_event(tmp_path / evening) == read_event(SAMPLES / evening)
    broken = runpy.run_path(str(SAMPLES / "make_broken.py"))
    assert set(broken["files"]()) == set(broken["expected"]())
    promised = json.loads((SAMPLES / "broken" / "expected.json").read_text("utf-8"))
    assert promised == broken["expected"]()
