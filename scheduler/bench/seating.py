"""What every method but ours hands in: who plays whom, by number, round by round."""

from __future__ import annotations

import random
from collections.abc import Sequence

from scheduler.domain.event import Event
from scheduler.domain.plan import Match, PlannedRound

Foursome = tuple[int, int, int, int]
"""Four players by number; the first two are partners, so are the last two."""


def planned(event: Event, rounds: Sequence[Sequence[Foursome]]) -> tuple[PlannedRound, ...]:
    """Return the rounds with names and courts, everybody without a match resting."""
    names = [player.name for player in event.players]
    return tuple(
        PlannedRound(
            number=number,
            kind=asked.kind,
            start=asked.start,
            minutes=asked.minutes,
            courts=tuple(
                Match(court.name, (names[a], names[b]), (names[c], names[d]))
                for court, (a, b, c, d) in zip(event.courts, foursomes, strict=False)
            ),
            resting=tuple(
                name
                for player, name in enumerate(names)
                if all(player not in four for four in foursomes)
            ),
        )
        for number, (asked, foursomes) in enumerate(zip(event.rounds, rounds, strict=True), 1)
    )


def drawn_round(rests: list[int], seats: int, rng: random.Random) -> list[Foursome]:
    """Draw a round by lot; whoever has rested least so far rests first.

    Parameters
    ----------
    rests
        How often each has rested; counted up here.
    seats
        How many people play.
    rng
        The lot.
    """
    people = list(range(len(rests)))
    rng.shuffle(people)
    people.sort(key=lambda player: -rests[player])
    for player in people[seats:]:
        rests[player] += 1
    seated = people[:seats]
    rng.shuffle(seated)
    return [(a, b, c, d) for a, b, c, d in zip(*(iter(seated),) * 4, strict=True)]
