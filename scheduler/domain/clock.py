"""Times of one evening as whole minutes after the midnight it began on.

An evening may run past midnight, so minutes go on above 1440: 00:30 of an
evening that starts at 22:00 is minute 1470.
"""

from __future__ import annotations

import re

DAY = 24 * 60
_HALF_DAY = DAY // 2
_TIME = re.compile(r"(\d{1,2})\s*[:.h]\s*(\d{2})(?::\d{2})?")


def parse_time(text: str) -> int:
    """Return the minutes after midnight that a written time means.

    Parameters
    ----------
    text
        ``"18:30"``, ``"18.30"``, ``"18h30"`` or with seconds, which are dropped.

    Raises
    ------
    ValueError
        If the text is not a time from 00:00 to 23:59 (or 24:00).
    """
    match = _TIME.fullmatch(text.strip())
    if match is None:
        raise ValueError(f'must be a time such as 18:30, got "{text}"')
    hours, minutes = int(match[1]), int(match[2])
    if minutes > 59 or hours * 60 + minutes > DAY:
        raise ValueError(f'must be a time from 00:00 to 24:00, got "{text}"')
    return hours * 60 + minutes


def of_the_evening(minute: int, start: int) -> int:
    """Move a time past midnight where it can only mean the following day.

    A time more than twelve hours before the start belongs to the night after.
    """
    return minute + DAY if minute + _HALF_DAY < start else minute


def format_time(minute: int) -> str:
    """Return ``"hh:mm"`` of a minute count, wrapping past midnight."""
    return f"{minute // 60 % 24:02d}:{minute % 60:02d}"
