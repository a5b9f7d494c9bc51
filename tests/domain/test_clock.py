"""Times of an evening, past midnight too."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.clock import DAY, format_time, of_the_evening, parse_time


@given(st.integers(0, DAY - 1))
def test_a_time_written_is_read_back(minute: int) -> None:
    """Every minute of a day survives being written and read."""
    assert parse_time(format_time(minute)) == minute


@pytest.mark.parametrize("text", ["18:30", "18.30", "18h30", " 18:30 ", "18:30:59", "18 : 30"])
def test_the_usual_ways_to_write_half_past_six(text: str) -> None:
    """Colon, point or h, with seconds or spaces: 1110 minutes after midnight."""
    assert parse_time(text) == 18 * 60 + 30


@pytest.mark.parametrize("text", ["", "18", "25:00", "24:01", "12:60", "6pm", "-1:00", "18:3"])
def test_what_is_no_time_is_refused(text: str) -> None:
    """Anything else is an error that quotes what was written."""
    with pytest.raises(ValueError, match="must be a time") as refusal:
        parse_time(text)
    assert f'"{text}"' in str(refusal.value)


def test_midnight_ends_a_day() -> None:
    """24:00 is the end of the day, and is written 00:00."""
    assert parse_time("24:00") == DAY
    assert format_time(DAY) == "00:00"


@pytest.mark.parametrize(
    ("minute", "start", "meant"),
    [
        (30, 22 * 60, DAY + 30),  # half past midnight of an evening from ten
        (21 * 60, 22 * 60, 21 * 60),  # somebody who is there an hour early
        (18 * 60, 18 * 60, 18 * 60),
        (9 * 60, 21 * 60, 9 * 60),  # just twelve hours before is still that day
        (9 * 60 - 1, 21 * 60, DAY + 9 * 60 - 1),
    ],
)
def test_small_hours_belong_to_the_evening_before(minute: int, start: int, meant: int) -> None:
    """A time more than twelve hours before the start can only mean the next day."""
    assert of_the_evening(minute, start) == meant
