"""Serving orders and receiving sides of whole evenings, against ITF Rules 14 and 15."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
from drawn_events import events, plain_event
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.checker import recount
from scheduler.domain.event import Event, Kind, Side
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.rotation.construct import random_solution
from scheduler.rotation.publish import rounds_of
from scheduler.rotation.shapes import problem_of
from scheduler.workflow.dress import dress, first_serve_measure


def undressed(event: Event, seed: int) -> tuple[PlannedRound, ...]:
    """Return random rounds of an event, without serving orders."""
    problem = problem_of(event)
    return rounds_of(problem, random_solution(problem, random.Random(seed)), ())


@settings(max_examples=80, deadline=None)
@given(events(), st.integers(0, 99))
def test_dressing_keeps_to_the_rules_and_moves_nobody(event: Event, seed: int) -> None:
    """Teams alternate in serving (Rule 14), each has one deuce-side receiver (Rule 15).

    Nobody changes court or partner; the team serving first is team A.
    """
    bare = undressed(event, seed)
    for before, after in zip(bare, dress(event, bare), strict=True):
        assert replace(before, courts=()) == replace(after, courts=())
        for old, new in zip(before.courts, after.courts, strict=True):
            if not isinstance(new, Match):
                assert new == old
                continue
            assert {frozenset(new.team_a), frozenset(new.team_b)} == {
                frozenset(old.team_a),
                frozenset(old.team_b),
            }
            assert new.serving_order[::2] == new.team_a
            assert new.serving_order[1::2] == new.team_b
            assert new.deuce_receivers[0] in new.team_a
            assert new.deuce_receivers[1] in new.team_b


@settings(max_examples=80, deadline=None)
@given(events(), st.integers(0, 99))
def test_first_serves_are_within_one_of_a_quarter(event: Event, seed: int) -> None:
    """Over the evening nobody serves a match's first game once more or less than a quarter."""
    rounds = dress(event, undressed(event, seed))
    measure = first_serve_measure(rounds)
    counted = recount(Plan(event, rounds), event)["first_serve_unfairness"]
    assert measure.value == pytest.approx(counted)
    assert measure.value < 1
    assert measure.bound is not None
    assert measure.bound <= measure.value


@settings(max_examples=60, deadline=None)
@given(events(kinds=tuple(Kind)[1:]), st.integers(0, 99))
def test_sides_wished_for_are_kept_where_they_do_not_clash(event: Event, seed: int) -> None:
    """One of two partners wants the deuce side, or the other the ad side: so it is (Rule 15)."""
    sides = {player.name: player.side for player in event.players}
    wants_deuce = ({Side.DEUCE, Side.EITHER}, {Side.DEUCE, Side.AD})
    for planned in dress(event, undressed(event, seed)):
        for match in planned.matches:
            teams = zip((match.team_a, match.team_b), match.deuce_receivers, strict=True)
            for team, receiver in teams:
                wished = {sides[name] for name in team}
                if wished in wants_deuce:
                    assert sides[receiver] is Side.DEUCE
                if wished == {Side.AD, Side.EITHER}:
                    assert sides[receiver] is Side.EITHER


def test_orders_already_given_stay() -> None:
    """What is printed stays as printed, and counts when the rest is spread."""
    event = plain_event(4, 1, 4)
    bare = undressed(event, 1)
    first = dress(event, bare[:2])
    again = dress(event, (*first, *bare[2:]))
    assert again[:2] == first
    assert sorted(planned.matches[0].serving_order[0] for planned in again) == [
        "P0",
        "P1",
        "P2",
        "P3",
    ]


def test_a_bound_on_first_serves_counts_only_who_cannot_rest() -> None:
    """Four people, three matches each: 3/4 is a quarter off the nearest whole number."""
    event = plain_event(4, 1, 3)
    measure = first_serve_measure(dress(event, undressed(event, 1)))
    assert measure.bound == float(Fraction(1, 4))
    five = plain_event(5, 1, 3)
    assert first_serve_measure(dress(five, undressed(five, 1))).bound == 0


def test_an_evening_without_matches_has_nothing_unfair() -> None:
    """Drills have no servers: the measure is 0 and proven."""
    event = plain_event(6, 2, 0, Kind.DRILL)
    measure = first_serve_measure(dress(event, undressed(event, 1)))
    assert (measure.value, measure.bound, measure.proven) == (0, 0, True)
