"""The lot: a thousand evenings drawn at random, the best of them kept."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence

from scheduler.bench.seating import Foursome, drawn_round, planned
from scheduler.domain.event import Emphasis, Event
from scheduler.domain.plan import PlannedRound


def plan(event: Event, seed: int, draws: int) -> tuple[PlannedRound, ...]:
    """Return the best of so many draws, in the order of the event's emphasis.

    Who rests goes by turns, so that the comparison is about seats.
    """
    rng = random.Random(f"draws {seed}")  # noqa: S311  repeatable, not secret
    seats = 4 * min(len(event.courts), len(event.players) // 4)
    best: tuple[tuple[float, ...], list[list[Foursome]]] | None = None
    for _ in range(draws):
        rests = [0] * len(event.players)
        rounds = [drawn_round(rests, seats, rng) for _ in event.rounds]
        worth = _worth(event, rounds)
        if best is None or worth < best[0]:
            best = worth, rounds
    return planned(event, best[1] if best else [])


def _worth(event: Event, rounds: Sequence[Sequence[Foursome]]) -> tuple[float, ...]:
    """Return what is to be small, the most important first."""
    levels = [player.level for player in event.players]
    partners: Counter[tuple[int, int]] = Counter()
    opponents: Counter[tuple[int, int]] = Counter()
    gaps = 0.0
    for a, b, c, d in (four for foursomes in rounds for four in foursomes):
        partners.update((_pair(a, b), _pair(c, d)))
        opponents.update((_pair(a, c), _pair(a, d), _pair(b, c), _pair(b, d)))
        gaps += abs(levels[a] + levels[b] - levels[c] - levels[d])
    again, against = _repeats(partners), _repeats(opponents)
    match event.emphasis:
        case Emphasis.VARIETY:
            return (again, against, gaps)
        case Emphasis.MEET_EVERYONE:
            return (again, _repeats(partners + opponents), against, gaps)
        case Emphasis.BALANCE:
            return (again, gaps, against)
        case Emphasis.BLEND:
            return (again, event.exchange * against + gaps)


def _pair(one: int, other: int) -> tuple[int, int]:
    return (one, other) if one < other else (other, one)


def _repeats(counts: Counter[tuple[int, int]]) -> int:
    return sum(times * (times - 1) // 2 for times in counts.values())
