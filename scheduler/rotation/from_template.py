"""Seating people at a template: a pattern of labels that is as good as any can be.

Templates are for evenings of one kind of round, the same people in all of
them; which person takes which label is free, and settled by the search after.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from scheduler.domain.event import Emphasis, Kind, WishKind
from scheduler.rotation import templates
from scheduler.rotation.problem import BlockKind, Problem, Seating, Shape, Solution, pair

_MEETINGS, _OPPONENTS = "meetings", "opponents"
Matches = Sequence[Sequence[tuple[int, ...]]]


def seated_template(problem: Problem, rng: random.Random) -> Solution | None:
    """Return a template with people at its labels in random order, or None if there is none."""
    shapes = problem.shapes
    kinds = {shape.kind for shape in shapes}
    same_people = len({shape.players for shape in shapes}) == 1
    matches_only = all(b.kind is BlockKind.MATCH for shape in shapes for b in shape.blocks)
    courts = {len(shape.blocks) for shape in shapes}
    if problem.played or len(kinds) != 1 or not same_people or not matches_only:
        return None
    way = _WAYS.get(kinds.pop())
    if way is None or len(courts) != 1 or 0 in courts:
        return None
    return way(problem, courts.pop(), rng)


def _doubles(problem: Problem, courts: int, rng: random.Random) -> Solution | None:
    """Seat ordinary doubles, only where nothing but levels tells people apart."""
    if not problem.is_plain:
        return None
    people = list(problem.shapes[0].players)
    aim = _MEETINGS if problem.event.emphasis is Emphasis.MEET_EVERYONE else _OPPONENTS
    template = templates.find(len(people), courts, len(problem.shapes), aim)
    rng.shuffle(people)
    return _seated(problem, template.rounds, people) if template else None


def _mixed(problem: Problem, courts: int, rng: random.Random) -> Solution | None:
    """Seat mixed doubles of two groups of one size, couples apart if they wish."""
    first, second = _groups(problem.shapes[0])
    if len(first) != len(second):
        return None
    mate = _couples(problem, set(first))
    make = templates.mixed if mate else templates.mixed_strangers
    template = make(len(first), len(problem.shapes), courts)
    if template is None:
        return None
    rng.shuffle(first)
    single = [player for player in second if player not in set(mate.values())]
    rng.shuffle(single)
    beside = [mate[player] if player in mate else single.pop() for player in first]
    return _seated(problem, template.rounds, [*first, *beside])


def _against(problem: Problem, courts: int, rng: random.Random) -> Solution | None:
    first, second = _groups(problem.shapes[0])
    template = templates.group_against_group(len(first), len(second), courts, len(problem.shapes))
    rng.shuffle(first)
    rng.shuffle(second)
    return _seated(problem, template.rounds, [*first, *second]) if template else None


def _pairs(problem: Problem, courts: int, rng: random.Random) -> Solution | None:
    """Seat fixed teams as a round robin with the courts shared out."""
    teams = list(problem.teams)
    rng.shuffle(teams)
    rounds = templates.pairs_round_robin(len(teams), courts, len(problem.shapes))
    seatings = []
    for shape, played in zip(problem.shapes, rounds, strict=True):
        matches = [teams[one] + teams[other] for _, one, other in played]
        places = tuple(shape.courts[court] for court, _, _ in played)
        seatings.append(_seating(shape, matches, places))
    return tuple(seatings)


_WAYS: dict[Kind, Callable[[Problem, int, random.Random], Solution | None]] = {
    Kind.DOUBLES: _doubles,
    Kind.MIXED: _mixed,
    Kind.GROUP_AGAINST_GROUP: _against,
    Kind.PAIRS: _pairs,
}


def _groups(shape: Shape) -> tuple[list[int], list[int]]:
    """Return the players of the two groups."""
    by_player = list(zip(shape.players, shape.bits, strict=True))
    low = min(shape.bits, default=0)
    return [p for p, bit in by_player if bit == low], [p for p, bit in by_player if bit != low]


def _couples(problem: Problem, first: set[int]) -> dict[int, int]:
    """Return whom people of the first group must not share a court with; each one at most once."""
    apart = sorted(
        pair(demand.player, demand.other)
        for demand in problem.demands
        if demand.kind is WishKind.NOT_SAME_COURT and demand.must and demand.wish.round is None
    )
    mate: dict[int, int] = {}
    for one, other in apart:
        here, there = (one, other) if one in first else (other, one)
        across = here in first and there not in first
        if across and here not in mate and there not in mate.values():
            mate[here] = there
    return mate


def _seated(problem: Problem, rounds: Matches, people: Sequence[int]) -> Solution:
    return tuple(
        _seating(
            shape,
            [tuple(people[label] for label in match) for match in matches],
            shape.courts[: len(matches)],
        )
        for shape, matches in zip(problem.shapes, rounds, strict=True)
    )


def _seating(shape: Shape, matches: Sequence[tuple[int, ...]], courts: tuple[int, ...]) -> Seating:
    playing = {player for match in matches for player in match}
    return Seating(
        blocks=tuple(matches),
        courts=courts,
        rest=tuple(player for player in shape.players if player not in playing),
    )
