"""The captain's paper: complete, without levels where others read it, the same every time."""

from __future__ import annotations

import io
from pathlib import Path

import openpyxl
import pytest

from scheduler.domain.event import Player
from scheduler.domain.fixture import (
    Fixture,
    FixtureAnswer,
    LinePair,
    LineUp,
    SeasonAnswer,
    SquadMember,
    TeamSeason,
)
from scheduler.domain.plan import Measure
from scheduler.exporters.form import HELP_SHEET
from scheduler.exporters.start_fixture import HEADINGS, fixture_workbook_bytes
from scheduler.exporters.start_fixture_help import COLUMN_HELP
from scheduler.exporters.team_sheet import message_text, team_sheet_bytes
from scheduler.exporters.team_sheet.words import day, mark, measure_sentence

NAMES = ("=Ana", "Bo & Co", "Çelik", "Dvořák", "שרה", "Fay")


def season(fixtures: int = 2) -> SeasonAnswer:
    """Return six people with awkward names and two pairs in each fixture."""
    squad = tuple(SquadMember(Player(name, 4 + i)) for i, name in enumerate(NAMES))
    calendar = tuple(
        Fixture(
            f"2031-05-{day:02d}", 2, venue="home", opponents="Others & sons", unanswered=("Fay",)
        )
        for day in range(3, 3 + fixtures)
    )
    pairs = (LinePair(1, (NAMES[0], NAMES[3]), 11.25, (0.2, 0.61)), LinePair(2, NAMES[1:3], 11))
    lineup = LineUp("2031-05-03", pairs, reserves=(NAMES[4], NAMES[5]), why="Because.")
    answers = tuple(FixtureAnswer(f, (lineup, lineup)) for f in calendar)
    measures = {"appearance_spread": Measure(2, 2, proven=True)}
    return SeasonAnswer(
        TeamSeason("Us", squad, calendar), answers, dict.fromkeys(NAMES, 3), measures, ("a doubt",)
    )


def opened(answer: SeasonAnswer, paper: str = "a4"):
    """Return the workbook as openpyxl reads it."""
    data = team_sheet_bytes(answer, answer.fixtures[0], identity="abc", paper=paper)
    return openpyxl.load_workbook(io.BytesIO(data))


def texts(sheet) -> list[str]:
    """Return everything written on a sheet."""
    return [str(c.value) for row in sheet.iter_rows() for c in row if c.value is not None]


def test_the_sheet_to_hand_over_shows_no_levels_and_no_chances():
    """The other captain reads names, lines and reserves, never a level or a chance."""
    sheet = opened(season())["Team sheet"]
    written = texts(sheet)
    assert {*NAMES[:4], "1", "2", "Us v Others & sons"} <= set(written)
    assert not any("11" in text or "%" in text or "Because" in text for text in written[4:])
    assert any("Club" in text or "club" in text for text in written)
    assert all(c.data_type != "f" for row in sheet.iter_rows() for c in row)


def test_the_notes_hold_levels_chances_and_reasons():
    """The captain's own page has sums, ranges, reasons, both line-ups and the doubts."""
    written = texts(opened(season())["Captain's notes"])
    assert {"11.25", "20 to 61 %", "Because.", "Line-up", "Alternative 1"} <= set(written)
    assert "Please note: a doubt" in written


def test_the_grid_has_everybody_and_every_fixture():
    """Each person has a line with matches, a line number or what else they do."""
    sheet = opened(season())["Season"]
    rows = {row[0]: row[1:] for row in sheet.iter_rows(values_only=True) if row[0] in NAMES}
    assert rows["=Ana"][:3] == (3, "1", "1")
    assert rows["Fay"][:3] == (3, "R?", "R?")
    assert set(rows) == set(NAMES)


def test_one_fixture_has_no_season_sheets():
    """A single fixture's workbook is the team sheet and the notes."""
    assert opened(season(1)).sheetnames == ["Team sheet", "Captain's notes"]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_same_line_ups_give_the_same_bytes(paper: str):
    """Nothing of the time of day is in the file, whatever the paper."""
    answer = season()
    first, second = (
        team_sheet_bytes(answer, answer.fixtures[0], identity="abc", paper=paper) for _ in range(2)
    )
    assert first == second


def test_the_message_says_who_plays_where_and_no_levels():
    """The text to paste has day, place, pairs and reserves in order, and a word of care."""
    answer = season()
    text = message_text(answer.season, answer.fixtures[0])
    assert text.startswith("Us v Others & sons\nSaturday 3 May 2031, home\n")
    assert "Line 1: =Ana and Dvořák" in text
    assert "Reserves, in this order: \u2068שרה\u2069, Fay" in text
    assert "11" not in text
    assert "thunder" in text


def test_every_page_is_one_sheet_of_paper(soffice, tmp_path: Path):
    """LibreOffice prints the four sheets on four pages."""
    from pypdf import PdfReader  # noqa: PLC0415  only here

    path = tmp_path / "team.xlsx"
    answer = season()
    path.write_bytes(team_sheet_bytes(answer, answer.fixtures[0], identity="abc"))
    soffice([path], "pdf", tmp_path)
    pages = PdfReader(tmp_path / "team.pdf").pages
    assert len(pages) == 4
    assert "Us v Others & sons" in pages[0].extract_text()


def test_words_for_days_marks_and_figures():
    """Dates read as days; other text stays; figures say how well they are proved."""
    assert day("2031-05-24") == "Saturday 24 May 2031"
    assert day("next week") == "next week"
    assert mark(season().fixtures[0], "Çelik") == "2"
    assert "proved" in measure_sentence("appearance_spread", Measure(1, 1, proven=True))
    assert "better than 1" in measure_sentence("appearance_spread", Measure(2, 1))


def test_every_sheet_of_the_form_is_there_and_explained():
    """Each heading of the captain's form stands in its sheet and carries a note."""
    book = openpyxl.load_workbook(io.BytesIO(fixture_workbook_bytes()))
    assert book.sheetnames == [HELP_SHEET, "Team", *HEADINGS]
    for title, names in HEADINGS.items():
        for cell, name in zip(next(book[title].iter_rows(max_row=1)), names, strict=False):
            assert cell.value == name
            assert cell.comment.text == COLUMN_HELP[title][name]
    assert fixture_workbook_bytes() == fixture_workbook_bytes()
