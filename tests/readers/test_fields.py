"""Single cells: what people type, and what it means."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.event import Emphasis
from scheduler.domain.formats import SetFormat
from scheduler.readers.cells import column_letters
from scheduler.readers.fields import as_date, as_level, as_name, as_text, as_time, choice, whole


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("18:30", 1110),
        ("18.30", 1110),
        ("18h30", 1110),
        (" 18:30:59 ", 1110),
        ("\uff11\uff18:\uff13\uff10", 1110),  # full-width digits
        ("6:30 pm", 1110),
        ("6.30 P.M.", 1110),
        ("12 am", 0),
        ("12:15pm", 735),
        ("24:00", 1440),
        (dt.time(18, 30), 1110),
        (dt.time(18, 29, 59, 999), 1110),
        (dt.datetime(2026, 1, 1, 18, 30), 1110),  # noqa: DTZ001  as in a cell
        (dt.timedelta(hours=18, minutes=30), 1110),
        (0.7708333333, 1110),
    ],
)
def test_times_are_read_as_people_and_excel_write_them(typed: Any, minutes: int) -> None:
    """Text of many styles, Excel times, dates with times and fractions of a day."""
    assert as_time(typed) == minutes


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "soon",
        "25:00",
        "18:60",
        "13 pm",
        "0 am",
        "6 pm 3",
        18,
        18.3,
        -0.5,
        True,
        None,
        dt.timedelta(hours=30),
        dt.date(2026, 1, 1),
    ],
)
def test_what_is_no_time_is_refused(typed: Any) -> None:
    """Numbers that could be hours or typing errors are not guessed at."""
    with pytest.raises(ValueError, match="must be a time"):
        as_time(typed)


@pytest.mark.parametrize(
    ("typed", "level"),
    [(1, 1.0), (10.0, 10.0), ("4,5", 4.5), (" 4.5 ", 4.5), ("٤", 4.0), ("+3", 3.0)],
)
def test_levels_take_points_commas_and_other_digits(typed: Any, level: float) -> None:
    """Numbers typed as text count, in any script that has digits."""
    assert as_level(typed) == level


@pytest.mark.parametrize(
    "typed", [0.99, 10.01, "1e1", "4,5,6", "nan", "inf", float("inf"), 10**400, True, "½", "--4"]
)
def test_what_is_no_level_is_refused(typed: Any) -> None:
    """Out of range, not finite, and things that only look like numbers."""
    with pytest.raises(ValueError, match="must be a number from 1 to 10"):
        as_level(typed)


@pytest.mark.parametrize(
    ("typed", "number"), [(4, 4), (4.0, 4), ("4", 4), ("4,0", 4), ("4.0", 4), ("04", 4)]
)
def test_whole_numbers_may_be_written_as_floats(typed: Any, number: int) -> None:
    """Excel stores 4 as 4.0; that is whole."""
    assert whole(1, 9)(typed) == number


@pytest.mark.parametrize("typed", [0, 10, 4.5, "4.5", "four", "", None, True])
def test_what_is_no_whole_number_is_refused(typed: Any) -> None:
    """Fractions, words and numbers out of range are not rounded into place."""
    with pytest.raises(ValueError, match="must be a whole number from 1 to 9"):
        whole(1, 9)(typed)


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        (4, "4"),
        (4.0, "4"),
        (4.5, "4.5"),
        (True, "yes"),
        ("  Jo\u0301n \u00a0", "J\u00f3n"),
        ("Ann\nLee", "Ann Lee"),
        ("Ann\u00a0Lee", "Ann Lee"),
        ("=SUM(A1)", "=SUM(A1)"),
    ],
)
def test_text_is_what_a_person_would_have_typed(typed: Any, text: str) -> None:
    """Numbers become text, blanks outside go, accents are composed, nothing is executed."""
    assert as_text(typed) == text


@pytest.mark.parametrize("name", ["", " \u200b ", "\u2060", "a\x00b", "\ud800", "x\uffff"])
def test_names_must_be_printable(name: str) -> None:
    """A name needs something to see, and nothing that no file can hold."""
    with pytest.raises(ValueError, match="must"):
        as_name(name)


@pytest.mark.parametrize(
    "name", ["x" * 300, "👩🏽‍🦱", "هدى", "-", "@me", "+1", "彩葉", "O'Neil 3rd"]
)
def test_names_of_any_script_are_kept(name: str) -> None:
    """Long names, emoji, right-to-left and signs stay as they are."""
    assert as_name(name) == name


def test_choices_forgive_case_and_hyphens_and_hint_at_slips() -> None:
    """The words of a list are found whatever the case; a near miss is told the word."""
    assert choice(SetFormat)("TIE BREAK_set") is SetFormat.TIE_BREAK
    assert choice(Emphasis)(" Meet  everyone ") is Emphasis.MEET_EVERYONE
    with pytest.raises(ValueError, match="did you mean 'balance'"):
        choice(Emphasis)("ballance")


@pytest.mark.parametrize(
    ("typed", "date"),
    [
        ("2026-12-01", "2026-12-01"),
        ("1.12.2026", "2026-12-01"),
        (dt.date(2026, 12, 1), "2026-12-01"),
        (dt.datetime(2026, 12, 1, 18, 0), "2026-12-01"),  # noqa: DTZ001  as in a cell
    ],
)
def test_dates_are_read_where_they_can_mean_one_day(typed: Any, date: str) -> None:
    """ISO dates, dotted dates (day first) and Excel dates."""
    assert as_date(typed) == date


@pytest.mark.parametrize("typed", ["1/12/2026", "31.2.2026", "2026-13-01", 46000, "today"])
def test_dates_that_could_mean_two_days_are_refused(typed: Any) -> None:
    """A date with slashes means different days in different countries, so it is asked for anew."""
    with pytest.raises(ValueError, match="must be a date such as 2026-12-01"):
        as_date(typed)


@given(st.integers(1, 20_000))
def test_column_letters_count_as_spreadsheets_do(column: int) -> None:
    """Reading the letters back as digits 1 to 26 gives the column's number."""
    number = 0
    for letter in column_letters(column):
        number = number * 26 + ord(letter) - ord("A") + 1
    assert number == column
