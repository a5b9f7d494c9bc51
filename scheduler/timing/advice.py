"""What a planner asks: does the chosen format fit, and which one would."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing.fit import Court, RoundFit, games_of, round_fit, shortest_timed
from scheduler.timing.levels import LevelModel, Team, level_faults
from scheduler.timing.pace import Pace
from scheduler.timing.servers import Servers
from scheduler.timing.sets import set_means
from scheduler.timing.timed import minutes_fault
from scheduler.timing.wording import described

#: Differences of level are rounded to this before a court's length is worked
#: out, so that many courts share few distributions.
LEVEL_STEP = 0.5

#: Everything that ends by itself within a round; an advantage set may go on.
_PROPOSALS = (
    SetFormat.TIE_BREAK,
    SetFormat.SHORT,
    SetFormat.SHORT_3_3,
    SetFormat.MATCH_TIE_BREAK_10,
    SetFormat.MATCH_TIE_BREAK_7,
    SetFormat.PRO,
)


def fits(  # noqa: PLR0913  one fact of the round each
    event_format: SetFormat,
    game_format: GameFormat,
    minutes: float,
    teams: Sequence[tuple[Team, Team]] | None = None,
    *,
    courts: int = 1,
    pace: Pace | None = None,
) -> RoundFit:
    """Return whether a format fits a round, and what would where it does not.

    Parameters
    ----------
    event_format, game_format
        What the round plays.
    minutes
        The minutes the round has.
    teams
        The levels of the two teams on each court; None when nobody is seated
        yet, which takes even teams on `courts` courts.
    courts
        The courts of a round without teams; otherwise not looked at.
    pace
        The seconds of points, pauses and changes; the stated defaults when
        None. Where the evening has its own changeover between rounds, pass a
        pace whose changeover is 0.

    Raises
    ------
    BadInput
        If the minutes are not a number above 0 or a level is not one from 1 to
        10; each is named.

    Notes
    -----
    Who serves first is not asked: of a court only the teams' difference in
    level counts, rounded to `LEVEL_STEP`.
    """
    _refuse_bad(minutes, teams, courts)
    pace = pace or Pace()
    playing = _by_levels(teams, pace) if teams else [Court(_even())] * courts
    fit = round_fit(event_format, game_format, minutes, playing, pace)
    return fit if fit.fits else replace(fit, proposal=_proposal(fit, playing, pace))


def _refuse_bad(minutes: float, teams: Sequence[tuple[Team, Team]] | None, courts: int) -> None:
    faults = [fault] if (fault := minutes_fault(minutes)) is not None else []
    if not teams and courts < 1:
        faults.append(Fault("courts", f"at least one court must play, got {courts}"))
    for number, (first, second) in enumerate(teams or (), 1):
        faults += level_faults((*first, *second), f"match {number}")
    if faults:
        raise BadInput(faults)


def _by_levels(teams: Sequence[tuple[Team, Team]], pace: Pace) -> list[Court]:
    courts = []
    for first, second in teams:
        difference = abs(sum(first) - sum(second)) / 2
        rounded = round(difference / LEVEL_STEP) * LEVEL_STEP
        courts.append(Court(_at_difference(rounded), pace.times_at((*first, *second))))
    return courts


@lru_cache(maxsize=256)
def _at_difference(difference: float) -> Servers:
    """Return servers of two teams whose mean levels differ by so much, partners alike."""
    middle = 5.5
    stronger, weaker = middle + difference / 2, middle - difference / 2
    return LevelModel().servers((stronger, stronger), (weaker, weaker))


def _even() -> Servers:
    return _at_difference(0.0)


def _proposal(fit: RoundFit, courts: Sequence[Court], pace: Pace) -> str:
    """Return in words the longest format that fits, and what a timed round would yield."""
    yielded = shortest_timed(fit.game_format, fit.minutes, courts, pace)
    if yielded.games[0] > 0.5:
        return "give the round more minutes, as hardly a game would be finished"
    games = yielded.games_quantile(0.2)
    timed = f"a timed round would yield {games} or more finished games in 8 rounds of 10"
    for set_format, game_format in _others(fit, pace):
        other = round_fit(set_format, game_format, fit.minutes, courts, pace)
        if other.fits:
            return f"{described(set_format, game_format)} would fit, and {timed}"
    return f"no set and no tie-break fits, but {timed}"


def _others(fit: RoundFit, pace: Pace) -> Iterator[tuple[SetFormat, GameFormat]]:
    """Yield the formats that could fit, the longest first.

    A format whose mean number of points alone overfills the round is done in
    time too rarely to be worth its distribution.
    """
    room = pace.points_within(fit.minutes * 60, games=1)
    for points, set_format, game_format in _by_length():
        if points <= room and (set_format, game_format) != (fit.set_format, fit.game_format):
            yield set_format, game_format


@lru_cache(maxsize=1)
def _by_length() -> tuple[tuple[float, SetFormat, GameFormat], ...]:
    """Return the proposals with their mean points between even teams, the longest first."""
    kinds = [(kind, game) for kind in _PROPOSALS for game in games_of(kind)]
    lengths = [(set_means(_even(), kind, game).points, kind, game) for kind, game in kinds]
    return tuple(sorted(lengths, key=lambda item: -item[0]))
