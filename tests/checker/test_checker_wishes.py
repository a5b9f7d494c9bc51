"""What every kind of must-wish means, one broken case a kind, and where it asks nothing."""

from __future__ import annotations

from dataclasses import replace

import checker_plans as plans
import pytest
from checker_plans import with_event

from scheduler.checker import check
from scheduler.domain.event import Strength, Wish, WishKind


def wish(kind, player, other="", *, number=None, in_round=None):
    """Return a wish read from the cell Wishes!A2."""
    return Wish(kind, player, other, number, round=in_round, where="Wishes!A2")


BROKEN = [
    (
        plans.social,
        wish(WishKind.PARTNERS, "Ana", "Bo"),
        [
            "Round 2: Ana is on C1 and Bo is on C2, though Ana and Bo must be partners (Wishes!A2)",
            "Round 3: Ana is on C2 and Bo is on C1, though Ana and Bo must be partners (Wishes!A2)",
        ],
    ),
    (
        plans.social,
        wish(WishKind.PARTNERS, "Ana", "Fay", in_round=3),
        [
            (
                "Round 3, C2: Ana and Fay are not partners, "
                "though Ana and Fay must be partners in round 3 (Wishes!A2)"
            )
        ],
    ),
    (
        plans.social,
        wish(WishKind.PARTNERS, "Gus", "Fay", in_round=3),
        [
            (
                "Round 3: Gus is resting and Fay is on C2, "
                "though Gus and Fay must be partners in round 3 (Wishes!A2)"
            )
        ],
    ),
    (
        plans.social,
        wish(WishKind.PARTNERS_ONCE, "Ana", "Hal"),
        [
            (
                "Ana and Hal are never partners, "
                "though Ana and Hal must be partners at least once (Wishes!A2)"
            )
        ],
    ),
    (
        plans.social,
        wish(WishKind.PARTNERS_ONCE, "Ana", "Bo", in_round=2),
        [
            (
                "Ana and Bo are never partners in round 2, "
                "though Ana and Bo must be partners at least once in round 2 (Wishes!A2)"
            )
        ],
    ),
    (
        plans.social,
        wish(WishKind.NOT_PARTNERS, "Bo", "Ana"),
        [
            (
                "Round 1, C1: Bo and Ana are partners, "
                "though Bo and Ana must not be partners (Wishes!A2)"
            )
        ],
    ),
    (
        plans.social,
        wish(WishKind.AGAINST_ONCE, "Ana", "Ida"),
        ["Ana and Ida never oppose, though Ana and Ida must oppose at least once (Wishes!A2)"],
    ),
    (
        plans.social,
        wish(WishKind.NOT_SAME_COURT, "Ana", "Di"),
        [
            (
                "Round 1, C1: Ana and Di share the court, "
                "though Ana and Di must not share a court (Wishes!A2)"
            ),
            (
                "Round 3, C2: Ana and Di share the court, "
                "though Ana and Di must not share a court (Wishes!A2)"
            ),
        ],
    ),
    (
        plans.drills,
        wish(WishKind.NOT_SAME_COURT, "Cy", "Bo"),
        [
            (
                "Round 1, C1: Cy and Bo share the court, "
                "though Cy and Bo must not share a court (Wishes!A2)"
            )
        ],
    ),
    (
        plans.drills,
        wish(WishKind.SAME_COURT, "Ana", "Cy"),
        [
            (
                "Round 2: Ana is on C2 and Cy is on C3, "
                "though Ana and Cy must share a court in drills (Wishes!A2)"
            )
        ],
    ),
    (
        plans.social,
        wish(WishKind.ON_COURT, "Ana", "C1"),
        ["Round 3: Ana is on C2, though Ana must be on C1 (Wishes!A2)"],
    ),
    (
        plans.drills,
        wish(WishKind.ON_COURT, "Ana", "C1"),
        ["Round 2: Ana is on C2, though Ana must be on C1 (Wishes!A2)"],
    ),
    (
        plans.social,
        wish(WishKind.RESTS, "Ida"),
        [
            "Round 2, C2: Ida plays, though Ida must rest (Wishes!A2)",
            "Round 3, C1: Ida plays, though Ida must rest (Wishes!A2)",
        ],
    ),
    (
        plans.social,
        wish(WishKind.RESTS, "Ida", in_round=2),
        ["Round 2, C2: Ida plays, though Ida must rest in round 2 (Wishes!A2)"],
    ),
    (
        plans.social,
        wish(WishKind.PLAYS_AT_MOST, "Ana", number=2),
        ["Ana is on a court 3 times, though Ana must play at most 2 rounds (Wishes!A2)"],
    ),
    (
        plans.drills,
        wish(WishKind.PLAYS_AT_MOST, "Ana", number=0, in_round=2),
        [
            (
                "Ana is on a court once in round 2, "
                "though Ana must play at most 0 rounds in round 2 (Wishes!A2)"
            )
        ],
    ),
    (
        plans.drills,
        wish(WishKind.ROUNDS_RUNNING_AT_MOST, "Bo", number=1),
        [
            (
                "Rounds 1 to 2: Bo is on a court 2 rounds running, "
                "though Bo must play at most 1 rounds running (Wishes!A2)"
            )
        ],
    ),
]

KEPT = [
    # partners rest together, or one of them is not there
    (plans.pairs, wish(WishKind.PARTNERS, "Ana", "Bo")),
    (plans.calls, wish(WishKind.PARTNERS, "Uma", "Eva", in_round=1)),
    (plans.calls, wish(WishKind.PARTNERS, "Zoe", "Eva")),
    # drills are no doubles, matches are no drills
    (plans.drills, wish(WishKind.PARTNERS, "Ana", "Hal")),
    (plans.drills, wish(WishKind.PARTNERS_ONCE, "Ana", "Hal")),
    (plans.drills, wish(WishKind.NOT_PARTNERS, "Ana", "Bo")),
    (plans.social, wish(WishKind.SAME_COURT, "Ana", "Hal")),
    (plans.social, wish(WishKind.PARTNERS, "Cy", "Fay", in_round=3)),
    # once is enough, in either order of the names
    (plans.social, wish(WishKind.PARTNERS_ONCE, "Bo", "Ana")),
    (plans.social, wish(WishKind.AGAINST_ONCE, "Hal", "Eva")),
    (plans.social, wish(WishKind.NOT_PARTNERS, "Ana", "Bo", in_round=2)),
    (plans.social, wish(WishKind.NOT_SAME_COURT, "Ana", "Di", in_round=2)),
    (plans.social, wish(WishKind.ON_COURT, "Ana", "C1", in_round=1)),
    # resting is being on no court
    (plans.social, wish(WishKind.ON_COURT, "Ida", "C2", in_round=1)),
    (plans.social, wish(WishKind.RESTS, "Ida", in_round=1)),
    # two against one and singles are no doubles
    (plans.singles, wish(WishKind.NOT_PARTNERS, "Fay", "Gus")),
    (plans.social, wish(WishKind.PLAYS_AT_MOST, "Ida", number=2)),
    (plans.social, wish(WishKind.ROUNDS_RUNNING_AT_MOST, "Hal", number=1)),
    (plans.calls, wish(WishKind.RESTS, "Zoe")),
]


@pytest.mark.parametrize(("build", "asked", "faults"), BROKEN)
def test_a_broken_must_names_its_round_court_people_and_cell(build, asked, faults):
    """A plan that does not keep a must is refused, with the wish's own words and cell."""
    verdict = check(with_event(build(), wishes=(asked,)))

    assert list(verdict.faults) == faults


@pytest.mark.parametrize(("build", "asked"), KEPT)
def test_a_wish_is_kept_where_it_asks_nothing_or_enough_was_done(build, asked):
    """Absence, other kinds of round and other rounds do not break a wish."""
    assert check(with_event(build(), wishes=(asked,))).faults == ()


@pytest.mark.parametrize(("build", "asked", "faults"), BROKEN)
def test_a_should_wish_is_counted_and_refuses_nothing(build, asked, faults):
    """The same wish as a should leaves the plan accepted and is one wish missed."""
    should = replace(asked, strength=Strength.SHOULD)
    verdict = check(with_event(build(), wishes=(should,)))

    assert verdict.accepted
    assert verdict.measures["wishes_missed"] == 1


def test_at_least_once_is_not_judged_before_the_last_seat_is_given():
    """While a round still waits for results, two people may yet be partners or oppose."""
    once = [
        wish(WishKind.PARTNERS_ONCE, "Ana", "Hal"),
        wish(WishKind.AGAINST_ONCE, "Ana", "Bo"),
    ]

    assert check(plans.up_and_down(*once)).faults == ()


def test_at_least_once_in_a_seated_round_is_judged_though_another_is_open():
    """A wish about round 1 does not wait for round 2."""
    asked = wish(WishKind.PARTNERS_ONCE, "Ana", "Hal", in_round=1)

    assert check(plans.up_and_down(asked)).faults == (
        (
            "Ana and Hal are never partners in round 1, "
            "though Ana and Hal must be partners at least once in round 1 (Wishes!A2)"
        ),
    )


def test_a_rest_breaks_a_run_of_rounds():
    """Hal plays rounds 1 and 3 and rests in 2, so never two rounds running."""
    running = wish(WishKind.ROUNDS_RUNNING_AT_MOST, "Hal", number=1)
    twice = wish(WishKind.PLAYS_AT_MOST, "Hal", number=1)

    assert check(plans.social(running)).accepted
    assert not check(plans.social(twice)).accepted
