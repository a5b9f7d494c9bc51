"""How long a format takes, and which formats fit a round: the story behind ``rota timing``."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scheduler.domain.errors import BadInput
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing import (
    AllCourts,
    RoundFit,
    Servers,
    TimedRound,
    court_durations,
    formats_for,
    game_chance,
    set_means,
    shortest_timed,
    tie_break_means,
)
from scheduler.timing.fit import MEDIAN, MOSTLY, NEARLY_ALWAYS
from scheduler.workflow.timing_players import Play

#: Minutes of a timed round nobody gave; common practice, no source.
TIMED_MINUTES = 25.0


@dataclass(frozen=True, slots=True)
class Quantiles:
    """Minutes from the round's start by which half, 80 % and 95 % of rounds are done."""

    median: float
    p80: float
    p95: float


@dataclass(frozen=True, slots=True)
class ChartRow:
    """The chances that one court, and that every court, is done by a minute."""

    minute: int
    one_court: float
    all_courts: float


@dataclass(frozen=True, slots=True)
class LengthOfPlay:
    """Everything about the length of one format.

    Parameters
    ----------
    set_format, game_format
        What is played.
    holds
        Each server's chance to hold a game, in serving order.
    tie_break_chance
        The first team's chance of the format's tie-break; of one to 7 points
        where it has none. None where that would never end.
    set_chance
        The first team's chance of the set; in a timed round, to lead at the bell.
    games_mean, points_mean
        Mean numbers of games and points.
    one_court, every_court
        When one court, and when every court is done.
    chart
        The chances of being done, minute by minute; empty in a timed round.
    timed
        What the bell leaves, in a timed round.
    """

    set_format: SetFormat
    game_format: GameFormat
    holds: tuple[float, ...]
    tie_break_chance: float | None
    set_chance: float
    games_mean: float
    points_mean: float
    one_court: Quantiles
    every_court: Quantiles
    chart: tuple[ChartRow, ...]
    timed: TimedRound | None = None

    @property
    def game_chance(self) -> tuple[float, float]:
        """The chances that the first and the second team hold a game, partners averaged."""
        return (self.holds[0] + self.holds[2]) / 2, (self.holds[1] + self.holds[3]) / 2


@dataclass(frozen=True, slots=True)
class FormatsThatFit:
    """Every format asked about with its fit, and what a timed round would yield."""

    minutes: float
    formats: tuple[RoundFit, ...]
    timed: TimedRound
    timed_game: GameFormat


def length_of_play(
    play: Play, set_format: SetFormat, game_format: GameFormat, minutes: float = TIMED_MINUTES
) -> LengthOfPlay:
    """Return how long a format takes.

    Parameters
    ----------
    play
        Who plays, where and how fast.
    set_format, game_format
        What is played.
    minutes
        The minutes of a timed round; otherwise not looked at.

    Raises
    ------
    BadInput
        If the chances never let the set end, or a timed round's minutes are
        out of range.
    """
    servers = play.court.servers
    holds = tuple(game_chance(chance, game_format) for chance in servers.chances)
    if set_format is SetFormat.TIMED:
        return _timed_length(play, game_format, minutes, holds)
    means = set_means(servers, set_format, game_format)
    durations = court_durations(servers, set_format, game_format, play.pace, play.court.times)
    one, every = AllCourts(((durations, 1),)), AllCourts(((durations, play.courts),))
    to, first_turn = set_format.only_tie_break_to or 7, 2 * (set_format.tie_break_at or 0)
    return LengthOfPlay(
        set_format=set_format,
        game_format=game_format,
        holds=holds,
        tie_break_chance=tie_break_means(servers, to, first_turn).chance,
        set_chance=means.chance,
        games_mean=means.games,
        points_mean=means.points,
        one_court=_quantiles(one),
        every_court=_quantiles(every),
        chart=_chart(one, every),
    )


def formats_that_fit(
    play: Play,
    minutes: float,
    set_format: SetFormat | None = None,
    game_format: GameFormat | None = None,
) -> FormatsThatFit:
    """Return how well every format fits a round, the longest first.

    Parameters
    ----------
    play
        Who plays, where and how fast.
    minutes
        The round's minutes.
    set_format, game_format
        Only these, where given.

    Raises
    ------
    BadInput
        If the minutes are not a number above 0, or more than an evening.
    """
    found = tuple(
        fit
        for fit in formats_for(minutes, play.all_alike, play.pace)
        if set_format in {None, fit.set_format}
        and (game_format in {None, fit.game_format} or fit.set_format.only_tie_break_to)
    )
    timed_game = game_format or GameFormat.AD
    timed = shortest_timed(timed_game, minutes, play.all_alike, play.pace)
    return FormatsThatFit(minutes, found, timed, timed_game)


def _timed_length(
    play: Play, game_format: GameFormat, minutes: float, holds: tuple[float, ...]
) -> LengthOfPlay:
    timed = shortest_timed(game_format, minutes, play.all_alike, play.pace)
    bell = Quantiles(minutes, minutes, minutes)
    return LengthOfPlay(
        set_format=SetFormat.TIMED,
        game_format=game_format,
        holds=holds,
        tie_break_chance=_some_tie_break(play.court.servers),
        set_chance=timed.first_ahead,
        games_mean=timed.games_mean,
        points_mean=timed.points_mean,
        one_court=bell,
        every_court=bell,
        chart=(),
        timed=timed,
    )


def _some_tie_break(servers: Servers) -> float | None:
    """Return the chance of a tie-break nobody plays, so it may be one that would not end."""
    try:
        return tie_break_means(servers).chance
    except BadInput:
        return None


def _quantiles(courts: AllCourts) -> Quantiles:
    return Quantiles(*(courts.quantile(chance) / 60 for chance in (MEDIAN, MOSTLY, NEARLY_ALWAYS)))


def _chart(one: AllCourts, every: AllCourts) -> tuple[ChartRow, ...]:
    """Return a dozen rows from the first finisher to nearly everybody."""
    low, high = one.quantile(0.02) / 60, every.quantile(NEARLY_ALWAYS) / 60
    if not math.isfinite(high):
        return ()
    step = next((s for s in (1, 2, 5, 10, 20, 50) if (high - low) / s <= 12), 100)
    start = math.floor(low / step) * step
    return tuple(
        ChartRow(minute, one.chance_by(minute * 60), every.chance_by(minute * 60))
        for minute in range(start, math.ceil(high / step) * step + 1, step)
    )
