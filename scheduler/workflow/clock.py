"""Whether the evening fits the clock: what the format needs, and what would fit."""

from __future__ import annotations

import math
from dataclasses import replace

from scheduler.domain.clock import format_time
from scheduler.domain.event import Event, Kind
from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import Measure, PlannedRound
from scheduler.timing import Pace, RoundFit, fits

_MARK = "Time check, "
_PROOF = "an estimate from levels and stated defaults, not measured (rota timing tells them)"


def round_fits(
    event: Event, rounds: tuple[PlannedRound, ...], pace: Pace | None = None
) -> dict[int, RoundFit]:
    """Return for every seated match round how long its courts are likely to take.

    `pace` is the club's own, where a season has taught it.
    """
    level = {player.name: player.level for player in event.players}
    pace = pace or Pace()
    if event.changeover:
        pace = replace(pace, changeover=0)
    found = {}
    for planned in rounds:
        teams = [
            ((level[m.team_a[0]], level[m.team_a[1]]), (level[m.team_b[0]], level[m.team_b[1]]))
            for m in planned.matches
        ]
        if teams:
            found[planned.number] = fits(
                event.set_format, event.game_format, planned.minutes, teams, pace=pace
            )
    return found


def clock_warnings(found: dict[int, RoundFit]) -> tuple[str, ...]:
    """Return a sentence for each length of round in which the format is unlikely to be over.

    Rounds of the same length are told of together.
    """
    short = {number: fit for number, fit in found.items() if not fit.fits}
    by_length: dict[float, list[int]] = {}
    for number, fit in short.items():
        by_length.setdefault(fit.minutes, []).append(number)
    return tuple(f"{_MARK}{_rounds(same)}: {short[same[0]].warning}" for same in by_length.values())


def without_clock_warnings(warnings: tuple[str, ...]) -> tuple[str, ...]:
    """Return a plan's other warnings, for a revision to add its own about the clock."""
    return tuple(text for text in warnings if not text.startswith(_MARK))


def _rounds(numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"round {numbers[0]}"
    return f"rounds {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"


def clock_measures(found: dict[int, RoundFit]) -> dict[str, Measure]:
    """Return the longest estimate over the match rounds, as measures in minutes.

    A timed round ends with the bell and needs no estimate.
    """
    names = ("median", "p80", "p95")
    played_out = [fit for fit in found.values() if fit.set_format is not SetFormat.TIMED]
    longest = {name: max((getattr(f, name) for f in played_out), default=0) for name in names}
    return {
        f"round_minutes_{name}": Measure(round(minutes, 1), proof=_PROOF)
        for name, minutes in longest.items()
        if played_out and math.isfinite(minutes)
    }


def minutes_that_fit(event: Event) -> tuple[str, ...]:
    """Propose minutes for the rounds so that the evening ends when it should.

    Drills keep their minutes; the match rounds share what is left, whole
    minutes each. Breaks and changeovers stay.

    Returns
    -------
    tuple of str
        Sentences; empty where the event says no end or the rounds fit.
    """
    end = event.rounds[-1].end if event.rounds else event.start
    if event.until is None or end <= event.until:
        return ()
    over = end - event.until
    matches = [asked for asked in event.rounds if asked.kind is not Kind.DRILL]
    total = sum(asked.minutes for asked in matches)
    target = format_time(event.until)
    if not matches or total - over < 5 * len(matches):
        too_long = f"Shorter rounds alone cannot end the evening by {target}"
        return (f"{too_long}: it is {over} minutes over. Leave a round out.",)
    asked_minutes = ", ".join(str(asked.minutes) for asked in matches)
    shorter = [asked.minutes * (total - over) // total for asked in matches]
    proposed = ", ".join(map(str, shorter))
    wanted = f"To end by {target}, give the match rounds {proposed} minutes"
    return (f"{wanted} instead of {asked_minutes}.",)
