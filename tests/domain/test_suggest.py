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
        ("Lucja", "Łucja"),
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


def test_letters_with_a_stroke_are_found_and_sorted_by_their_plain_letter() -> None:
    """Unicode does not take ł, ø or đ apart; people look for them under l, o and d.

    Common practice in lists for readers of many languages, no source.
    """
    names = ["Quỳnh", "Øystein", "Łucja", "Đuro", "Ægir", "Åsa", "Zoë", "Lena", "Odd", "Dora"]
    assert sorted(names, key=fold) == [
        "Ægir", "Åsa", "Dora", "Đuro", "Lena", "Łucja", "Odd", "Øystein", "Quỳnh", "Zoë"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("word", "known", "meant"),
    [
        ("Court 3", ["Court 1", "Court 2"], None),
        ("Cuort 2", ["Court 1", "Court 2"], "Court 2"),
        ("Court 02", ["Court 1", "Court 2"], "Court 2"),
        ("Court", ["Court 1"], "Court 1"),
        ("Hall 3 left", ["Hall 3 leff", "Hall 2 left"], "Hall 3 leff"),
    ],
)
def test_another_number_is_another_thing(word: str, known: list[str], meant: str | None) -> None:
    """What differs in its number alone is no slip of the pen, so it is not suggested."""
    assert nearest(word, known) == meant
