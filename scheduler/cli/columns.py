"""Plain text in columns, counting wide and combining letters as a terminal shows them."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

_GAP = "  "


def width(text: str) -> int:
    """Return how many places a text takes on a terminal."""
    return sum(_places(char) for char in text)


def pad(text: str, places: int) -> str:
    """Return the text followed by blanks up to so many places."""
    return text + " " * (places - width(text))


def centre(text: str, places: int) -> str:
    """Return the text in the middle of so many places."""
    left = max(0, places - width(text)) // 2
    return pad(" " * left + text, places)


def columns(rows: Sequence[Sequence[str]]) -> str:
    """Return rows as lines with their columns flush left; all rows are of one length."""
    places = [max(width(cell) for cell in column) for column in zip(*rows, strict=True)]
    lines = (_GAP.join(map(pad, row, places)).rstrip() for row in rows)
    return "\n".join(lines)


def _places(char: str) -> int:
    if unicodedata.combining(char) or unicodedata.category(char) in {"Cf", "Mn", "Me"}:
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1
