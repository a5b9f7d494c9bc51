"""Fixture workbooks: read whole, or every fault with its cell; nothing guessed silently."""

from __future__ import annotations

import io
import runpy
from pathlib import Path

import openpyxl
import pytest

from scheduler.domain.errors import BadInput
from scheduler.domain.event import Hand, Here, Side
from scheduler.domain.fixture import Aim, ConditionKind, Partnering
from scheduler.exporters.start_fixture import fixture_workbook_bytes
from scheduler.readers.fixture_workbook import read_fixtures

SAMPLES = Path(__file__).parents[2] / "sample_data"


@pytest.fixture
def sample(tmp_path):
    """Return a function that writes the sample with some cells changed and reads it."""

    def read(changes=(), sheets=()):
        book = openpyxl.load_workbook(io.BytesIO(fixture_workbook_bytes(example=True)))
        for place, value in changes:
            sheet, cell = place.split("!")
            book[sheet][cell] = value
        for old, new in sheets:
            if new is None:
                del book[old]
            else:
                book[old].title = new
        path = tmp_path / "season.xlsx"
        book.save(path)
        return read_fixtures(path)

    return read


def faults(read, *args, **kwargs) -> list[str]:
    """Return the faults of a workbook that must have some."""
    with pytest.raises(BadInput) as caught:
        read(*args, **kwargs)
    return [str(fault) for fault in caught.value.faults]


def test_the_sample_reads_as_typed():
    """Team, people, answers, conditions and results of the sample come out as they stand."""
    read = read_fixtures(SAMPLES / "league_fixture.xlsx")
    season = read.season
    assert read.warnings == ()
    assert (season.name, season.aim) == ("Millrace second team", Aim.EVEN)
    assert season.partnering is Partnering.VARY
    assert (season.their_low, season.their_high, season.scale) == (9, 12, None)
    assert len(season.squad) == 14
    second = season.squad[1]
    assert (second.name, second.level, second.matches) == ("Brígida Salcines", 6.5, 4)
    assert (second.player.side, second.player.hand) == (Side.AD, Hand.LEFT)
    assert season.member_by_name["Dorottya Ványi"].likes == ("Brígida Salcines",)
    assert [f.lines for f in season.fixtures] == [4] * 6
    assert season.fixtures[2].their_sums == (13, None, None, 9)
    assert season.fixtures[2].answer("Hinewai Tamihana") is Here.IF_NEEDED
    assert season.fixtures[2].answer("Noor Zwartbol") is Here.NO
    assert season.fixtures[5].unanswered == ("Dorottya Ványi", "Izidor Mlakar")
    kinds = [c.kind for c in season.conditions]
    assert ConditionKind.PAIRS not in kinds
    assert season.conditions[3].lines == (3, 4)
    assert season.conditions[3].where == "Conditions!A6"
    assert len(season.played) == 8
    assert (season.played[2].their_sum, season.played[2].won) == (10, False)
    assert [f.date for f in season.to_come] == [f.date for f in season.fixtures[2:]]


def test_the_sample_file_is_what_its_script_writes(tmp_path):
    """Running the script again gives the same season."""
    files = runpy.run_path(str(SAMPLES / "make_fixture.py"))["files"]()
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
        assert read_fixtures(tmp_path / name) == read_fixtures(SAMPLES / name)


def test_the_blank_form_reads_as_it_is(tmp_path):
    """The form's own example rows are valid, and are said to be examples."""
    path = tmp_path / "form.xlsx"
    path.write_bytes(fixture_workbook_bytes())
    read = read_fixtures(path)
    assert [m.name for m in read.season.squad] == ["Example Person", "Example Partner"]
    assert read.season.fixtures[0].answer("Example Partner") is Here.IF_NEEDED
    assert len(read.warnings) == 2
    assert "is an example" in read.warnings[0]


def test_every_fault_comes_at_once_in_reading_order(sample):
    """Faults of all five sheets are reported together, each with its cell and a hint."""
    found = faults(
        sample,
        [
            ("Team!B3", "evn"),
            ("Squad!B3", "strong"),
            ("Squad!G5", "Brigida Salcines"),
            ("Fixtures!A3", "soon"),
            ("Fixtures!G4", "maybe"),
            ("Fixtures!E4", "13; lots"),
            ("Conditions!A4", "highest pear sum"),
            ("Conditions!E6", "X"),
            ("Conditions!D7", None),
            ("Played!A3", "2031-04-13"),
            ("Played!D5", "Noor Zwartboll"),
        ],
    )
    told = "\n".join(found)
    for place, words in (
        ("Team!B3", "did you mean 'even'?"),
        ("Squad!B3", "level must be a number from 1 to 10"),
        ("Squad!G5", "did you mean 'Brígida Salcines'?"),
        ("Fixtures!A3", "must be a date such as"),
        ("Fixtures!G4", "the answer must be yes, no or if needed"),
        ("Fixtures!E4", 'got "lots"'),
        ("Conditions!A4", "did you mean 'highest pair sum'?"),
        ("Conditions!E6", "no group called 'X'"),
        ("Conditions!D7", "other is missing; 'not partners' needs two players"),
        ("Played!A3", "there is no fixture on 2031-04-13"),
        ("Played!D5", "did you mean 'Noor Zwartbol'?"),
    ):
        assert any(f.startswith(f"{place}: ") and words in f for f in found), (place, told)
    order = [f.split("!")[0] for f in found]
    assert order == sorted(order, key=["Team", "Squad", "Fixtures", "Conditions", "Played"].index)


def test_a_misspelt_name_over_answers_is_a_fault(sample):
    """A column nobody of the squad heads would silently count somebody as free."""
    assert faults(sample, [("Fixtures!F1", "Aurelio Zanforlyn")]) == [
        "Fixtures!F1: no player called \"Aurelio Zanforlyn\"; did you mean 'Aurelio Zanforlin'?"
    ]


def test_a_person_without_a_column_is_mentioned(sample):
    """Somebody with no column of answers counts as free, and that is said."""
    read = sample([("Fixtures!F1", None), *((f"Fixtures!F{row}", None) for row in range(2, 8))])
    assert read.warnings == (
        "Fixtures: there is no column for Aurelio Zanforlin, who counts as free for everything",
    )


@pytest.mark.parametrize(
    ("changes", "where", "words"),
    [
        ([("Conditions!A2", None), ("Conditions!B2", None)], "Fixtures!D2", "lines is missing"),
        ([("Fixtures!A3", "2031-04-12")], "Fixtures!A3", "is already in Fixtures!A2"),
        ([("Squad!A3", "Aurelio Zanforlin")], "Squad!A3", "is already in Squad!A2"),
        ([("Fixtures!E2", "12; 11; 10; 9; 8")], "Fixtures!E2", "has 5 sums for 4 lines"),
        ([("Conditions!B6", 3)], "Conditions!B6", "number must be 0, 1 or 2"),
        ([("Conditions!B8", 2.5)], "Conditions!B8", "must be a whole number"),
        ([("Conditions!F6", "3-x")], "Conditions!F6", "lines must be numbers such as 3, 4 or 3-4"),
        ([("Conditions!D7", "Izidor Mlakar")], "Conditions!D7", "another person than player"),
        ([("Played!B3", 1)], "Played!B3", "line 1 is already in Played!B2"),
        ([("Played!B3", 9)], "Played!B3", "line must be from 1 to 4"),
        ([("Played!D3", "Aurelio Zanforlin")], "Played!D3", "is already in Played!C2"),
        ([("Team!B6", 8)], "Team!B6", "must not be less than 'Their pairs from'"),
        ([("Team!B7", 0)], "Team!B7", "must be a number from 0.1 to 20"),
        ([("Fixtures!F1", "Brígida Salcines")], "Fixtures!G1", "there are two columns for"),
    ],
)
def test_a_fault_has_its_cell(sample, changes, where, words):
    """Each thing that cannot be meant is reported at the cell to put right."""
    found = faults(sample, changes)
    assert any(f.startswith(f"{where}: ") and words in f for f in found), found


def test_missing_sheets_are_named_and_likely_ones_suggested(sample):
    """A required sheet that is gone or misspelt is a fault; an optional one may be missing."""
    assert sample(sheets=[("Played", None)]).season.played == ()
    assert faults(sample, sheets=[("Squad", "Squadd"), ("Team", None)])[:2] == [
        "Team: there is no sheet called 'Team'",
        "Squad: there is no sheet called 'Squad'; is it 'Squadd'? Then rename that sheet",
    ]


def test_unused_cells_of_a_condition_are_mentioned(sample):
    """A player beside a condition about sums changes nothing, and that is said."""
    read = sample([("Conditions!C4", "Izidor Mlakar")])
    assert read.warnings == ("Conditions!C4: is not used by 'highest pair sum' and was not read",)
