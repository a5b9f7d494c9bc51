"""Dates that a spreadsheet made of a score: 6-4 becomes 6 April in one country, 4 June in another.

Which of the two was typed cannot be told from the date alone, but a number in
the other team's cell, or a date such as 4 April, leaves one way to read it.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from typing import Any

from scheduler.readers.fields import shown

_FIRST_DAY = dt.date(1899, 12, 30)
"""Day 0 as workbooks count days (ECMA-376, part 1, section 18.17.4.1, the 1900 system)."""
_NO_SUCH_DAY = 60  # workbooks have a 29 February 1900; days before it are one off
_COUNTED = range(20_000, 80_000)  # days of 1954 to 2119: no score is as high
_REAL_DATES = 1910  # before it, a day of a workbook is a time that ran over midnight
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = "|".join(f"{month}[a-z]{{0,6}}" for month in _MONTHS)
_WRITTEN = [
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"\d{4}-(?P<month>\d{1,2})-(?P<day>\d{1,2})(?:[T ]00:00(?::00(?:\.0+)?)?)?",
        r"(?P<day>\d{1,2})([-/.])\s?(?P<month>\d{1,2})\2\s?(?:\d{4}|\d{2})",
        rf"(?P<day>\d{{1,2}})\.?[-/ ]?(?P<month>{_MONTH})\.?(?:[-/ ,]+(?:\d{{4}}|\d{{2}}))?",
        rf"(?P<month>{_MONTH})\.?[-/ ]?(?P<day>\d{{1,2}})(?:[-/ ,]+(?:\d{{4}}|\d{{2}}))?",
    )
]
_LAST_DAY, _LAST_MONTH = 31, 12


@dataclass(frozen=True, slots=True)
class DateFound:
    """A date in a score cell: its two numbers, and how to say what stands there."""

    day: int
    month: int
    words: str

    @property
    def parts(self) -> tuple[int, int]:
        """The two numbers, one of them the first team's games."""
        return self.day, self.month


def date_in(value: Any) -> DateFound | None:
    """Return the date a cell holds, as a date or written as text, None for anything else."""
    if isinstance(value, dt.datetime) and value.year < _REAL_DATES:
        return None
    if isinstance(value, dt.date):
        return DateFound(value.day, value.month, shown(value))
    return _written(value) if isinstance(value, str) else None


def counted_day(value: Any) -> DateFound | None:
    """Return the date of a number that can only be a count of days, None for anything else."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number or value not in _COUNTED:
        return None
    date = _FIRST_DAY + dt.timedelta(days=int(value))
    return DateFound(date.day, date.month, f"{int(value)}, which counts days up to {date}")


def number_in_a_date(value: Any) -> Any:
    """Return the number of a cell that kept the format of a date; other values as they are.

    A cell in which a score became a date once shows 6 as a day of 1900 ever
    after, and 0 as midnight.
    """
    if isinstance(value, dt.time) and value == dt.time():
        return 0
    if not isinstance(value, dt.datetime) or value.year >= _REAL_DATES or value.time() != dt.time():
        return value
    days = (value.date() - _FIRST_DAY).days
    return days if days > _NO_SUCH_DAY else days - 1


def _written(text: str) -> DateFound | None:
    for pattern in _WRITTEN:
        found = pattern.fullmatch(text)
        if found:
            day, month = int(found["day"]), _month(found["month"])
            if month > _LAST_MONTH:  # the other order of the two
                day, month = month, day
            if 1 <= day <= _LAST_DAY and 1 <= month <= _LAST_MONTH:
                return DateFound(day, month, shown(text))
    return None


def _month(word: str) -> int:
    return int(word) if word.isdigit() else _MONTHS.index(word[:3].casefold()) + 1
