"""The moving circle, as clubs write it out by hand.

Everybody stands on a circle, one stays and the rest move on a place each
round; who stands opposite partners, and neighbouring pairs play each other.
For an even number of people it gives every partner once in n - 1 rounds (the
circle method of round robins: E. Lucas, Recreations mathematiques 2, 1883;
from memory). Nothing in it looks after opponents.
"""

from __future__ import annotations

from scheduler.bench.seating import Foursome, planned
from scheduler.domain.event import Event
from scheduler.domain.plan import PlannedRound

NOBODY = -1


def plan(event: Event) -> tuple[PlannedRound, ...]:
    """Return the moving circle's rounds.

    With an odd number of people an empty place goes round with them; pairs
    beyond the courts' seats, and whoever stands opposite the empty place, rest.
    """
    places = list(range(len(event.players)))
    if len(places) % 2:
        places.append(NOBODY)
    rounds = []
    for _ in event.rounds:
        rounds.append(_round(places, min(len(event.courts), len(event.players) // 4)))
        places = [places[0], places[-1], *places[1:-1]]
    return planned(event, rounds)


def _round(places: list[int], courts: int) -> list[Foursome]:
    half = len(places) // 2
    opposite = zip(places[:half], reversed(places[half:]), strict=True)
    pairs = [pair for pair in opposite if NOBODY not in pair][: 2 * courts]
    return [(*one, *other) for one, other in zip(pairs[::2], pairs[1::2], strict=True)]
