"""No bound lies above what some valid plan attains; where theory knows the best, none lies below.

Plans come from trying everything (tiny evenings), from a search that lowers one
measure and nothing else (small evenings of every kind), and from published theory.
"""

from __future__ import annotations

import csv
import math
import random
from dataclasses import replace
from pathlib import Path

import pytest
from drawn_events import SEATED_AT_ONCE, events, minute, plain_event
from driven_plans import DRIVERS, driven
from every_seating import every_plan
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from made_plans import plan_of

from scheduler.checker import check, recount
from scheduler.domain.event import Court, Event, Kind, Strength, Wish, WishKind
from scheduler.domain.plan import Plan
from scheduler.rotation.bounds import Bound, bounds_of, spread
from scheduler.rotation.construct import random_solution
from scheduler.rotation.publish import rounds_of
from scheduler.rotation.search import keeps_musts
from scheduler.rotation.shapes import problem_of

TOLERANCE = 1e-6
NAMES = sorted(bounds_of(problem_of(plain_event(4, 1, 1))))


def above(bounds: dict[str, Bound], values: dict[str, float]) -> dict[str, tuple[float, float]]:
    """Return the bounds that lie above a value, beside the value."""
    return {
        name: (bound.value, values[name])
        for name, bound in bounds.items()
        if bound.value > values[name] + TOLERANCE
    }


@pytest.mark.parametrize(("total", "cells"), [(t, c) for t in range(9) for c in range(1, 5)])
def test_counts_cost_least_when_spread_evenly(total: int, cells: int) -> None:
    """`spread` is the least sum of k(k-1)/2, found among all ways to share a total out."""

    def ways(left: int, boxes: int) -> list[int]:
        if boxes == 1:
            return [left * (left - 1) // 2]
        return [
            k * (k - 1) // 2 + rest for k in range(left + 1) for rest in ways(left - k, boxes - 1)
        ]

    assert spread(total, cells) == min(ways(total, cells))


# ---- everything tried -----------------------------------------------------------------


def best_of_all(event: Event, most: int) -> dict[str, float] | None:
    """Return the least of each measure over all plans the checker accepts, None if too many."""
    plans = every_plan(event, most)
    if plans is None:
        return None
    best: dict[str, float] = {}
    for plan in plans:
        values = recount(plan, event)
        better = [name for name in NAMES if values[name] < best.get(name, math.inf)]
        if better and check(plan).accepted:
            best.update((name, values[name]) for name in better)
    return best


@settings(max_examples=20, deadline=None)
@given(
    events(
        people=(4, 6),
        most_rounds=3,
        most_courts=2,
        kinds=(Kind.DRILL, Kind.DOUBLES, Kind.DOUBLES),
        most_wishes=1,
        strengths=(Strength.MUST,),
    )
)
def test_no_bound_is_above_the_best_of_all_plans(event: Event) -> None:
    """With 4 to 6 people every plan is tried: presence, court hours, drills, musts, levels."""
    best = best_of_all(plain_spare(event), most=1000)
    assume(best)
    assert not above(bounds_of(problem_of(plain_spare(event))), best)


def plain_spare(event: Event) -> Event:
    """Return the event without singles, stations and people called if needed."""
    here = tuple(p if p.here == "yes" else replace(p, here="no") for p in event.players)
    return replace(event, spare_court="rest", stations=(), players=here)


CORNERS = {
    "five people, one rests each round": plain_event(5, 1, 3),
    "six people, two rest": plain_event(6, 1, 2),
    "two courts of which the second opens late": replace(
        plain_event(5, 1, 2), courts=(Court("C0"), Court("C1", minute(1)))
    ),
    "two drills of two groups": plain_event(6, 2, 0, Kind.DRILL, Kind.DRILL),
    "a drill and a match": plain_event(5, 2, 0, Kind.DRILL, Kind.DOUBLES),
    "two who must partner": plain_event(4, 1, 3, wishes=(Wish(WishKind.PARTNERS, "P0", "P1"),)),
}


@pytest.mark.parametrize("event", CORNERS.values(), ids=CORNERS)
def test_no_bound_is_above_the_best_in_the_corners(event: Event) -> None:
    """The same for evenings chosen by hand, each with one thing out of the ordinary."""
    best = best_of_all(event, most=4000)
    assert best
    assert not above(bounds_of(problem_of(event)), best)


@pytest.mark.parametrize(
    ("event", "name"),
    [
        (plain_event(4, 1, 3), "opponent_repeats"),
        (plain_event(4, 1, 4), "partner_repeats"),
        (plain_event(4, 1, 3), "meeting_repeats"),
        (plain_event(5, 1, 3), "rest_unfairness"),
        (plain_event(6, 1, 2), "meeting_repeats"),
        (plain_event(6, 2, 0, Kind.DRILL, Kind.DRILL), "drill_repeats"),
        (plain_event(4, 1, 3), "court_repeats"),
    ],
)
def test_these_bounds_are_attained(event: Event, name: str) -> None:
    """Where every plan was tried, these bounds are not only safe but the very minimum."""
    best = best_of_all(event, most=4000)
    assert best
    assert bounds_of(problem_of(event))[name].value == pytest.approx(best[name], abs=TOLERANCE)


# ---- one measure driven down ------------------------------------------------------------


@settings(max_examples=35, deadline=None)
@given(
    events(people=(4, 12), kinds=SEATED_AT_ONCE, most_wishes=3, strengths=(Strength.MUST,)),
    st.integers(0, 99),
)
def test_no_bound_is_above_a_plan_that_cares_for_one_thing(event: Event, seed: int) -> None:
    """Whatever else a plan gives up, it stays above the bounds; the checker counts."""
    problem = problem_of(event)
    assume(any(shape.players for shape in problem.shapes))
    bounds = bounds_of(problem)
    start = random_solution(problem, random.Random(seed))
    for what in DRIVERS:
        solution = driven(problem, start, **{what: 1000})
        if keeps_musts(problem, solution):
            plan = plan_of(problem, solution)
            assert not above(bounds, recount(plan, event)), what


def test_rests_running_are_bounded_exactly() -> None:
    """Nine people on one court: five rest each round, so one at least rests in both of two."""
    event = plain_event(9, 1, 2)
    problem = problem_of(event)
    solution = driven(problem, random_solution(problem, random.Random(1)), back_to_back=1000)
    least = recount(plan_of(problem, solution), event)["back_to_back_rests"]
    assert bounds_of(problem)["back_to_back_rests"].value == least == 1


@settings(max_examples=20, deadline=None)
@given(
    events(people=(4, 10), most_rounds=4, kinds=SEATED_AT_ONCE, most_wishes=0),
    st.integers(0, 99),
    st.data(),
)
def test_no_bound_is_above_a_plan_with_rounds_played(event, seed, data) -> None:
    """Rounds already played are part of the evening, and bounds stay below what it comes to."""
    lots = random.Random(seed)
    first = problem_of(event)
    rounds = rounds_of(first, random_solution(first, lots), ())
    played = rounds[: data.draw(st.integers(1, len(rounds)))]
    problem = problem_of(event, played)
    bounds = bounds_of(problem)
    start = random_solution(problem, lots)
    for what in DRIVERS if any(problem.shapes[r].players for r in problem.free) else ():
        plan = plan_of(problem, driven(problem, start, **{what: 1000}), played)
        values = recount(plan, event)
        assert not above(bounds, values), what


def test_fixed_teams_that_have_played_meet_once() -> None:
    """After two pairs rounds of the same four, partners have met once, others twice."""
    event = plain_event(4, 1, 0, Kind.PAIRS, Kind.PAIRS)
    problem = problem_of(event)
    rounds = rounds_of(problem, random_solution(problem, random.Random(1)), ())
    bound = bounds_of(problem_of(event, rounds))["meeting_repeats"].value
    assert bound <= recount(Plan(event, rounds), event)["meeting_repeats"] == 4


# ---- what theory and computation know -----------------------------------------------------


def _optima() -> list[tuple[int, int, int, int, int]]:
    with Path(__file__).with_name("least_opponent_squares.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    columns = ("players", "courts", "rounds", "counting_bound", "best")
    return [tuple(int(row[column]) for column in columns) for row in rows]


@pytest.mark.parametrize(("players", "courts", "rounds", "least", "best"), _optima())
def test_bounds_against_computed_optima(players, courts, rounds, least, best) -> None:
    """4 to 12 players, courts as full as can be, nobody partnering twice, fair rests.

    The table (computed for this project: a local search, whist tournaments, and
    a constraint solver's proofs of infeasibility) gives the least sum of squares
    of opponent counts and its counting bound. With T meetings across the net the
    sum of O(O-1)/2 is (squares - T)/2. The engine's bound lies between the two.
    """
    bounds = bounds_of(problem_of(plain_event(players, courts, rounds)))
    meetings = 4 * courts * rounds
    assert (least - meetings) / 2 <= bounds["opponent_repeats"].value <= (best - meetings) / 2
    assert bounds["partner_repeats"].value == 0


def test_the_table_of_optima_is_whole() -> None:
    """All 63 sizes are there: n = 4 to 12, rounds 1 to n - 1, courts n // 4."""
    sizes = [row[:3] for row in _optima()]
    assert sizes == [(n, n // 4, r) for n in range(4, 13) for r in range(1, n)]


@pytest.mark.parametrize("players", [4, 5, 8, 9, 12, 13, 16, 17, 20, 21, 24, 25, 28, 29, 32, 40])
def test_bounds_of_whist_tournaments_are_exact(players: int) -> None:
    """A whist tournament exists for every number of players 0 or 1 mod 4.

    Everybody partners everybody once and opposes everybody twice (R. D. Baker,
    "Whist tournaments", 1975; Hanani; Wilson: from memory), so at full length
    the least repeats are none of partners and one for each pair of opponents.
    """
    rounds = players - 1 if players % 4 == 0 else players
    bounds = bounds_of(problem_of(plain_event(players, players // 4, rounds)))
    pairs = players * (players - 1) // 2
    assert bounds["partner_repeats"].value == 0
    assert bounds["opponent_repeats"].value == pairs
    assert bounds["meeting_repeats"].value == 3 * pairs


MEET_ONCE = [(16, 5), (20, 5), (24, 7), (28, 9), (32, 10), (36, 11), (40, 13), (64, 21)]


@pytest.mark.parametrize(("players", "rounds"), MEET_ONCE)
def test_bounds_allow_what_social_golfers_do(players: int, rounds: int) -> None:
    """Nobody meets twice in groups of four: OEIS A107431; 32 in 10 rounds is Aguado 2004."""
    bounds = bounds_of(problem_of(plain_event(players, players // 4, rounds)))
    assert bounds["meeting_repeats"].value == 0


KAPPA = dict(zip(range(4, 18), (6, 3, 1, 0, 4, 3, 2, 1, 3, 2, 1, 0, 0, 0), strict=True))


@pytest.mark.parametrize(("players", "least"), KAPPA.items())
def test_two_rounds_repeat_as_many_pairs_as_they_must(players: int, least: int) -> None:
    """The least number of pairs that two rounds on players // 4 courts have in common.

    The pigeonhole: two courts of two rounds cross in cells, and two people of
    one cell meet twice. The numbers for 4 to 17 players were worked out by hand.
    """
    bounds = bounds_of(problem_of(plain_event(players, players // 4, 2)))
    assert bounds["meeting_repeats"].value == least
