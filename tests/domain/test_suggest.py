"""Did-you-mean."""

from __future__ import annotations

import pytest

from scheduler.domain.suggest import fold, hint, nearest

KNOWN = ["Jón", "Ana Maria", "Łucja", "佐伯 美緒"]


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("Jon", "Jón"),
        ("ana  maria", "Ana Maria"),
        ("Anna Maria", "Ana Maria"),
        ("佐伯美緒", "佐伯 美緒"),
        ("Zbigniew", None),
        ("", None),
    ],
)
def test_the_nearest_word_is_found_without_accents_and_case(word: str, meant: str | None) -> None:
    """Accents, case and spaces do not count; what is like nothing gets no suggestion."""
    assert nearest(word, KNOWN) == meant


def test_a_hint_is_a_phrase_or_nothing() -> None:
    """The hint can be put behind any message."""
    assert hint("Jon", KNOWN) == "; did you mean 'Jón'?"
    assert not hint("Zbigniew", KNOWN)
    assert not hint("Jon", [])


def test_folding_twice_changes_nothing_more() -> None:
    """A folded word stays as it is."""
    assert all(fold(fold(word)) == fold(word) for word in [*KNOWN, "  ÀÉ  ß "])
