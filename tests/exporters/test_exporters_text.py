"""Texts, sheet names and file names made fit to use."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.exporters.naming import safe_file_name
from scheduler.exporters.text import clean, isolated, lines_needed, number, short_labels, width
from scheduler.exporters.workbook.names import sheet_names

ANY = st.text(alphabet=st.characters(), max_size=60)


@given(ANY)
def test_cleaned_text_can_be_encoded_and_has_one_line(text: str) -> None:
    """Control characters and lone surrogates, which no XML can hold, are gone."""
    cleaned = clean(text)
    cleaned.encode("utf-8")
    assert not re.search("[\x00-\x1f\x7f]", cleaned)


@given(st.lists(ANY, max_size=30))
def test_sheet_names_are_safe_and_different(wanted: list[str]) -> None:
    """At most 31 UTF-16 units, nothing forbidden, no end apostrophe, no two alike but for case."""
    names = sheet_names(wanted, ["Scores"])
    assert len({name.casefold() for name in [*names, "scores", "history"]}) == len(wanted) + 2
    for name in names:
        assert name
        assert len(name.encode("utf-16-le", "surrogatepass")) <= 62
        assert not re.search(r"[\[\]:*?/\\\x00-\x1f]", name)
        assert not name.startswith("'")
        assert not name.endswith("'")


def test_sheet_names_taken_or_empty_get_a_number() -> None:
    """Names that would collide are told apart, and a blank name is still a name."""
    wanted = ["scores", "Court/1", "court 1", "", "x" * 40, "x" * 40, "History"]
    assert sheet_names(wanted, ["Scores"]) == [
        "scores 2", "Court 1", "court 1 2", "Court", "x" * 31, "x" * 29 + " 2", "History 2",
    ]  # fmt: skip


@given(ANY)
def test_file_names_are_accepted_everywhere(text: str) -> None:
    """No folder marks, no ending dot or blank, no start that hides or reads as an option."""
    name = safe_file_name(text)
    assert name
    assert len(name.encode("utf-8")) <= 100
    assert not re.search(r'[<>:"/\\|?*\x00-\x1f]', name)
    assert name[0] not in ".-~ "
    assert name[-1] not in ". "


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Tuesday: A/B", "Tuesday A B"),
        ("../../etc/passwd", "etc passwd"),
        ("con", "con evening"),
        ("", "evening"),
        ("ערב שלישי", "ערב שלישי"),
    ],
)
def test_file_names_keep_what_they_can(name: str, expected: str) -> None:
    """Letters of any script stay; what is dangerous goes."""
    assert safe_file_name(name) == expected


def test_labels_written_right_to_left_are_isolated() -> None:
    """A label in Hebrew is wrapped in FSI and PDI (Unicode Standard Annex 9), others are not."""
    assert isolated("דנה") == "\u2068דנה\u2069"
    assert isolated("Ada") == "Ada"


def test_long_names_with_the_same_start_have_different_labels() -> None:
    """Two names alike in their first 40 letters are told apart by their keys."""
    names = ["x" * 60 + "a", "x" * 60 + "b"]
    labels = short_labels(names, ["P01", "P02"])
    assert len(set(labels.values())) == 2
    assert all(len(label) <= 40 for label in labels.values())


def test_widths_count_wide_letters_twice_and_marks_not_at_all() -> None:
    """East Asian wide letters take two columns (Unicode Standard Annex 11), accents none."""
    assert width("山田") == 4
    assert width("e\u0301") == 1
    assert lines_needed("abcdef\nab", 3) == 3


def test_numbers_have_no_idle_zeros() -> None:
    """Figures are shown with at most two decimals."""
    assert [number(x) for x in (3, 2.5, 0.454545, 2.999999)] == ["3", "2.5", "0.45", "3"]
