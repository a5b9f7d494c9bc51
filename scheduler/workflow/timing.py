"""How long a format takes, and which formats fit a round: the story behind ``rota timing``."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing import (
    AllCourts,
    Court,
    LevelModel,
    Pace,
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
from scheduler.timing.levels import ORIGIN, level_faults
from scheduler.timing.servers import chance_faults
from scheduler.timing.wording import percent

#: Minutes of a timed round nobody gave; common practice, no source.
TIMED_MINUTES = 25.0


@dataclass(frozen=True, slots=True)
class Play:
    """What is played, by whom, on how many courts.

    Parameters
    ----------
    court
        The four servers and how much slower than the pace they are; every
        court is taken to be like this one.
    basis
        In a sentence, where the chances of a point come from.
    courts
        How many courts play at once.
    pace
        The seconds of points, pauses and changes.
    """

    court: Court
    basis: str
    courts: int
    pace: Pace

    @property
    def all_alike(self) -> list[Court]:
        """Every court that plays."""
        return [self.court] * self.courts


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


def who_plays(
    points_won: str | None,
    levels: str | None,
    courts: int = 1,
    pace: Pace | None = None,
    beginners: bool = False,
) -> Play:
    """Return who plays, from chances or levels as a person writes them.

    Parameters
    ----------
    points_won
        ``"0.6,0.55"``, a chance of a point on its own serve for each team, or
        ``"0.62,0.58/0.55,0.5"``, one for each server.
    levels
        ``"3.0,3.5/4.0,2.5"``, the first team's and the second's; even teams
        when neither is given.
    courts
        How many courts play at once.
    pace
        The seconds of points, pauses and changes; the defaults when None.
    beginners
        True to take every court for one of beginners whatever the levels.

    Raises
    ------
    BadInput
        If both are given, a value is not a number in its range, or their
        number is wrong; every fault is named.
    """
    pace = pace or Pace()
    if points_won is not None and levels is not None:
        what = "give chances of a point or levels, not both"
        raise BadInput.one("--points-won, --levels", what)
    times = pace.beginner_factor if beginners else 1.0
    if points_won is not None:
        servers = _servers_of_chances(points_won)
        return Play(Court(servers, times), "chances of a point as given", courts, pace)
    model = LevelModel()
    if levels is None:
        basis = f"even teams, servers win {percent(model.equal_serve)} of points ({ORIGIN})"
        return Play(Court(model.servers((5.0, 5.0), (5.0, 5.0)), times), basis, courts, pace)
    first, second = _two_teams(levels)
    if not beginners:
        times = pace.times_at((*first, *second))
    return Play(Court(model.servers(first, second), times), f"from levels ({ORIGIN})", courts, pace)


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


def _servers_of_chances(text: str) -> Servers:
    where = "--points-won"
    sides = [side.split(",") for side in text.split("/")]
    wanted = "two chances such as 0.6,0.55, or each server's such as 0.62,0.58/0.55,0.5"
    numbers = _numbers(where, sides, wanted, ([2], [2, 2]))
    faults = chance_faults((value for side in numbers for value in side), where)
    if faults:
        if all(1 < value <= 100 for side in numbers for value in side):
            faults.append(Fault(where, "write 60 % as 0.6"))
        raise BadInput(faults)
    if len(numbers) == 1:
        return Servers.of_teams(numbers[0][0], numbers[0][1])
    (first, first_partner), (second, second_partner) = numbers
    return Servers((first, second, first_partner, second_partner))


def _two_teams(text: str) -> tuple[tuple[float, float], tuple[float, float]]:
    where = "--levels"
    sides = [side.split(",") for side in text.split("/")]
    wanted = "two levels for each team, such as 3.0,3.5/4.0,2.5"
    numbers = _numbers(where, sides, wanted, ([2, 2],))
    faults = level_faults(tuple(value for side in numbers for value in side), where)
    if faults:
        raise BadInput(faults)
    return (numbers[0][0], numbers[0][1]), (numbers[1][0], numbers[1][1])


def _numbers(
    where: str, sides: list[list[str]], wanted: str, shapes: tuple[list[int], ...]
) -> list[list[float]]:
    """Return the numbers of a text split into sides, or name everything wrong with it."""
    if [len(side) for side in sides] not in shapes:
        given = "/".join(",".join(side) for side in sides)
        raise BadInput.one(where, f'must be {wanted}, got "{given}"')
    faults: list[Fault] = []
    numbers = [[_number(where, word, faults) for word in side] for side in sides]
    if faults:
        raise BadInput(faults)
    return numbers


def _number(where: str, word: str, faults: list[Fault]) -> float:
    try:
        return float(word)
    except ValueError:
        faults.append(Fault(where, f'must be a number, got "{word.strip()}"'))
        return 0.0
