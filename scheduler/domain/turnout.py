"""Who can play in each round, and on which courts.

A player takes part in a round only if present for all of it, and the same
holds for a court. People who are there only ``if needed`` are called where
they complete a court of doubles, those called least so far first.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from scheduler.domain.event import Event, Here, Kind, Player, Round
from scheduler.domain.plan import PlannedRound

_CALLING = frozenset({Kind.DOUBLES, Kind.UP_AND_DOWN})


@dataclass(frozen=True, slots=True)
class Turnout:
    """What one round has to work with.

    `players` take part (on a court or resting), `absent` do not; `courts` are
    open all through the round, and at most `most_courts` of them may be used.
    """

    players: tuple[str, ...]
    absent: tuple[str, ...]
    courts: tuple[str, ...]
    most_courts: int


def turnouts(event: Event, played: tuple[PlannedRound, ...] = ()) -> tuple[Turnout, ...]:
    """Return the turnout of every round of the event, in order.

    Parameters
    ----------
    event
        The event.
    played
        Rounds that already happened; for these the turnout is what was, and
        calls of people who are there only if needed are counted.
    """
    calls: Counter[str] = Counter()
    result = []
    for index, asked in enumerate(event.rounds):
        if index < len(played):
            turnout = _as_played(event, played[index])
        else:
            turnout = _ahead(event, asked, calls)
        calls.update(turnout.players)
        result.append(turnout)
    return tuple(result)


def open_courts(event: Event, asked: Round) -> tuple[str, ...]:
    """Return the names of the courts open all through a round, in the event's order."""
    named = asked.courts if isinstance(asked.courts, tuple) else None
    return tuple(
        court.name
        for court in event.courts
        if court.is_open(asked.start, asked.end) and (named is None or court.name in named)
    )


def _as_played(event: Event, planned: PlannedRound) -> Turnout:
    seated = [name for entry in planned.courts for name in entry.players]
    took_part = set(seated) | set(planned.resting)
    courts = tuple(entry.court for entry in planned.courts)
    return _split(event, took_part, courts, len(courts))


def _ahead(event: Event, asked: Round, calls: Counter[str]) -> Turnout:
    present = [p for p in event.players if p.is_present(asked.start, asked.end)]
    courts = open_courts(event, asked)
    most = min(len(courts), asked.courts) if isinstance(asked.courts, int) else len(courts)
    sure = [p.name for p in present if p.here is Here.YES]
    spare = [p for p in present if p.here is Here.IF_NEEDED]
    called = _called(asked.kind, len(sure), most, spare, calls)
    return _split(event, {*sure, *called}, courts, most)


def _called(
    kind: Kind, sure: int, most_courts: int, spare: list[Player], calls: Counter[str]
) -> list[str]:
    missing = -sure % 4
    court_is_free = sure // 4 < most_courts
    if kind not in _CALLING or missing == 0 or missing > len(spare) or not court_is_free:
        return []
    by_turn = sorted(spare, key=lambda player: calls[player.name])
    return [player.name for player in by_turn[:missing]]


def _split(event: Event, took_part: set[str], courts: tuple[str, ...], most: int) -> Turnout:
    names = [player.name for player in event.players]
    return Turnout(
        players=tuple(name for name in names if name in took_part),
        absent=tuple(name for name in names if name not in took_part),
        courts=courts,
        most_courts=most,
    )
