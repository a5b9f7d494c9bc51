"""One match's effect on what is believed of four people's levels.

The update is the Bradley-Terry form for two teams of Weng and Lin: a person's
level is a normal distribution, a team's is the sum of its members', and the
chance of winning is logistic in the difference of the sums.

References
----------
.. [1] R. C. Weng and C.-J. Lin, "A Bayesian Approximation Method for Online
   Ranking", Journal of Machine Learning Research 12 (2011) 267-300,
   Algorithm 1 (Bradley-Terry model, full pair).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

Team = tuple["Rating", "Rating"]


@dataclass(frozen=True, slots=True)
class Rating:
    """A level on the scale 1 to 10 and how far it may lie from the truth (standard deviation)."""

    level: float
    spread: float


@dataclass(frozen=True, slots=True)
class Model:
    """The numbers of the update, in levels.

    Parameters
    ----------
    spread
        How far an organiser's level may lie from the truth before any match.
    beta
        How much one person's play differs from match to match; with exactly
        known levels a lead of sqrt(2) * beta in the sums wins 73 of 100.
    drift
        How far a level may move from one evening to the next.
    least
        Least share of a variance that one match may leave (``kappa`` in [1]_).
    margin_scale
        By how much flatter the curve of the margin is than that of winning.
    margin_weight
        How much more a margin tells than a win alone: about the ratio of the
        variances of a win and of a margin.
    """

    spread: float = 1.0
    beta: float = 0.5
    drift: float = 0.08
    least: float = 0.0001
    margin_scale: float = 1.3
    margin_weight: float = 2.0


def chance(team_a: Team, team_b: Team, model: Model, scale: float = 1.0) -> float:
    """Return the chance that team A wins, what is not known of the levels included."""
    lead = _level(team_a) - _level(team_b)
    return 1 / (1 + math.exp(-lead / (_width(team_a, team_b, model) * scale)))


def update(  # noqa: PLR0913, PLR0917  the last two are for margins alone
    team_a: Team,
    team_b: Team,
    score: float,
    model: Model,
    scale: float = 1.0,
    weight: float = 1.0,
) -> tuple[Team, Team]:
    """Return both teams after a match.

    Parameters
    ----------
    team_a, team_b
        What was believed before.
    score
        What team A made of it: 1 for a win, 0 for a loss, 0.5 for neither.
    model
        The numbers of the update.
    scale
        Stretches the curve of the chance, for scores that tell a margin.
    weight
        How many matches this one counts for.
    """
    width = _width(team_a, team_b, model) * scale
    expected = chance(team_a, team_b, model, scale)
    surprise = weight * (score - expected) / width
    information = weight * expected * (1 - expected) / width**2
    return (
        _moved(team_a, surprise, information, width, model),
        _moved(team_b, -surprise, information, width, model),
    )


def _moved(team: Team, surprise: float, information: float, width: float, model: Model) -> Team:
    # gamma of the paper: a team of which little is known learns faster
    learning = math.sqrt(_variance(team)) / width
    first, second = (
        Rating(
            rating.level + rating.spread**2 * surprise,
            rating.spread
            * math.sqrt(max(1 - rating.spread**2 * learning * information, model.least)),
        )
        for rating in team
    )
    return first, second


def _level(team: Team) -> float:
    return team[0].level + team[1].level


def _variance(team: Team) -> float:
    return team[0].spread ** 2 + team[1].spread ** 2


def _width(team_a: Team, team_b: Team, model: Model) -> float:
    return math.sqrt(_variance(team_a) + _variance(team_b) + 2 * model.beta**2)
