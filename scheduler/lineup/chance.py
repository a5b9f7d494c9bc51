"""The chance to win a line, from levels: a logistic curve, always told as a range.

The chance that our pair wins is ``1 / (1 + exp(-d / scale))`` where *d* is our
pair's sum of levels less theirs: the logistic curve of paired comparison
(R. A. Bradley and M. E. Terry, Biometrika 39, 1952, 324-345). At ``d = scale``
it is 73 %. The default scale is invented; with results of the team it is
fitted (`fit_scale`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.domain.fixture import Fixture, TeamSeason

DEFAULT_SCALE = 2.0
"""Levels of pair sum that turn an even line into 73 %; invented, no source."""

LEVEL_DOUBT = 0.5
"""How far a pair's sum of levels may be off either way; invented, no source."""

SPREAD = 2.0
"""Half the spread assumed around our middle for pairs nobody knows; invented, no source."""

FEWEST_RESULTS = 6
"""Results with known levels below which the curve is not fitted."""

_SLOWEST, _STEEPEST = 0.02, 20.0


@dataclass(frozen=True, slots=True)
class Curve:
    """The win curve in use.

    `scale` is in levels of pair sum; `low` and `high` bound it with about 80 %
    confidence and equal it where nothing was fitted; `results` is the number
    of results it was fitted to, 0 for a stated scale.
    """

    scale: float = DEFAULT_SCALE
    low: float = DEFAULT_SCALE
    high: float = DEFAULT_SCALE
    results: int = 0


def win_chance(difference: float, scale: float = DEFAULT_SCALE) -> float:
    """Return the chance to win a line, 0 to 1.

    Parameters
    ----------
    difference
        Our pair's sum of levels less theirs.
    scale
        Levels of difference at which the chance is 73 %, above 0.
    """
    exponent = max(-60.0, min(60.0, difference / scale))
    return 1.0 / (1.0 + math.exp(-exponent))


def chance_range(
    ours: float, theirs: tuple[float, float], scale: float = DEFAULT_SCALE
) -> tuple[float, float]:
    """Return the lowest and highest chance of a line, levels being only roughly known.

    Parameters
    ----------
    ours
        Our pair's sum of levels.
    theirs
        Lowest and highest sum the opposing pair may have.
    scale
        The curve's scale in levels.
    """
    low, high = theirs
    worst = win_chance(ours - high - LEVEL_DOUBT, scale)
    return worst, win_chance(ours - low + LEVEL_DOUBT, scale)


def opposing(season: TeamSeason, fixture: Fixture, line: int) -> tuple[float, float]:
    """Return the lowest and highest sum of levels the opposing pair on a line may have.

    A known pair has one sum. An unknown one has the season's stated spread,
    or else two levels either way of twice our middle level.
    """
    known = fixture.their_sums[line - 1] if line <= len(fixture.their_sums) else None
    return (known, known) if known is not None else unknown_spread(season)


def unknown_spread(season: TeamSeason) -> tuple[float, float]:
    """Return the spread of sums assumed for an opposing pair nobody knows."""
    levels = sorted(member.level for member in season.squad)
    middle = levels[(len(levels) - 1) // 2] + levels[len(levels) // 2]
    low = middle - SPREAD if season.their_low is None else season.their_low
    high = middle + SPREAD if season.their_high is None else season.their_high
    return min(low, high), max(low, high)


def curve_of(season: TeamSeason) -> Curve:
    """Return the win curve of a season: as stated, else fitted to its results, else the default."""
    if season.scale is not None:
        return Curve(season.scale, season.scale, season.scale)
    results = [
        (_sum_of(season, pair.players) - pair.their_sum, pair.won)
        for pair in season.played
        if pair.their_sum is not None and pair.won is not None
    ]
    return fit_scale(results) if len(results) >= FEWEST_RESULTS else Curve()


def fit_scale(results: Sequence[tuple[float, bool]], prior: float = DEFAULT_SCALE) -> Curve:
    """Fit the curve's scale to results by penalised maximum likelihood.

    The steepness ``1 / scale`` is drawn towards the prior's by a normal
    penalty as wide as that steepness itself, so that a handful of results, or
    results without a single upset, cannot run away.

    Parameters
    ----------
    results
        For each line our sum of levels less theirs, and whether we won.
    prior
        The scale believed in before any result.
    """
    centre = 1.0 / prior
    signed = [difference if won else -difference for difference, won in results]
    steepness = centre
    for _ in range(100):
        slope, bend = _derivatives(signed, steepness, centre)
        moved = min(max(steepness - slope / bend, _SLOWEST), _STEEPEST)
        if abs(moved - steepness) < 1e-12:
            break
        steepness = moved
    doubt = 1.2816 / math.sqrt(_derivatives(signed, steepness, centre)[1])
    return Curve(
        scale=1.0 / steepness,
        low=1.0 / min(steepness + doubt, _STEEPEST),
        high=1.0 / max(steepness - doubt, _SLOWEST),
        results=len(results),
    )


def _derivatives(signed: list[float], steepness: float, centre: float) -> tuple[float, float]:
    """Return slope and curvature of the penalised negative log-likelihood."""
    slope = (steepness - centre) / centre**2
    bend = 1.0 / centre**2
    for difference in signed:
        lost = win_chance(-difference * steepness, 1.0)
        slope -= difference * lost
        bend += difference**2 * lost * (1.0 - lost)
    return slope, bend


def _sum_of(season: TeamSeason, players: tuple[str, str]) -> float:
    return sum(season.member_by_name[name].level for name in players)
