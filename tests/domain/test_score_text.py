"""Score lines: what is written is read back, and what is no score line is told apart."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.score_text import Mark, ScoreLine, SetScore, read_score_line

scores = st.builds(
    SetScore, st.integers(0, 999), st.integers(0, 999), st.none() | st.integers(0, 999)
)
comments = st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"))).map(
    lambda text: " ".join(text.split())
)
lines = st.builds(
    ScoreLine,
    st.text("0123456789abcdef", min_size=12, max_size=12),
    st.builds("R{}C{}".format, st.integers(1, 99), st.integers(1, 99)),
    st.lists(scores, min_size=1, max_size=5).map(tuple),
    st.none() | st.sampled_from(Mark),
    comments,
)


@given(lines)
def test_a_line_written_is_read_back(line: ScoreLine) -> None:
    """Writing and reading a score line gives the same line, whatever people are called."""
    assert read_score_line(f"  {line} ") == line


def test_a_line_looks_as_documented() -> None:
    """The example of the module's description is what its parts write."""
    line = ScoreLine(
        "3f2a9c1b7d4e",
        "R4C2",
        (SetScore(6, 4), SetScore(6, 7, 5)),
        Mark.UNFINISHED,
        "Court 2, round 4: Ada & Bruno / Chiara & Dmitri",
    )
    assert str(line) == (
        "rota 3f2a9c1b7d4e R4C2 6-4 6-7(5) unfinished "
        "# Court 2, round 4: Ada & Bruno / Chiara & Dmitri"
    )


@pytest.mark.parametrize("text", ["", "  ", "See you on Thursday!", "rotating 6-4", "# rota"])
def test_other_words_of_a_message_are_no_score_lines(text: str) -> None:
    """Words around score lines are passed over."""
    assert read_score_line(text) is None


@pytest.mark.parametrize(
    "text",
    [
        "rota",
        "rota 3f2a9c1b7d4e R4C2",
        "rota 3f2a9c1b7d4 R4C2 6-4",
        "rota 3f2a9c1b7d4e 4-2 6-4",
        "rota 3f2a9c1b7d4e R4C2 6-",
        "rota 3f2a9c1b7d4e R4C2 6-4 tired",
        "rota 3f2a9c1b7d4e R4C2 6000-4",
    ],
)
def test_a_broken_line_says_how_one_looks(text: str) -> None:
    """A line that begins as a score but cannot be read is refused with an example."""
    with pytest.raises(ValueError, match="must look like 'rota 3f2a9c1b7d4e R4C2 6-4'"):
        read_score_line(text)
