"""Which names may be two spellings of one person: worth a question, never an answer."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable

from scheduler.domain.suggest import fold

_ALIKE = 0.8
_SHORTEST_FOR_ONE_SLIP = 4
_DIGITS = re.compile(r"\d+")


def same_letters(name: str) -> str:
    """Return a name without case and doubled blanks: what nobody means as a difference."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


def are_close(one: str, other: str) -> bool:
    """Return whether two names look like spellings of one.

    They do where only accents differ, the words stand in another order, one
    leaves a part out or has an initial for it, or there is a slip of a letter
    or two. Names that differ in their numbers ("Player 7", "Player 17") were
    made different on purpose.
    """
    first, second = fold(one), fold(other)
    if first == second:
        return True
    if _DIGITS.findall(first) != _DIGITS.findall(second):
        return False
    words, others = first.replace(".", " ").split(), second.replace(".", " ").split()
    if sorted(words) == sorted(others) or _abbreviates(words, others):
        return True
    shortest = min(len(first), len(second))
    if shortest >= _SHORTEST_FOR_ONE_SLIP and _one_slip(first, second):
        return True
    return difflib.SequenceMatcher(None, first, second, autojunk=False).ratio() >= _ALIKE


def closest(name: str, known: Iterable[str]) -> str | None:
    """Return the known name that is most like the given one, or None when none is close."""
    ranked = sorted(
        (-difflib.SequenceMatcher(None, fold(name), fold(other)).ratio(), other)
        for other in known
        if are_close(name, other)
    )
    return ranked[0][1] if ranked else None


def _abbreviates(words: list[str], others: list[str]) -> bool:
    """Return whether each word of the shorter name begins a word of the longer, one in full."""
    short, long = sorted((words, others), key=lambda parts: (len(parts), len("".join(parts))))
    if not short or short[0] != long[0]:
        return bool(short) and short[-1] == long[-1] and _begins(short[0], long[0])
    return all(any(_begins(word, full) for full in long[1:]) for word in short[1:])


def _begins(word: str, full: str) -> bool:
    return full.startswith(word) and (len(word) == 1 or word == full)


def _one_slip(one: str, other: str) -> bool:
    """Return whether one letter more, less, other or swapped turns one name into the other."""
    short, long = sorted((one, other), key=len)
    if len(long) - len(short) > 1:
        return False
    start = next((i for i, (a, b) in enumerate(zip(short, long, strict=False)) if a != b), None)
    if start is None:
        return True
    if len(short) < len(long):
        return short[start:] == long[start + 1 :]
    rest, rest_of_other = short[start + 1 :], long[start + 1 :]
    swapped = short[start : start + 2] == long[start : start + 2][::-1]
    return rest == rest_of_other or (swapped and short[start + 2 :] == long[start + 2 :])
