"""The serving order and the receiving sides a match is dressed with (ITF Rules 14 and 15)."""

from __future__ import annotations

import pytest

from scheduler.domain.event import Side
from scheduler.rules.order import deuce_receiver, serving_order


def test_teams_alternate_and_partners_take_turns():
    """The four serve first team, second team, first team's partner, second's (Rule 14)."""
    assert serving_order(("A1", "A2"), ("B1", "B2")) == ("A1", "B1", "A2", "B2")


@pytest.mark.parametrize(
    ("first", "second", "receiver"),
    [
        (Side.DEUCE, Side.AD, "x"),
        (Side.AD, Side.DEUCE, "y"),
        (Side.DEUCE, Side.EITHER, "x"),
        (Side.AD, Side.EITHER, "y"),
        (Side.EITHER, Side.DEUCE, "y"),
        (Side.EITHER, Side.AD, "x"),
        (Side.EITHER, Side.EITHER, "x"),
        (Side.DEUCE, Side.DEUCE, "x"),
        (Side.AD, Side.AD, "x"),
    ],
)
def test_side_wishes_are_kept_unless_they_clash(first, second, receiver):
    """Whoever likes the deuce side gets it; where both like the same one, the first named."""
    assert deuce_receiver(("x", "y"), {"x": first, "y": second}) == receiver


def test_people_without_a_wish_like_either_side():
    """A name that is missing among the wishes does not mind."""
    assert deuce_receiver(("x", "y"), {}) == "x"
    assert deuce_receiver(("x", "y"), {"y": Side.DEUCE}) == "y"
