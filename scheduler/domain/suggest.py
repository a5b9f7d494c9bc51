"""Did-you-mean: the nearest of some known words, accents and case aside."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable

_STROKED = str.maketrans(
    {
        "ł": "l", "ø": "o", "đ": "d", "ð": "d", "ħ": "h", "ŧ": "t", "ƀ": "b", "ɨ": "i", "ʉ": "u",
        "æ": "ae", "œ": "oe", "þ": "th", "\u0131": "i", "ŋ": "n", "ĸ": "k", "ə": "e",
    }
)  # fmt: skip
"""Letters that Unicode does not take apart, as people look for them without that letter's key."""
_DIGITS = re.compile(r"\d+")


def fold(text: str) -> str:
    """Return text without accents, strokes, case and outer or doubled spaces, for comparing.

    Does not depend on a language: Unicode's compatibility decomposition (NFKD),
    and a table for letters it leaves whole, such as ł, ø and đ.
    """
    decomposed = unicodedata.normalize("NFKD", " ".join(text.split()).casefold())
    return "".join(c for c in decomposed if not unicodedata.combining(c)).translate(_STROKED)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like the given one, or None when none is near.

    One that differs in its number alone is another thing, not a slip: no
    Court 2 is offered for a Court 3.
    """
    wanted = fold(word)
    by_fold = {fold(candidate): candidate for candidate in known}
    by_fold = {text: candidate for text, candidate in by_fold.items() if _may_mean(wanted, text)}
    found = difflib.get_close_matches(fold(word), by_fold, n=1, cutoff=0.6)
    return by_fold[found[0]] if found else None


def _may_mean(word: str, other: str) -> bool:
    """Return whether two folded words are one, or differ in more than their numbers."""
    numbers = [[d.lstrip("0") for d in _DIGITS.findall(text)] for text in (word, other)]
    if numbers[0] == numbers[1] or not all(numbers):
        return True
    return _DIGITS.sub("", word) != _DIGITS.sub("", other)


def hint(word: str, known: Iterable[str]) -> str:
    """Return ``"; did you mean 'X'?"``, or nothing when no known word is near."""
    candidate = nearest(word, known)
    return f"; did you mean '{candidate}'?" if candidate else ""
