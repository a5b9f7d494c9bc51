"""A club's own time factor from recorded matches."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing.durations import court_durations
from scheduler.timing.levels import LevelModel
from scheduler.timing.pace import Pace
from scheduler.timing.servers import Servers

#: How far a club's pace may well lie from the stated one before anything is
#: recorded, as a standard deviation of the factor. An assumption, no source.
PRIOR_SPREAD = 0.15

_LONGEST_MINUTES = 600


@dataclass(frozen=True, slots=True)
class RecordedMatch:
    """What a court played and how long it took.

    Parameters
    ----------
    set_format, game_format
        What was played.
    minutes
        From walking on, the knock-up included, to the last point; the
        changeover before it not included.
    servers
        The chances of the four, where known; else even teams are taken.
    """

    set_format: SetFormat
    game_format: GameFormat
    minutes: float
    servers: Servers | None = None


@dataclass(frozen=True, slots=True)
class LearnedFactor:
    """A time factor with what it rests on.

    Parameters
    ----------
    factor
        What the seconds of play are to be multiplied with.
    spread
        Its standard deviation: how far the truth may lie from it.
    matches
        The matches it was learned from.
    timed
        Timed matches left out, as the clock and not the play ended them.
    """

    factor: float
    spread: float
    matches: int
    timed: int

    def applied_to(self, pace: Pace) -> Pace:
        """Return the pace with this factor."""
        return replace(pace, factor=self.factor)


def learn_factor(
    records: Iterable[RecordedMatch], pace: Pace | None = None, prior_spread: float = PRIOR_SPREAD
) -> LearnedFactor:
    """Fit the factor by which a club is slower than the stated pace.

    Parameters
    ----------
    records
        Matches with their real lengths.
    pace
        The stated pace, its own factor left aside; the defaults when None.
    prior_spread
        How far the factor may well lie from 1 before anything is recorded.

    Returns
    -------
    LearnedFactor
        Factor 1 and the prior spread when nothing is recorded.

    Raises
    ------
    BadInput
        If a recorded length is not a number of minutes above 0; each is named.

    Notes
    -----
    Each match's play divided by the expected play estimates the factor with
    a variance the model itself gives, for sets differ in length by chance.
    Their mean weighted by the inverse variances, the prior being one more
    estimate of 1, is the normal-normal posterior mean. So one odd match
    moves little, and twenty long sets decide.
    """
    matches = list(records)
    faults = [
        Fault(f"match {number}", f"minutes must be above 0, got {match.minutes}")
        for number, match in enumerate(matches, 1)
        if not 0 < match.minutes <= _LONGEST_MINUTES
    ]
    if not 0 < prior_spread < math.inf:
        faults.append(Fault("prior spread", f"must be above 0, got {prior_spread}"))
    if faults:
        raise BadInput(faults)
    played = [match for match in matches if match.set_format is not SetFormat.TIMED]
    stated = replace(pace or Pace(), factor=1.0, changeover=0.0)
    weight = 1 / prior_spread**2
    total = weight
    for match in played:
        ratio, variance = _estimate(match, stated)
        total += ratio / variance
        weight += 1 / variance
    factor = total / weight
    return LearnedFactor(factor, math.sqrt(1 / weight), len(played), len(matches) - len(played))


def _estimate(match: RecordedMatch, stated: Pace) -> tuple[float, float]:
    """Return one match's own estimate of the factor and its variance."""
    servers = match.servers or LevelModel().servers((5.0, 5.0), (5.0, 5.0))
    lengths = court_durations(servers, match.set_format, match.game_format, stated)
    mean, variance = lengths.mean_and_variance()
    expected = mean - stated.knock_up
    ratio = max(0.0, match.minutes * 60 - stated.knock_up) / expected
    return ratio, max(variance / expected**2, 1e-6)
