"""Dressing matches: who serves first, in which order, and who receives on the deuce side."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from scheduler.domain.event import Event, Side
from scheduler.domain.plan import CourtEntry, Match, Measure, PlannedRound
from scheduler.rotation import first_servers
from scheduler.rules.order import deuce_receiver, serving_order


def dress(event: Event, rounds: tuple[PlannedRound, ...]) -> tuple[PlannedRound, ...]:
    """Give every match its serving order and deuce-side receivers (ITF Rules 14, 15).

    Matches that have a serving order keep it. First serves are spread as
    evenly as can be over the evening, those settled already counted; the first
    team to serve becomes team A. Of the other team the one serves first who
    has done so less often.
    """
    matches = [match for planned in rounds for match in planned.matches]
    done = [match for match in matches if match.serving_order]
    ahead = [match for match in matches if not match.serving_order]
    firsts = iter(
        first_servers(
            [(*match.team_a, *match.team_b) for match in (*done, *ahead)],
            [match.serving_order[0] for match in done],
        )[len(done) :]
    )
    seconds: Counter[str] = Counter(match.serving_order[1] for match in done)
    sides = {player.name: player.side for player in event.players}

    def dressed(entry: CourtEntry) -> CourtEntry:
        if not isinstance(entry, Match) or entry.serving_order:
            return entry
        return _dressed(entry, next(firsts), seconds, sides)

    return tuple(
        replace(planned, courts=tuple(dressed(entry) for entry in planned.courts))
        for planned in rounds
    )


def _dressed(match: Match, first: str, seconds: Counter[str], sides: Mapping[str, Side]) -> Match:
    serving, other = match.team_a, match.team_b
    if first in other:
        serving, other = other, serving
    if serving[0] != first:
        serving = (serving[1], serving[0])
    if seconds[other[1]] < seconds[other[0]]:
        other = (other[1], other[0])
    seconds[other[0]] += 1
    return Match(
        court=match.court,
        team_a=serving,
        team_b=other,
        serving_order=serving_order(serving, other),
        deuce_receivers=(deuce_receiver(serving, sides), deuce_receiver(other, sides)),
    )


def first_serve_measure(rounds: tuple[PlannedRound, ...]) -> Measure:
    """Return how far first serves are from a quarter of each player's matches.

    The bound: somebody whose matches are not a multiple of four is off by at
    least the distance to the nearest whole number. It counts only people who
    cannot rest, whose matches every plan must give them.
    """
    matches = Counter(name for planned in rounds for m in planned.matches for name in m.players)
    firsts = Counter(m.serving_order[0] for planned in rounds for m in planned.matches)
    quarters = {name: Fraction(times, 4) for name, times in matches.items()}
    value = max((abs(firsts[name] - part) for name, part in quarters.items()), default=Fraction(0))
    steady = set(matches) - {
        name for planned in rounds if _somebody_rests(planned) for name in _people(planned)
    }
    bound = max((_off_whole(quarters[name]) for name in sorted(steady)), default=Fraction(0))
    return Measure(
        value=float(value),
        bound=float(bound),
        proven=value == bound,
        proof="whole numbers beside a quarter of the matches of people who never rest",
    )


def _somebody_rests(planned: PlannedRound) -> bool:
    """Return whether a round leaves open who plays doubles in it."""
    entries = [entry for entry in planned.courts if not isinstance(entry, Match)]
    return bool(planned.matches) and bool(planned.resting or entries)


def _people(planned: PlannedRound) -> list[str]:
    return [*planned.resting, *(name for entry in planned.courts for name in entry.players)]


def _off_whole(part: Fraction) -> Fraction:
    return min(part % 1, 1 - part % 1) if part % 1 else Fraction(0)
