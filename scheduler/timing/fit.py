"""Does a format fit a round's minutes on all of its courts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.domain.errors import BadInput
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing.durations import AllCourts, all_courts, court_durations
from scheduler.timing.pace import Pace
from scheduler.timing.servers import Servers
from scheduler.timing.timed import TimedRound, minutes_fault, timed_round
from scheduler.timing.wording import courts_words, described, percent

MEDIAN, MOSTLY, NEARLY_ALWAYS = 0.5, 0.8, 0.95


@dataclass(frozen=True, slots=True)
class Court:
    """Who plays on a court: the four servers, and how much slower than the pace they are."""

    servers: Servers
    times: float = 1.0


@dataclass(frozen=True, slots=True)
class RoundFit:
    """Whether a round's courts are done in time.

    Parameters
    ----------
    set_format, game_format
        What is played.
    minutes
        The minutes the round has.
    courts
        The number of courts that play.
    median, p80, p95
        Minutes after the round's start by which **all** courts are done in
        half of such rounds, in 80 % and in 95 % of them, changeover and
        knock-up included; infinity where a tail is too long to tell. The
        round's minutes where the bell ends it.
    done_in_time
        The chance that all courts are done within the minutes; of a timed
        round, that each court finishes a game at all.
    fits
        True when that chance is at least 80 %.
    proposal
        What would fit instead, in words; empty when it fits.
    """

    set_format: SetFormat
    game_format: GameFormat
    minutes: float
    courts: int
    median: float
    p80: float
    p95: float
    done_in_time: float
    fits: bool
    proposal: str = ""

    @property
    def warning(self) -> str:
        """What to tell the organiser in a sentence; empty when the format fits."""
        if self.fits:
            return ""
        what = described(self.set_format, self.game_format)
        if self.set_format is SetFormat.TIMED:
            return f"{what} of {self.minutes:g} minutes is too short: {self.proposal}"
        need = "some may never end"
        if math.isfinite(self.p80):
            need = f"8 in 10 need up to {math.ceil(self.p80)} minutes"
        return (
            f"{what} is over within {self.minutes:g} minutes on {courts_words(self.courts)} "
            f"in {percent(self.done_in_time)} of such rounds ({need}); {self.proposal}"
        )


def round_fit(
    set_format: SetFormat,
    game_format: GameFormat,
    minutes: float,
    courts: Sequence[Court],
    pace: Pace,
) -> RoundFit:
    """Return whether a format fits, without a proposal.

    Parameters
    ----------
    set_format, game_format
        What is played.
    minutes
        The minutes the round has.
    courts
        Who plays on each court, one at least.
    pace
        The seconds of points, pauses and changes.

    Raises
    ------
    BadInput
        If the minutes are not a number above 0, or more than an evening.
    """
    if (fault := minutes_fault(minutes)) is not None:
        raise BadInput([fault])
    if set_format is SetFormat.TIMED:
        games = shortest_timed(game_format, minutes, courts, pace).games
        done, median, p80, p95 = 1 - games[0], minutes, minutes, minutes
    else:
        slowest = slowest_of(set_format, game_format, courts, pace)
        done = slowest.chance_by(minutes * 60)
        median, p80, p95 = (slowest.quantile(c) / 60 for c in (MEDIAN, MOSTLY, NEARLY_ALWAYS))
    return RoundFit(
        set_format, game_format, minutes, len(courts), median, p80, p95, done, done >= MOSTLY
    )


def slowest_of(
    set_format: SetFormat, game_format: GameFormat, courts: Sequence[Court], pace: Pace
) -> AllCourts:
    """Return the distribution of the time by which all these courts are done."""
    return all_courts(
        [
            court_durations(court.servers, set_format, game_format, pace, court.times)
            for court in courts
        ]
    )


def shortest_timed(
    game_format: GameFormat, minutes: float, courts: Sequence[Court], pace: Pace
) -> TimedRound:
    """Return what a timed round yields on the slowest of these courts."""
    slowest = max(courts, key=lambda court: court.times)
    return timed_round(slowest.servers, game_format, minutes, pace, slowest.times)


def formats_for(minutes: float, courts: Sequence[Court], pace: Pace) -> tuple[RoundFit, ...]:
    """Return the fit of every format the clock does not end, the longest first."""
    kinds = [kind for kind in SetFormat if kind is not SetFormat.TIMED]
    fitted = [
        round_fit(kind, game, minutes, courts, pace) for kind in kinds for game in games_of(kind)
    ]
    return tuple(sorted(fitted, key=lambda fit: -fit.median))


def games_of(set_format: SetFormat) -> tuple[GameFormat, ...]:
    """Return the game formats that make a difference: a lone tie-break has no games."""
    return (GameFormat.AD,) if set_format.only_tie_break_to else tuple(GameFormat)
