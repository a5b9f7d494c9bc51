"""Whatever sound plan is drawn is accepted, and whatever seat is spoilt in it is found."""

from __future__ import annotations

from dataclasses import replace

from checker_plans import with_court, with_event, with_round
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from naive_plans import doubles_plans

from scheduler.checker import check
from scheduler.domain.event import Wish, WishKind
from scheduler.domain.plan import Match, Plan


@st.composite
def plans_and_matches(draw: st.DrawFn) -> tuple[Plan, int, Match]:
    """Draw a sound plan, the number of one of its rounds, and one match of that round."""
    plan = draw(doubles_plans(late=False))
    item = draw(st.sampled_from(plan.rounds))
    return plan, item.number, draw(st.sampled_from(item.matches))


def with_teams(match: Match, team_a, team_b) -> Match:
    """Return the match with other teams and a lawful serving order for them."""
    order = (team_a[0], team_b[0], team_a[1], team_b[1])
    return Match(match.court, team_a, team_b, order, (team_a[0], team_b[0]))


@settings(max_examples=100, deadline=None)
@given(doubles_plans(late=False))
def test_a_sound_plan_is_accepted(plan):
    """With everybody there, resting whoever rested least keeps every rule."""
    assert check(plan).faults == ()


@settings(max_examples=100, deadline=None)
@given(doubles_plans())
def test_a_plan_with_late_people_breaks_nothing_but_perhaps_the_share(plan):
    """Where people come late the plain rule may miss the fair share, and nothing else."""
    assert all("fair share" in fault for fault in check(plan).faults)


@settings(max_examples=60, deadline=None)
@given(plans_and_matches(), st.integers(0, 3), st.data())
def test_a_person_seated_twice_is_found(drawn, seat, data):
    """Writing another name of the round over a seat leaves one person twice and one nowhere."""
    plan, number, match = drawn
    four = list(match.players)
    others = [p.name for p in plan.event.players if p.name != four[seat]]
    gone, four[seat] = four[seat], data.draw(st.sampled_from(others))
    spoilt = with_court(
        plan, number, match.court, with_teams(match, tuple(four[:2]), tuple(four[2:]))
    )

    faults = check(spoilt).faults

    assert f"Round {number}: {gone} is on no court, not resting and not absent" in faults
    assert any(f"Round {number}: {four[seat]} is in 2 places" in fault for fault in faults)


@settings(max_examples=60, deadline=None)
@given(doubles_plans(late=False), st.data())
def test_a_person_left_out_is_found(plan, data):
    """Striking somebody off the resting list leaves that person nowhere."""
    resting = [item for item in plan.rounds if item.resting]
    assume(resting)
    item = data.draw(st.sampled_from(resting))
    gone = data.draw(st.sampled_from(item.resting))
    rest = tuple(name for name in item.resting if name != gone)

    faults = check(with_round(plan, item.number, resting=rest)).faults

    assert f"Round {item.number}: {gone} is on no court, not resting and not absent" in faults


@settings(max_examples=60, deadline=None)
@given(plans_and_matches())
def test_a_match_less_is_found(drawn):
    """Sending a whole court to rest uses fewer courts than the round must."""
    plan, number, match = drawn
    item = plan.rounds[number - 1]
    spoilt = with_round(
        with_court(plan, number, match.court), number, resting=(*item.resting, *match.players)
    )

    assert any(
        fault.startswith(f"Round {number}: ") and "of doubles, must be" in fault
        for fault in check(spoilt).faults
    )


@settings(max_examples=60, deadline=None)
@given(plans_and_matches(), st.permutations(range(4)))
def test_a_serving_order_that_does_not_alternate_is_found(drawn, order):
    """Of the 24 orders of four players 8 alternate beginning with team A (ITF Rule 14)."""
    plan, number, match = drawn
    served = tuple(match.players[i] for i in order)
    lawful = all((name in match.team_a) is (i % 2 == 0) for i, name in enumerate(served))
    spoilt = with_court(plan, number, match.court, replace(match, serving_order=served))

    verdict = check(spoilt)

    assert verdict.accepted is lawful
    assert all(f"Round {number}, {match.court}: " in fault for fault in verdict.faults)


@settings(max_examples=60, deadline=None)
@given(plans_and_matches(), st.booleans())
def test_two_seats_swapped_over_the_net_keep_or_break_a_wish(drawn, partners):
    """A must about two people of a match holds until one of them changes sides."""
    plan, number, match = drawn
    one, other = match.team_a if partners else (match.team_a[0], match.team_b[0])
    kind = WishKind.PARTNERS if partners else WishKind.NOT_PARTNERS
    asked = with_event(plan, wishes=(Wish(kind, one, other, round=number),))
    moved = with_teams(
        match, (match.team_a[0], match.team_b[0]), (match.team_a[1], match.team_b[1])
    )

    assert check(asked).faults == ()
    faults = check(with_court(asked, number, match.court, moved)).faults
    assert len(faults) == 1
    assert faults[0].startswith(f"Round {number}, {match.court}: ")


@settings(max_examples=60, deadline=None)
@given(plans_and_matches())
def test_any_fault_leaves_the_measures_countable(drawn):
    """The checker never stumbles over a plan it refuses, whatever is missing from it."""
    plan, number, match = drawn
    cut = replace(match, team_b=match.team_b[:1], serving_order=(), deuce_receivers=())
    spoilt = with_event(with_court(plan, number, match.court, cut), players=plan.event.players[2:])

    verdict = check(spoilt)

    assert not verdict.accepted
    assert set(verdict.measures) == set(check(plan).measures)
