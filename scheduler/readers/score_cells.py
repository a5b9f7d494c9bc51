"""From what stands in score cells to a score, where its meaning is certain.

People type ``6`` and ``4``, but also ``6-4`` into one cell, and a spreadsheet
may have made the date 6 April or 4 June of that: which of the two cannot be
told from the date alone.
"""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from typing import Any

from scheduler.domain.score_text import MOST, Mark, SetScore
from scheduler.domain.suggest import fold, hint
from scheduler.readers.cells import Unreadable
from scheduler.readers.fields import listed, shown
from scheduler.readers.plain_words import quoted
from scheduler.readers.score_dates import DateFound, counted_day, date_in, number_in_a_date

_DASHES = "-\u2010\u2011\u2012\u2013\u2014\u2212:/"
_SET = re.compile(
    rf"(\d{{1,4}})\s*[{_DASHES}]\s*(\d{{1,4}})(?:\s*\(\s*(\d{{1,3}})(?:\s*[{_DASHES}]\s*(\d{{1,3}}))?\s*\))?"
)
_ONE = re.compile(r"(\d{1,4})(?:\s*\(\s*(\d{1,3})\s*\))?")
_DECIMAL = re.compile(r"(\d{1,2})[.,](\d{1,2})")
_TIME = re.compile(r"(\d{1,2}):(\d{2})(?::00)?(?:\s*AM)?", re.IGNORECASE)
_WORD_OF_A_DATE = re.compile(r"\d{1,2}[-. ]?\s?[^\W\d]{3,9}\.?|[^\W\d]{3,9}\.?[- ]\d{1,2}")
_OWN_COLUMN = "type each team's games into its own cell"


class Uncertain(ValueError):
    """A cell whose meaning is not certain; `second` says it is the cell of team B."""

    def __init__(self, what: str, *, second: bool = False) -> None:
        super().__init__(what)
        self.second = second


def read_pair(a: Any, b: Any) -> tuple[SetScore, ...]:
    """Return the score that two cells hold, none where both are blank (None).

    Parameters
    ----------
    a, b
        The raw values under ``Score A`` and ``Score B``.

    Raises
    ------
    Uncertain
        If the meaning is not certain; the message is the end of a sentence
        that starts with the column's name.
    """
    for value, is_b in ((a, False), (b, True)):
        if isinstance(value, Unreadable):
            raise Uncertain(value.why, second=is_b)
    if a is None and b is None:
        return ()
    a, b = _plain(a), _plain(b)
    if a is not None and b is not None:
        a, b = number_in_a_date(a), number_in_a_date(b)
    if date_in(a) or date_in(b):
        return (_with_date(a, b),)
    whole = _whole_score(a)
    if whole:
        return _beside(whole, a, b)
    if _whole_score(b):
        what = f"holds a whole score, {shown(b)}; {_OWN_COLUMN}"
        raise Uncertain(what, second=True)
    one = None if a is None else _one(a, second=False)
    other = None if b is None else _one(b, second=True)
    if one is None or other is None:
        raise Uncertain("is missing, the other team's is there", second=other is None)
    (first, lost_a), (second, lost_b) = one, other
    lost = [points for points in (lost_a, lost_b) if points is not None]
    return (SetScore(first, second, min(lost) if lost else None),)


def read_score(value: Any) -> tuple[SetScore, ...]:
    """Return the score that one cell for both teams holds, none where it is blank (None).

    Raises
    ------
    Uncertain
        If the meaning is not certain.
    """
    if isinstance(value, Unreadable):
        raise Uncertain(value.why)
    if value is None:
        return ()
    value = _plain(value)
    if date_in(value):
        return (_with_date(value, None),)
    whole = _whole_score(value)
    if not whole:
        raise Uncertain(f"must be a score such as 6-4, got {shown(value)}{_advice(value)}")
    return whole


def read_mark(value: Any) -> Mark | None:
    """Return how a match was cut short, None where the cell is blank (None).

    Raises
    ------
    Uncertain
        If the word is not one of the known ones.
    """
    if value is None:
        return None
    if isinstance(value, Unreadable):
        raise Uncertain(value.why)
    text = " ".join(fold(str(value)).split())
    for mark in Mark:
        if fold(mark) == text:
            return mark
    raise Uncertain(f"must be {listed(list(Mark))}, got {shown(value)}{hint(text, list(Mark))}")


def _beside(whole: tuple[SetScore, ...], a: Any, b: Any) -> tuple[SetScore, ...]:
    """Return a whole score typed into the first cell, if the second one does not contradict it."""
    if b is None:
        return whole
    second, _ = _one(b, second=True)
    if len(whole) == 1 and whole[0].b == second:
        return whole
    raise Uncertain(f"holds a whole score, {shown(a)}, which {shown(b)} beside it contradicts")


def _whole_score(value: Any) -> tuple[SetScore, ...]:
    """Return the sets of a text such as "6-4 3-6", or of the time 6:04; none of anything else."""
    if isinstance(value, dt.timedelta):
        minutes, seconds = divmod(int(value.total_seconds()), 60)
        if seconds or not 0 <= minutes < 24 * 60:
            return ()
        return (SetScore(*divmod(minutes, 60)),)
    if isinstance(value, dt.time):  # 6:4 typed into a cell becomes a time, hours first
        return (SetScore(value.hour, value.minute),) if value.second == 0 else ()
    return _written_score(value) if isinstance(value, str) else ()


def _written_score(value: str) -> tuple[SetScore, ...]:
    time = _TIME.fullmatch(value)
    if time:
        return (SetScore(int(time[1]), int(time[2])),)
    found = list(_SET.finditer(value))
    if not found or _SET.sub(" ", value).replace(",", " ").replace(";", " ").strip():
        return ()
    return tuple(_set(match) for match in found)


def _set(match: re.Match[str]) -> SetScore:
    lost = [int(points) for points in match.groups()[2:] if points]
    score = SetScore(int(match[1]), int(match[2]), min(lost) if lost else None)
    if max(score.a, score.b) > MOST:
        raise Uncertain(f"must be at most {MOST} games, got {score}")
    return score


def _one(value: Any, *, second: bool) -> tuple[int, int | None]:
    """Return one team's games, and the points of a lost tie-break that stand beside them."""
    what = f"must be a whole number from 0 to {MOST}, got {shown(value)}"
    if isinstance(value, str):
        found = _ONE.fullmatch(value)
        if found and int(found[1]) <= MOST:
            return int(found[1]), int(found[2]) if found[2] else None
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if is_number and 0 <= value <= MOST and value == int(value):
        return int(value), None
    day = counted_day(value)
    if day:
        raise Uncertain(_made_a_date(day), second=second)
    raise Uncertain(what + _advice(value), second=second)


def _advice(value: Any) -> str:
    decimal = _DECIMAL.fullmatch(value if isinstance(value, str) else quoted(value))
    if decimal:
        return f"; if {decimal[1]}-{decimal[2]} is meant, {_OWN_COLUMN}"
    if isinstance(value, str) and _WORD_OF_A_DATE.fullmatch(value):
        return f"; if the spreadsheet made a date of the score, {_OWN_COLUMN}"
    return ""


def _with_date(a: Any, b: Any) -> SetScore:
    """Return the score a date was made of, if the other cell leaves only one way to read it."""
    first, second = date_in(a), date_in(b)
    date, other = (first, b) if first else (second, a)
    assert date is not None
    if first and second:
        raise Uncertain(_made_a_date(first))
    if other is None and date.day == date.month:
        return SetScore(*date.parts)
    number = None if other is None else _one(other, second=first is not None)[0]
    if number not in date.parts:
        raise Uncertain(_made_a_date(date), second=first is None)
    rest = date.month if number == date.day else date.day
    return SetScore(rest, number) if first else SetScore(number, rest)


def _made_a_date(date: DateFound) -> str:
    ways = " or ".join(dict.fromkeys((f"{date.day}-{date.month}", f"{date.month}-{date.day}")))
    return f"holds {date.words}, which a spreadsheet makes of {ways}; {_OWN_COLUMN}"


def _plain(value: Any) -> Any:
    """Return text in plain letters and digits, without what nobody sees; other values as is."""
    if not isinstance(value, str):
        return value
    return " ".join(unicodedata.normalize("NFKC", value).strip("\u200b\ufeff '").split())
