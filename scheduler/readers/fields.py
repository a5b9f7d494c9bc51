"""From what stands in a cell to what it means.

Cells hold numbers typed as text, text that looks like times, decimal commas,
dates where a person wrote a fraction. Each function here takes a raw value
and returns what the domain wants, or raises `ValueError` with the end of a
sentence that starts with the column's name.
"""

from __future__ import annotations

import datetime as dt
import math
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from typing import Any, TypeVar

from scheduler.domain.clock import DAY, parse_time
from scheduler.domain.suggest import fold, hint
from scheduler.readers.plain_words import quoted

# Days are counted from 1900 in workbooks, so 18.30 typed into a cell for times is a day of 1900.
_REAL_DATES = dt.date(1910, 1, 1)
LOWEST_LEVEL, HIGHEST_LEVEL = 1, 10

_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
_TWELVE_HOURS = re.compile(r"(\d{1,2})(?:[:.](\d{2}))?\s*([ap])\.?\s?m\.?", re.IGNORECASE)
_DOTTED_DATE = re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})")
_BLANKS = "".join(chr(code) for code in (0x20, 0x09, 0x0A, 0x0D, 0xA0, 0x202F, 0x200B, 0xFEFF))
_TO_ONE_BLANK = re.compile("[\t\r\n\u00a0\u202f]+")
_LINE_BREAKS = re.compile("[\r\n]+")
_UNWRITABLE = frozenset("\ufffe\uffff")

E = TypeVar("E", bound=StrEnum)


def shown(value: Any) -> str:
    """Return a raw cell value as it may stand in a message."""
    if isinstance(value, dt.datetime):
        return f"the date {value:%Y-%m-%d}" if value.time() == dt.time() else str(value)
    if isinstance(value, dt.date):
        return f"the date {value:%Y-%m-%d}"
    if isinstance(value, dt.time):
        return f"the time {value:%H:%M}"
    return quoted(value)


def as_text(value: Any) -> str:
    """Return text; a number becomes the text a person would have typed.

    Outer blanks are taken off, line breaks become blanks, and the characters
    are brought to their composed form (Unicode NFC).
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return str(int(value)) if _is_whole(value) else str(value)
    if isinstance(value, dt.date | dt.time | dt.timedelta):
        advice = "; format the cell as text and retype it"
        raise ValueError(f"must be text, got {shown(value)}{advice}")  # noqa: TRY004  for pydantic
    text = unicodedata.normalize("NFC", _TO_ONE_BLANK.sub(" ", str(value)).strip(_BLANKS))
    if any(_cannot_be_written(char) for char in text):
        raise ValueError("must not hold control characters")
    return text


def as_name(value: Any) -> str:
    """Return the name of a person or a court, in any script, with something to see in it."""
    text = as_text(value)
    if not any(unicodedata.category(char)[0] not in "CZ" for char in text):
        raise ValueError("must have something that can be seen in print")
    return text


def as_list(value: Any) -> str:
    """Return text that lists things, line breaks between them made semicolons."""
    return as_text(_LINE_BREAKS.sub(";", value) if isinstance(value, str) else value)


def as_number(value: Any) -> float:
    """Return a number, from a number or from text with a decimal point or comma."""
    number = _number(value)
    if number is None:
        raise ValueError(f"must be a number, got {shown(value)}")
    return number


def as_level(value: Any) -> float:
    """Return a level from 1 to 10."""
    number = _number(value)
    if number is None or not LOWEST_LEVEL <= number <= HIGHEST_LEVEL:
        advice = "; format the cell as a number and retype it" if _is_moment(value) else ""
        raise ValueError(f"must be a number from 1 to 10, got {shown(value)}{advice}")
    return number


def whole(low: int, high: int) -> Callable[[Any], int]:
    """Return a reader of whole numbers between two limits; 4.0 is whole."""

    def as_whole(value: Any) -> int:
        number = _number(value)
        if number is None or not _is_whole(number) or not low <= number <= high:
            raise ValueError(f"must be a whole number from {low} to {high}, got {shown(value)}")
        return int(number)

    return as_whole


def as_time(value: Any) -> int:
    """Return minutes after midnight, from an Excel time, a date with a time, or text."""
    if isinstance(value, dt.timedelta):
        return _minutes(value.total_seconds() / 60, value)
    if isinstance(value, dt.datetime) and dt.date(1900, 1, 1) <= value.date() < _REAL_DATES:
        raise ValueError("must be a time such as 18:30, got a number shown as a time")
    if isinstance(value, dt.time | dt.datetime):
        return _minutes(value.hour * 60 + value.minute + value.second / 60, value)
    if isinstance(value, float) and 0 < value < 1:  # a time in a cell formatted as a number
        return _minutes(value * DAY, value)
    if isinstance(value, str):
        return _written_time(value)
    raise ValueError(f"must be a time such as 18:30, got {shown(value)}")


def as_date(value: Any) -> str:
    """Return a date as ``"2026-12-01"``."""
    if isinstance(value, dt.datetime | dt.date):
        return f"{value:%Y-%m-%d}"
    text = as_text(value)
    dotted = _DOTTED_DATE.fullmatch(text)
    try:
        if dotted:
            return dt.date(int(dotted[3]), int(dotted[2]), int(dotted[1])).isoformat()
        return dt.date.fromisoformat(text).isoformat()
    except ValueError:
        raise ValueError(f"must be a date such as 2026-12-01, got {shown(value)}") from None


def choice(options: type[E], advice: Mapping[str, str] | None = None) -> Callable[[Any], E]:
    """Return a reader of one of a few words; case, accents and hyphens do not matter.

    Parameters
    ----------
    options
        The words.
    advice
        For words people type that are none of them, what to write instead.
    """
    by_fold = {_folded(option): option for option in options}

    def as_choice(value: Any) -> E:
        text = as_text(value)
        found = by_fold.get(_folded(text))
        if found is None:
            known = (advice or {}).get(_folded(text))
            instead = f"; {known}" if known else hint(text, list(options))
            raise ValueError(f"must be {listed(options)}, got {quoted(text)}{instead}")
        return found

    return as_choice


def listed(words: Iterable[str]) -> str:
    """Return words as a list with "or" before the last."""
    *others, last = words
    return f"{', '.join(others)} or {last}" if others else last


def _folded(text: str) -> str:
    return " ".join(re.sub(r"[-_\s]+", " ", fold(text)).split())


def _number(value: Any) -> float | None:
    if isinstance(value, bool):
        return None
    if isinstance(value, int | float):
        return float(value) if abs(value) < 1e300 and math.isfinite(value) else None
    if not isinstance(value, str):
        return None
    text = unicodedata.normalize("NFKC", value).strip(_BLANKS)
    return float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else None


def _is_whole(number: float) -> bool:
    return isinstance(number, int) or (math.isfinite(number) and number == int(number))


def _is_moment(value: Any) -> bool:
    return isinstance(value, dt.date | dt.time | dt.timedelta)


def _written_time(value: str) -> int:
    text = unicodedata.normalize("NFKC", value).strip(_BLANKS)
    twelve = _TWELVE_HOURS.fullmatch(text)
    if twelve and 1 <= int(twelve[1]) <= 12 and int(twelve[2] or 0) < 60:
        noon = 12 if twelve[3].lower() == "p" else 0
        return (int(twelve[1]) % 12 + noon) * 60 + int(twelve[2] or 0)
    try:
        return parse_time(text)
    except ValueError:
        raise ValueError(f"must be a time such as 18:30, got {quoted(value)}") from None


def _minutes(minutes: float, value: Any) -> int:
    rounded = round(minutes)  # Excel keeps times as fractions of a day: 18:29:59.99 is 18:30
    if not 0 <= rounded <= DAY:
        raise ValueError(f"must be a time from 00:00 to 24:00, got {quoted(str(value))}")
    return rounded


def _cannot_be_written(char: str) -> bool:
    return unicodedata.category(char) in {"Cc", "Cs"} or char in _UNWRITABLE
