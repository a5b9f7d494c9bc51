"""Score cells: taken where their meaning is certain, a clear fault where it is not."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils.datetime import from_excel

from scheduler.domain.score_text import Mark, SetScore
from scheduler.readers.cells import Unreadable
from scheduler.readers.score_cells import Uncertain, read_mark, read_pair, read_score

SIX_FOUR = (SetScore(6, 4),)
APRIL, JUNE = dt.datetime(2026, 4, 6), dt.datetime(2026, 6, 4)  # noqa: DTZ001  as workbooks hold them


@pytest.mark.parametrize(
    ("a", "b"),
    [
        (6, 4),
        (6.0, 4),
        ("6", " 4 "),
        ("'6", "4"),
        ("6-4", None),
        ("6 – 4", None),  # noqa: RUF001  a dash that phones type
        ("6:4", None),
        ("6/4", None),
        ("6-4", 4),
        (dt.time(6, 4), None),  # 6:4 typed into a cell
        (dt.timedelta(hours=6, minutes=4), None),
        (APRIL, 4),  # one number is certain, so the date can only be this
        (JUNE, 4),
        (6, APRIL),
        (6, JUNE),
        (" Jun-04 ", 4),
        ("4-Jun", 4),
        (6, "06.04.2026"),
        (6, "2026-04-06"),
        ("6/4/26", 4),
        (dt.datetime(1900, 1, 6), 4),  # noqa: DTZ001  6 in a cell that kept a date's format
        (6, dt.datetime(1900, 1, 4)),  # noqa: DTZ001
        (dt.datetime(1900, 1, 6), dt.datetime(1900, 1, 4)),  # noqa: DTZ001
        ("6. April", 4),
        ("2026-06-04 00:00:00", 4),  # as csv files have it
        ("6:04:00", None),  # 6:4 once more, as csv files have it
        ("06:04 AM", None),
        ("6 / 4", None),
        ("\u00a06-4 ", None),
        ("6\u22124", None),
        ("6 - 4\n", None),
        ("６", "４"),  # noqa: RUF001  full width digits
    ],
)
def test_six_four_in_many_writings(a: Any, b: Any) -> None:
    """All of these can mean nothing but 6-4."""
    assert read_pair(a, b) == SIX_FOUR


@pytest.mark.parametrize(
    ("a", "b", "says"),
    [
        (APRIL, None, "6-4 or 4-6"),
        (None, JUNE, "4-6 or 6-4"),
        (APRIL, 3, "6-4 or 4-6"),
        (APRIL, APRIL, "6-4 or 4-6"),
        (6, None, "is missing"),
        (None, 4, "is missing"),
        (6.4, None, "if 6-4 is meant"),
        ("6,4", None, "if 6-4 is meant"),
        (None, 6.4, "if 6-4 is meant"),
        (6.4, 4, "if 6-4 is meant"),
        (-6, 4, "whole number from 0"),
        (1000, 4, "whole number from 0"),
        (46118, None, "counts days up to 2026-04-06.* 6-4 or 4-6"),
        (46177, 4, "counts days up to 2026-06-04.* 4-6 or 6-4"),
        (6, 46118, "counts days"),
        (True, 4, "whole number"),
        ("six", 4, 'got "six"'),
        ("6-4", 3, "contradicts"),
        (None, "6-4", "own cell"),
        ("06-Apr", None, "makes of 6-4 or 4-6"),
        ("Jun-04", None, "makes of 4-6 or 6-4"),
        ("Jun-04", 5, "makes of 4-6 or 6-4"),
        (None, "6.4.2026", "makes of 6-4 or 4-6"),
        ("4. Juni", None, "makes of 4-6 or 6-4"),
        ("6-avr", None, "made a date"),
        ("06-Apr", JUNE, "makes of 6-4 or 4-6"),
        ("2026-04-06", "x", 'got "x"'),
        ("2026-14-32", None, "whole number"),
        ("x", "x", 'got "x"'),
        (Unreadable("holds the Excel error #REF!"), 4, "#REF!"),
    ],
)
def test_what_is_not_certain_is_a_fault(a: Any, b: Any, says: str) -> None:
    """A date alone may be 6-4 or 4-6: it depends on the country."""
    with pytest.raises(Uncertain, match=says):
        read_pair(a, b)


@pytest.mark.parametrize("games", [0, 1, 6, 10, 58, 61, 75])
def test_a_number_in_a_cell_that_kept_the_format_of_a_date(games: int) -> None:
    """As openpyxl reads such cells, whose day 60 (29 February 1900) never was."""
    value = from_excel(games)
    assert isinstance(value, dt.datetime | dt.time)
    assert read_pair(value, 4) == (SetScore(games, 4),)
    assert read_pair(4, value) == (SetScore(4, games),)
    with pytest.raises(Uncertain):
        read_pair(dt.datetime(1900, 1, 6, 12), 4)  # noqa: DTZ001  six and a half


def test_a_date_of_equal_numbers_is_certain() -> None:
    """4-4 is 4 April in every country; a second number must then be the same."""
    for date in (dt.datetime(2026, 4, 4), "4-Apr", "04/04/2026"):  # noqa: DTZ001
        assert read_pair(date, None) == read_pair(4, date) == read_score(date) == (SetScore(4, 4),)
        with pytest.raises(Uncertain, match="makes of 4-4; type"):
            read_pair(date, 5)


def test_the_fault_is_that_of_the_cell_at_fault() -> None:
    """`second` says that it stands in team B's cell."""
    with pytest.raises(Uncertain) as first:
        read_pair("x", 4)
    for a, b in ((6, "x"), (None, "x"), (4, "Jul-05"), (None, JUNE), (6, 46118), (6, None)):
        with pytest.raises(Uncertain) as second:
            read_pair(a, b)
        assert second.value.second, (a, b)
    assert not first.value.second


def test_tie_break_points_in_any_place() -> None:
    """The loser's points, as in 7-6(5), in one cell or beside either team."""
    wanted = (SetScore(7, 6, 5),)
    assert read_pair("7-6(5)", None) == wanted
    assert read_pair("7-6 (7-5)", None) == wanted
    assert read_pair("7", "6(5)") == wanted
    assert read_score("7-6(5)") == wanted
    assert read_pair(6, "7(5)") == (SetScore(6, 7, 5),)


def test_several_sets_in_one_cell() -> None:
    """With blanks, commas or semicolons between."""
    wanted = (SetScore(6, 4), SetScore(3, 6), SetScore(10, 7))
    assert read_score("6-4 3-6 10-7") == wanted
    assert read_pair("6-4, 3-6; 10-7", None) == wanted


@pytest.mark.parametrize("value", ["late", "6", "6-", "6-4-2", 6, "6-4 won"])
def test_one_cell_for_both_teams_takes_nothing_but_a_score(value: Any) -> None:
    """No guessing."""
    with pytest.raises(Uncertain, match="must be a score such as 6-4"):
        read_score(value)


def test_marks_are_words_of_a_short_list() -> None:
    """Case aside; anything else is told with the nearest."""
    assert read_mark("UNFINISHED") is Mark.UNFINISHED
    assert read_mark(" a  Retired ") is Mark.A_RETIRED
    assert read_mark(None) is None
    with pytest.raises(Uncertain, match="did you mean 'unfinished'"):
        read_mark("unfinishd")


@given(st.integers(0, 99), st.integers(0, 99))
def test_two_numbers_are_taken_as_they_are(a: int, b: int) -> None:
    """As numbers, as text, and as one text."""
    wanted = (SetScore(a, b),)
    assert read_pair(a, b) == read_pair(str(a), str(b)) == read_score(f"{a}-{b}") == wanted


@given(st.one_of(st.text(max_size=12), st.floats(), st.integers(), st.datetimes(), st.times()))
def test_no_cell_does_anything_but_a_score_or_a_fault(value: Any) -> None:
    """Whatever is typed."""
    for read in (read_score, lambda v: read_pair(v, None), lambda v: read_pair(4, v)):
        found: tuple[SetScore, ...] | str
        try:
            found = read(value)
        except Uncertain as error:
            found = str(error)
        assert isinstance(found, str) or all(isinstance(score, SetScore) for score in found)
        assert found != ""
