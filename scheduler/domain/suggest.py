"""Did-you-mean: the nearest of some known words, accents and case aside."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable


def fold(text: str) -> str:
    """Return text without accents, case and outer or doubled spaces, for comparing."""
    decomposed = unicodedata.normalize("NFKD", " ".join(text.split()).casefold())
    return "".join(char for char in decomposed if not unicodedata.combining(char))


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like the given one, or None when none is near."""
    by_fold = {fold(candidate): candidate for candidate in known}
    found = difflib.get_close_matches(fold(word), by_fold, n=1, cutoff=0.6)
    return by_fold[found[0]] if found else None


def hint(word: str, known: Iterable[str]) -> str:
    """Return ``"; did you mean 'X'?"``, or nothing when no known word is near."""
    candidate = nearest(word, known)
    return f"; did you mean '{candidate}'?" if candidate else ""
