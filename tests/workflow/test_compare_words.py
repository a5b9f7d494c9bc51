"""What a step along the curve between variety and balance is said to buy."""

from __future__ import annotations

import pytest

from scheduler.domain.event import Emphasis
from scheduler.workflow.compare import Row, _step


def row(repeats: int, mean: float, widest: float) -> Row:
    """Return a row with these figures."""
    return Row(Emphasis.BLEND, float(repeats), False, repeats, 2, mean, widest, 9, 0)


@pytest.mark.parametrize(
    ("there", "said"),
    [
        (
            row(1, 1.25, 7),
            (
                "1 more opponent repeat brings the mean gap from 1.42 to 1.25 levels "
                "and leaves the widest at 7."
            ),
        ),
        (
            row(3, 0.5, 7),
            (
                "3 more opponent repeats bring the mean gap from 1.42 to 0.50 levels "
                "and leave the widest at 7."
            ),
        ),
        (
            row(3, 0.5, 2),
            (
                "3 more opponent repeats bring the mean gap from 1.42 to 0.50 levels "
                "and the widest from 7 to 2."
            ),
        ),
    ],
)
def test_a_step_says_what_changes_and_what_does_not(there: Row, said: str) -> None:
    """A widest gap that stays is not said to come down from itself to itself."""
    assert _step(row(0, 1.42, 7), there).endswith(said)
