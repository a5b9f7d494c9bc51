"""The least that opponent repeats and level gaps cost together: never above a plan, and why."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from drawn_events import SEATED_AT_ONCE, events
from driven_plans import driven
from every_seating import every_plan
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from made_plans import plan_of
from scipy.optimize import linprog

from scheduler.checker import recount
from scheduler.domain.event import Emphasis, Event, Strength
from scheduler.domain.plain_evening import doubles_evening
from scheduler.rotation.bounds import blend, blend_beside, bounds_of
from scheduler.rotation.bounds.blend.certificate import (
    Multipliers,
    odd_rounds,
    proven_price,
    reduced_gaps,
)
from scheduler.rotation.bounds.blend.fractional import least_price
from scheduler.rotation.bounds.blend.odd_sets import odd_set, odd_sets
from scheduler.rotation.bounds.blend.pool import Matches, Pool, pool_of
from scheduler.rotation.construct import random_solution
from scheduler.rotation.engine import solve
from scheduler.rotation.price import LEVEL
from scheduler.rotation.search import keeps_musts
from scheduler.rotation.shapes import problem_of

TOLERANCE = 1e-6
EXCHANGES = (0.0, 0.5, 1 / 3, 2.0, 7.25)


def leveled(players: int, courts: int, rounds: int, seed: int, **facts) -> Event:
    """Return an evening with levels from 1 to 10 in halves."""
    draw = random.Random(seed)
    levels = [draw.randint(2, 20) / 2 for _ in range(players)]
    return replace(doubles_evening(levels, courts, rounds), **facts)


def bound(event: Event) -> float:
    """Return the bound on the blend price."""
    return bounds_of(problem_of(event))["blend_price"].value


def pool(event: Event) -> Pool:
    """Return the pool of an evening, repeats priced by its exchange."""
    return pool_of(problem_of(event), math.floor(event.exchange * LEVEL))


# ---- against all plans, and against plans made for nothing else ---------------------------


@settings(max_examples=25, deadline=None)
@given(
    st.integers(4, 6),
    st.integers(1, 3),
    st.lists(st.integers(2, 20), min_size=6, max_size=6),
    st.sampled_from(EXCHANGES),
)
def test_no_bound_is_above_the_cheapest_of_all_plans(people, rounds, levels, exchange) -> None:
    """Every plan of 4 to 6 people tried: none is cheaper, and prices are where they can be."""
    halves = [level / 2 for level in levels[:people]]
    event = replace(doubles_evening(halves, 1, rounds), exchange=exchange)
    plans = every_plan(event, most=1000)
    assume(plans is not None)
    prices = {recount(plan, event)["blend_price"] for plan in plans}
    assert bound(event) <= min(prices) + TOLERANCE
    for price in prices if exchange in {0.5, 2.0, 7.25} else ():
        units = round(price * LEVEL)
        assert blend._next_possible(pool(event), units) == units


@settings(max_examples=60, deadline=None)
@given(
    events(people=(4, 12), kinds=SEATED_AT_ONCE, most_wishes=2, strengths=(Strength.MUST,)),
    st.sampled_from(EXCHANGES),
    st.integers(0, 99),
)
def test_no_bound_is_above_a_plan_made_for_this_price(drawn, exchange, seed) -> None:
    """Late comers, rests, mixed, fixed and group matches: partners and all else given up."""
    event = replace(drawn, emphasis=Emphasis.BLEND, exchange=exchange)
    problem = problem_of(event)
    assume(any(shape.players for shape in problem.shapes))
    start = random_solution(problem, random.Random(seed))
    for partner in (0, 10_000):
        solution = driven(problem, start, opponent=round(1000 * exchange), gap=1, partner=partner)
        if keeps_musts(problem, solution):
            counted = recount(plan_of(problem, solution), event)
            assert bound(event) <= counted["blend_price"] + TOLERANCE
            given_above = blend_beside(
                problem, counted["partner_repeats"], counted["rest_unfairness"]
            )
            assert given_above is None or given_above <= counted["blend_price"] + TOLERANCE


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize(("players", "courts", "rounds"), [(8, 2, 3), (8, 2, 5), (9, 2, 4)])
def test_no_bound_is_above_a_long_search(players, courts, rounds, seed) -> None:
    """Small whole evenings, searched many times over, do not get below the bound."""
    event = leveled(players, courts, rounds, seed)
    problem = problem_of(event)
    found = math.inf
    for start in range(8):
        first = random_solution(problem, random.Random(start))
        solution = driven(problem, first, opponent=2000, gap=1)
        found = min(found, recount(plan_of(problem, solution), event)["blend_price"])
    assert bound(event) <= found + TOLERANCE


# ---- what it brings ---------------------------------------------------------------------


BROUGHT = [
    # players, rounds, seed of the levels, least repeats and least gaps added, bound at least
    (8, 3, 0, 0, 10),
    (12, 6, 3, 12, 33),
    (16, 6, 1, 0, 6),
    (16, 8, 3, 20, 43),
]


@pytest.mark.parametrize(("players", "rounds", "seed", "apart", "least"), BROUGHT)
def test_it_beats_the_least_of_both_added(players, rounds, seed, apart, least) -> None:
    """No plan has both the least repeats and the least gaps; the best mix knows some of that."""
    event = leveled(players, players // 4, rounds, seed)
    bounds = bounds_of(problem_of(event))
    gaps = bounds["level_gap_mean"].value * rounds * (players // 4)
    added = 2 * bounds["opponent_repeats"].value + gaps
    assert added == pytest.approx(apart, abs=1e-3)
    assert bounds["blend_price"].value >= least


@pytest.mark.parametrize(("players", "rounds", "seed"), [(5, 5, 0), (6, 6, 1), (8, 3, 2)])
def test_small_evenings_are_known_to_be_the_best_beside_partners(players, rounds, seed) -> None:
    """The plan stands above the bound for all plans, at the one for plans with its partners."""
    measures = solve(leveled(players, players // 4, rounds, seed), effort="quick").measures
    price = measures["blend_price"]
    assert price.best_given_above
    assert not price.proven
    assert price.value > price.bound


def test_other_emphases_do_not_ask_for_it() -> None:
    """Where the blend is not what is sought, the two bounds are just added up."""
    event = leveled(8, 2, 3, 0, emphasis=Emphasis.VARIETY)
    assert bound(event) == 0


# ---- the certificate, without any solver ---------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(
    events(people=(4, 10), kinds=SEATED_AT_ONCE, most_wishes=0),
    st.integers(0, 999),
    st.sampled_from([0.5, 2.0, 7.25]),
    st.sampled_from([0, 3 * LEVEL]),
)
def test_any_multipliers_prove_something_true(drawn, seed, exchange, partner) -> None:
    """Numbers drawn at random prove a price that no plan drawn at random is below."""
    event = replace(drawn, exchange=exchange)
    problem = problem_of(event)
    evening = replace(pool(event), partner=0 if problem.all_teams else partner)
    assume(evening.matches)
    draw = np.random.default_rng(seed)
    size = int(draw.choice([1, 10, 100])) * LEVEL // 100
    sets = [int(draw.integers(1, 1 << evening.players)) for _ in range(3)]
    pairs = evening.players * (evening.players - 1) // 2
    multipliers = Multipliers(
        turns=draw.integers(-size, size, evening.players),
        opponents=draw.integers(0, 5 * size, pairs),
        partners=draw.integers(0, 5 * size, pairs)
        if evening.partner
        else np.zeros(pairs, dtype=int),
        odd=tuple((some, int(draw.integers(0, size))) for some in sets),
    )
    matches = Matches(evening)
    proven = proven_price(matches, multipliers, reduced_gaps(matches, multipliers))
    plan = plan_of(problem, random_solution(problem, random.Random(seed)))
    counted = recount(plan, event)
    paid = counted["blend_price"] * LEVEL + counted["partner_repeats"] * evening.partner
    assert proven <= paid + 1


def test_a_round_meets_an_odd_set_oddly() -> None:
    """Seven of eight all play: three of them fill two courts as 3 and 0, or 2 and 1."""
    evening = pool(leveled(8, 2, 5, 0))
    assert odd_rounds(evening, 0b111) == 5
    assert odd_rounds(evening, 0b1111) == 0
    assert odd_rounds(pool(leveled(9, 2, 5, 0)), 0b111) == 0  # the third may rest


@given(st.integers(8, 16), st.integers(0, 999))
def test_odd_sets_meet_the_first_foursomes_evenly(people, seed) -> None:
    """The set is odd, and even in each foursome taken in turn as long as any odd set can be."""
    draw = random.Random(seed)
    everyone = (1 << people) - 1
    fours = [sum(1 << i for i in draw.sample(range(people), 4)) for _ in range(12)]
    found = odd_set(everyone, fours)
    assert found.bit_count() % 2 == 1
    every = (some for some in range(1 << min(people, 10)) if some.bit_count() % 2)
    best = max(_evenly(some, fours) for some in every) if people <= 10 else 0
    assert _evenly(found, fours) >= best


def _evenly(some: int, fours: list[int]) -> int:
    """Return how many foursomes from the first on a set meets evenly."""
    even = [(some & four).bit_count() % 2 == 0 for four in fours]
    return even.index(False) if False in even else len(even)


def test_a_mix_that_no_rounds_make_is_found_out() -> None:
    """Among 0 to 5 half each of 0123, 0145, 2345, and the same among 6 to 11.

    Everybody plays once in all, yet no three of these make a round of twelve:
    all of them meet {0, 2, 4} evenly, which a round cannot.
    """
    six = (0b001111, 0b110011, 0b111100)
    halves = dict.fromkeys([*six, *(four << 6 for four in six)], 0.5)
    found = next(odd_sets((1 << 12) - 1, halves))
    assert found.bit_count() % 2 == 1
    assert all((four & found).bit_count() % 2 == 0 for four in halves)


# ---- against a general solver ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("players", "courts", "rounds", "seed"),
    [(6, 1, 6, 1), (9, 2, 6, 2), (10, 2, 9, 3), (7, 1, 9, 4)],
)
def test_it_is_the_linear_program_that_scipy_solves(players, courts, rounds, seed) -> None:
    """With rests in every round there are no odd sets: HiGHS finds the same least price.

    The program written out in full (every match, every pair, straight lines
    between whole repeats) and given to `scipy.optimize.linprog`.
    """
    evening = pool(leveled(players, courts, rounds, seed))
    assert evening.whole == ()
    matches = Matches(evening)
    assert least_price(matches) / LEVEL == pytest.approx(_by_scipy(matches), abs=2e-3)


def _by_scipy(matches: Matches) -> float:
    evening = matches.pool
    count = len(matches.players)
    lines = 12
    shares = np.zeros((evening.players, count))
    for i in range(evening.players):
        shares[i] = (matches.players == i).sum(1)
    meetings = np.zeros((matches.pairs, count + lines * matches.pairs))
    for pair in range(matches.pairs):
        meetings[pair, :count] = (matches.opponents == pair).sum(1)
        meetings[pair, count + lines * pair : count + lines * (pair + 1)] = -1
    turns = np.hstack([shares, np.zeros((evening.players, lines * matches.pairs))])
    exchange = evening.exchange / LEVEL
    repeats = np.tile(exchange * np.arange(lines), matches.pairs)
    solved = linprog(
        np.concatenate([matches.gaps / LEVEL, repeats]),
        A_ub=np.vstack([meetings, turns, -turns]),
        b_ub=np.concatenate([np.zeros(matches.pairs), evening.most, -np.asarray(evening.fewest)]),
        A_eq=[[1] * count + [0] * (lines * matches.pairs)],
        b_eq=[evening.matches],
        bounds=[(0, None)] * count + [(0, 1)] * (lines * matches.pairs),
    )
    assert solved.status == 0
    return float(solved.fun)


def test_the_same_evening_has_the_same_bound() -> None:
    """Nothing remembered from other evenings or runs plays a part."""
    event = leveled(12, 3, 6, 3)
    first = bound(event)
    blend._least_price.cache_clear()
    bound(leveled(12, 3, 6, 4))
    assert bound(event) == first
