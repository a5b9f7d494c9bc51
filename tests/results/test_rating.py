"""The rating update against openskill, an independent library of the same paper.

Oracle: openskill (PyPI), its Bradley-Terry full-pair model with the paper's formulas: Weng and
Lin, "A Bayesian Approximation Method for Online Ranking", JMLR 12 (2011) 267-300, Algorithm 1.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openskill.models import BradleyTerryFull

from scheduler.results import Model, Rating, chance, update

LEVELS = st.floats(1, 10)
SPREADS = st.floats(0.05, 2)
RATINGS = st.builds(Rating, LEVELS, SPREADS)
TEAMS = st.tuples(RATINGS, RATINGS)
BETAS = st.floats(0.2, 3)


def by_openskill(
    team_a: tuple[Rating, Rating], team_b: tuple[Rating, Rating], places: list[int], beta: float
) -> list[Rating]:
    """Return the four ratings as openskill has them after a match, team A first."""
    model = BradleyTerryFull(mu=5, sigma=1, beta=beta, kappa=Model().least, tau=0.0)
    teams = [[model.rating(mu=r.level, sigma=r.spread) for r in team] for team in (team_a, team_b)]
    after = model.rate(teams, ranks=places)
    return [Rating(found.mu, found.sigma) for team in after for found in team]


@settings(deadline=None, max_examples=200)
@given(TEAMS, TEAMS, st.sampled_from([(1.0, [1, 2]), (0.0, [2, 1]), (0.5, [1, 1])]), BETAS)
def test_a_match_moves_levels_as_openskill_does(
    team_a: tuple[Rating, Rating],
    team_b: tuple[Rating, Rating],
    result: tuple[float, list[int]],
    beta: float,
) -> None:
    """Win, loss and tie give the levels and spreads of the reference library to 9 digits."""
    score, places = result
    ours = update(team_a, team_b, score, Model(beta=beta))
    theirs = by_openskill(team_a, team_b, places, beta)
    for mine, other in zip((*ours[0], *ours[1]), theirs, strict=True):
        assert mine.level == pytest.approx(other.level, rel=1e-9, abs=1e-9)
        assert mine.spread == pytest.approx(other.spread, rel=1e-9, abs=1e-9)


@given(TEAMS, TEAMS, BETAS)
def test_chances_of_both_teams_add_up(
    team_a: tuple[Rating, Rating], team_b: tuple[Rating, Rating], beta: float
) -> None:
    """One of two teams wins, and equal teams win equally often."""
    model = Model(beta=beta)
    assert chance(team_a, team_b, model) + chance(team_b, team_a, model) == pytest.approx(1)
    assert chance(team_a, team_a, model) == pytest.approx(0.5)


def test_the_less_known_partner_moves_more() -> None:
    """Weng and Lin 2011: a member's share of the step is in proportion to the variance."""
    known, unknown = Rating(5, 0.2), Rating(5, 1.0)
    (first, second), _ = update((known, unknown), (known, known), 1.0, Model())
    assert (second.level - 5) / (first.level - 5) == pytest.approx(1.0 / 0.2**2)
