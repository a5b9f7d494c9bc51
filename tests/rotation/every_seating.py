"""Small evenings seated in every possible way, by the words of the format alone.

Nothing of the engine is used: what one round can look like is written out here,
and what a whole evening amounts to is left to the checker.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, permutations, product
from math import prod

from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import CourtEntry, Group, Match, Plan, PlannedRound


def every_plan(event: Event, most: int) -> Iterator[Plan] | None:
    """Return all plans of drills and doubles, up to orders that mean nothing.

    None if there are more than `most`.
    """
    choices = [list(_rounds(event, number, most)) for number in range(len(event.rounds))]
    if prod(map(len, choices)) > most:
        return None
    return (Plan(event, rounds) for rounds in product(*choices))


def _rounds(event: Event, number: int, most: int) -> Iterator[PlannedRound]:
    asked = event.rounds[number]
    there = [p.name for p in event.players if p.is_present(asked.start, asked.end)]
    absent = tuple(p.name for p in event.players if p.name not in there)
    usable = [c.name for c in event.courts if c.is_open(asked.start, asked.end)]
    limit = min(len(usable), asked.courts) if isinstance(asked.courts, int) else len(usable)
    ways = _drill if asked.kind is Kind.DRILL else _doubles
    for found, courts in enumerate(ways(there, usable, limit, asked.group_size)):
        seated = {name for entry in courts for name in entry.players}
        resting = tuple(name for name in there if name not in seated)
        yield PlannedRound(
            number + 1, asked.kind, asked.start, asked.minutes, courts, resting, absent
        )
        if found > most:
            return


def _doubles(
    there: list[str], usable: list[str], limit: int, _target: int
) -> Iterator[tuple[CourtEntry, ...]]:
    matches = min(limit, len(there) // 4)
    for courts in combinations(usable, matches):
        for playing in permutations(there, 4 * matches):
            fours = [playing[i : i + 4] for i in range(0, len(playing), 4)]
            if all(a < b and c < d and a < c for a, b, c, d in fours):
                yield tuple(map(_match, courts, fours))


def _match(court: str, four: tuple[str, ...]) -> Match:
    a, b, c, d = four
    return Match(court, (a, b), (c, d), (a, c, b, d), (a, c))


def _drill(
    there: list[str], usable: list[str], limit: int, target: int
) -> Iterator[tuple[CourtEntry, ...]]:
    if not there:
        yield ()
        return
    numbers = range(1, min(limit, len(there)) + 1)
    groups = min(numbers, key=lambda n: (abs(Fraction(len(there), n) - target), -n))
    small, more = divmod(len(there), groups)
    for courts in combinations(usable, groups):
        for larger in combinations(range(groups), more):
            sizes = [small + (i in larger) for i in range(groups)]
            for split in _split(tuple(there), sizes):
                yield tuple(map(Group, courts, split))


def _split(people: tuple[str, ...], sizes: list[int]) -> Iterator[tuple[tuple[str, ...], ...]]:
    if not sizes:
        yield ()
        return
    for group in combinations(people, sizes[0]):
        left = tuple(name for name in people if name not in group)
        for others in _split(left, sizes[1:]):
            yield (group, *others)
