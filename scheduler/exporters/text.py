"""Names and labels made fit to be shown: cleaned, shortened, kept in their own direction.

Nothing here knows a file format; every exporter uses it through
`scheduler.exporters.view`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

LONGEST_LABEL = 40
_UNPRINTABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_ISOLATE = "\u2068{}\u2069"
_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})
_WIDE = frozenset({"W", "F"})
_WIDEST = 2  # columns of the widest letter
_CAPITAL = 0.25  # how much wider than a digit a capital is


def clean(text: str) -> str:
    """Return the text on one line, without characters no document can hold."""
    return " ".join(_UNPRINTABLE.sub("\ufffd", text).split())


def short_labels(names: Sequence[str], keys: Sequence[str]) -> dict[str, str]:
    """Return a label for every name: the name, or its start and its key where it is long.

    Parameters
    ----------
    names, keys
        The people and their short keys, one for one; a shortened name carries
        the key, so that two long names never look alike.
    """
    return {name: _short(clean(name), key) for name, key in zip(names, keys, strict=True)}


def _short(name: str, key: str) -> str:
    if len(name) <= LONGEST_LABEL:
        return name or key
    start = name[: LONGEST_LABEL - len(key) - 2]
    while start and _continues(name[len(start)]):
        start = start[:-1]
    return f"{start.rstrip()}… {key}"


def _continues(character: str) -> bool:
    joins = character in "\u200d\ufe0f" or "\U0001f3fb" <= character <= "\U0001f3ff"
    return joins or unicodedata.combining(character) > 0


def isolated(label: str) -> str:
    """Return the label so that it can stand in a line with others.

    A label written right to left is wrapped in directional isolates
    (Unicode Standard Annex 9), so that it does not turn its neighbours round.
    """
    if any(unicodedata.bidirectional(character) in _RIGHT_TO_LEFT for character in label):
        return _ISOLATE.format(label)
    return label


def join(labels: Iterable[str], between: str = ", ") -> str:
    """Return labels on one line, each kept in its own direction."""
    return between.join(isolated(label) for label in labels)


def width(text: str) -> int:
    """Return about how many columns of a typewriter the longest line takes."""
    return max((_line_width(line) for line in text.split("\n")), default=0)


def _line_width(line: str) -> int:
    if line.isascii():
        return len(line)
    return sum(_character_width(character) for character in line)


def _character_width(character: str) -> int:
    if unicodedata.combining(character) or unicodedata.category(character) == "Cf":
        return 0
    return 2 if unicodedata.east_asian_width(character) in _WIDE else 1


def lines_needed(text: str, columns: float) -> int:
    """Return about how many lines the text takes when wrapped at blanks to so many columns."""
    room = max(int(columns), 1)
    return sum(_wrapped(line, room) for line in text.split("\n"))


def _wrapped(line: str, room: int) -> int:
    if len(line) * _WIDEST <= room:
        return 1
    lines, used = 1, 0
    for word in line.split(" "):
        size = _word_width(word)
        if used and used + 1 + size > room:
            lines, used = lines + 1, 0
        whole, rest = divmod(max(size - 1, 0), room)
        lines += whole  # a word longer than a line is broken
        used += (1 if used else 0) + rest + 1
    return lines


def _word_width(word: str) -> int:
    capitals = sum(character.isupper() for character in word)
    return _line_width(word) + round(capitals * _CAPITAL)


def number(value: float) -> str:
    """Return a figure with at most two decimals and no trailing zeros."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if value % 1 else str(int(value))


def counted(count: int, one: str, many: str) -> str:
    """Return ``"1 pair"`` or ``"3 pairs"``."""
    return f"{count} {one if count == 1 else many}"
