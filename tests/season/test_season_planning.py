"""Planning with a season repeats less than planning without; a short season, by the engine itself.

The figures for 30 evenings of 40 players come from `measure_planning`, run by hand.
"""

from __future__ import annotations

from measure_planning import counting_floor, season

from scheduler.domain.event import Emphasis


def test_partners_and_opponents_spread_over_a_season() -> None:
    """Five evenings of 20: above the counting floor a quarter and a third of without, at most."""
    size = (5, 20)
    without = season(*size, remember=False, emphasis=Emphasis.VARIETY)
    with_it = season(*size, remember=True, emphasis=Emphasis.VARIETY)
    for name, share in (("partner", 1 / 4), ("opponent", 1 / 3)):
        floor = without.floor[name]
        above, kept = without.repeats[name] - floor, with_it.repeats[name] - floor
        assert above > 0
        assert 0 <= kept <= above * share, name


def test_the_counting_floor_is_that_of_equal_counts() -> None:
    """Five meetings over three pairs: 2, 2 and 1 make two repeats; fewer is impossible."""
    best = min(
        sum(k * (k - 1) // 2 for k in (a, b, 5 - a - b)) for a in range(6) for b in range(6 - a)
    )
    assert counting_floor(5, 3) == best == 2
