"""What the engine counts about its own solutions, beside the checker's independent count."""

from __future__ import annotations

import random

import pytest
from drawn_events import events, plain_event
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from made_plans import plan_of

from scheduler.checker import recount
from scheduler.checker.evening import Evening
from scheduler.checker.wishes import misses
from scheduler.domain.event import Kind, Strength
from scheduler.rotation import counts
from scheduler.rotation.construct import random_solution
from scheduler.rotation.engine import measures_of
from scheduler.rotation.publish import rounds_of
from scheduler.rotation.search import keeps_musts
from scheduler.rotation.shapes import problem_of


@settings(max_examples=90, deadline=None)
@given(events(), st.integers(0, 99))
def test_measures_are_what_the_checker_counts(event, seed) -> None:
    """For any seats of any evening the engine's measures are those counted from the plan."""
    problem = problem_of(event)
    solution = random_solution(problem, random.Random(seed))
    plan = plan_of(problem, solution)
    values = counts.values_of(problem, solution)
    recounted = recount(plan, event)
    assert values == {name: pytest.approx(recounted[name], abs=1e-6) for name in values}
    assert set(recounted) - set(values) == {"first_serve_unfairness"}


@settings(max_examples=80, deadline=None)
@given(events(people=(4, 10)), st.integers(0, 99), st.data())
def test_measures_with_rounds_played_are_what_the_checker_counts(event, seed, data) -> None:
    """The same when some rounds were played, by another seating than the rest comes from."""
    lots = random.Random(seed)
    first = problem_of(event)
    rounds = rounds_of(first, random_solution(first, lots), ())
    seated = sum(not planned.open for planned in rounds)
    played = rounds[: data.draw(st.integers(0, seated))] if seated == len(rounds) else ()
    problem = problem_of(event, played)
    solution = random_solution(problem, lots)
    plan = plan_of(problem, solution, played)
    recounted = recount(plan, event)
    values = counts.values_of(problem, solution)
    assert values == {name: pytest.approx(recounted[name], abs=1e-6) for name in values}


@settings(max_examples=90, deadline=None)
@given(events(most_wishes=8), st.integers(0, 99), st.sampled_from(Strength))
def test_broken_wishes_are_those_the_checker_misses(event, seed, strength) -> None:
    """A wish is broken for the engine exactly where the checker finds a miss."""
    problem = problem_of(event)
    solution = random_solution(problem, random.Random(seed))
    evening = Evening(plan_of(problem, solution), event)
    broken = [d.wish for d in counts.broken(problem, solution, must=strength == Strength.MUST)]
    missed = [w for w in event.wishes if w.strength == strength and misses(evening, w)]
    assert broken == missed


@settings(max_examples=60, deadline=None)
@given(events(strengths=(Strength.SHOULD,)), st.integers(0, 99))
def test_a_proven_measure_stands_at_its_bound(event, seed) -> None:
    """Every measure has a bound at or below it, and is called proven exactly where they meet."""
    problem = problem_of(event)
    solution = random_solution(problem, random.Random(seed))
    assume(keeps_musts(problem, solution))
    for measure in measures_of(problem, solution).values():
        assert measure.bound is not None
        assert measure.bound <= measure.value
        assert measure.proven is (measure.bound == measure.value)


def test_whist_of_four_by_hand() -> None:
    """Four people, three rounds, all three splits: partners once, opponents twice each."""
    problem = problem_of(plain_event(4, 1, 3))
    template = random_solution(problem, random.Random(1))
    splits = [(0, 1, 2, 3), (0, 2, 1, 3), (0, 3, 1, 2)]
    solution = tuple(
        type(seating)((split,), (0,), ()) for seating, split in zip(template, splits, strict=True)
    )
    values = counts.values_of(problem, solution)
    assert values["partner_repeats"] == 0
    assert values["opponent_repeats"] == 6
    assert values["meeting_repeats"] == 6 * 3
    assert values["court_repeats"] == 4 * 3


def test_pairs_rounds_count_partners_once() -> None:
    """Four people in three pairs rounds: two teams met once, four other pairs three times."""
    problem = problem_of(plain_event(4, 1, 0, *[Kind.PAIRS] * 3))
    values = counts.values_of(problem, random_solution(problem, random.Random(1)))
    assert values["partner_repeats"] == 0
    assert values["opponent_repeats"] == 4 * 3
