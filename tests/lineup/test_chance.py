"""The win curve: its shape, its fit, and that it is told as a range."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar
from scipy.special import expit

from scheduler.domain.event import Player
from scheduler.domain.fixture import Fixture, PlayedPair, SquadMember, TeamSeason
from scheduler.lineup.chance import (
    DEFAULT_SCALE,
    chance_range,
    curve_of,
    fit_scale,
    opposing,
    win_chance,
)


@given(st.floats(-30, 30), st.floats(0.2, 10))
def test_the_curve_is_the_logistic_function(difference, scale):
    """The chance is scipy's expit of difference over scale, and both sides' add up to one."""
    assert win_chance(difference, scale) == pytest.approx(expit(difference / scale), abs=1e-12)
    assert win_chance(difference, scale) + win_chance(-difference, scale) == pytest.approx(1)


def test_at_the_scale_the_chance_is_73_per_cent():
    """One scale's difference is e : 1, that is 0.7311."""
    assert win_chance(DEFAULT_SCALE) == pytest.approx(math.e / (1 + math.e))


@given(st.floats(2, 20), st.floats(2, 20), st.floats(0, 5))
def test_the_range_holds_the_chance_at_every_sum_assumed(ours, low, width):
    """The chance against any pair inside the spread lies within the range, strictly."""
    worst, best = chance_range(ours, (low, low + width))
    for theirs in (low, low + width / 2, low + width):
        assert worst < win_chance(ours - theirs) < best


def test_the_fit_is_the_least_penalised_loss():
    """The minimiser of scipy on the same penalised likelihood finds the same scale."""
    for seed in range(20):
        rng = random.Random(seed)
        true = rng.choice([0.8, 2.0, 4.0])
        results = []
        for _ in range(rng.randint(6, 60)):
            difference = rng.uniform(-4, 4)
            results.append((difference, rng.random() < expit(difference / true)))

        def loss(b, results=results):
            fit = sum(math.log1p(math.exp(-b * (d if won else -d))) for d, won in results)
            return fit + (b - 0.5) ** 2 / (2 * 0.5**2)

        found = minimize_scalar(loss, bounds=(0.02, 20), method="bounded")
        curve = fit_scale(results)
        assert loss(1 / curve.scale) <= found.fun + 1e-9
        assert curve.low <= curve.scale <= curve.high
        assert curve.results == len(results)


def test_many_results_find_the_true_scale():
    """Four thousand simulated lines at scale 3 give a scale within a tenth of it."""
    rng = random.Random(1)
    results = []
    for _ in range(4000):
        difference = rng.uniform(-5, 5)
        results.append((difference, rng.random() < expit(difference / 3)))
    assert fit_scale(results).scale == pytest.approx(3, rel=0.1)


def test_results_without_an_upset_cannot_run_away():
    """Where the stronger pair always won, the scale stays a sensible number."""
    assert 0.5 < fit_scale([(1.0, True)] * 8 + [(-1.0, False)] * 8).scale < DEFAULT_SCALE


LEVELS = (("A", 4), ("B", 5), ("C", 6), ("D", 7))


def season(played=(), **more) -> TeamSeason:
    """Return four people of levels 4 to 7 with one fixture."""
    squad = tuple(SquadMember(Player(name, level)) for name, level in LEVELS)
    return TeamSeason("T", squad, (Fixture("x", 2, their_sums=(12, None)),), played=played, **more)


def test_the_curve_is_stated_fitted_or_the_default():
    """A stated scale wins; six results with levels are fitted; fewer leave the default."""
    lines = tuple(PlayedPair(f"d{i}", 1, ("A", "D"), 9.0, won=True) for i in range(6))
    assert curve_of(season(lines, scale=1.5)).scale == 1.5
    assert curve_of(season(lines)).results == 6
    assert curve_of(season(lines[:5])).scale == DEFAULT_SCALE
    assert curve_of(season(lines[:5])).results == 0


def test_known_opponents_have_one_sum_and_unknown_ones_the_spread():
    """Line 1 is known; line 2 has the stated spread, or two levels either way of our middle."""
    fixture = season().fixtures[0]
    assert opposing(season(), fixture, 1) == (12, 12)
    assert opposing(season(), fixture, 2) == (9, 13)
    assert opposing(season(their_low=8.0, their_high=10.5), fixture, 2) == (8, 10.5)
