"""Seating people at templates: patterns of labels that are as good as any can be.

The rounds of each kind follow a template of their own; which person takes
which label is free, and settled by the search after.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from scheduler.domain.event import Emphasis, Kind, WishKind
from scheduler.rotation import templates
from scheduler.rotation.construct import random_solution
from scheduler.rotation.patched_template import patched_doubles
from scheduler.rotation.problem import BlockKind, Problem, Seating, Shape, Solution, pair

Matches = Sequence[Sequence[tuple[int, ...]]]
Shapes = Sequence[Shape]


def seated_template(problem: Problem, rng: random.Random) -> Solution | None:
    """Return an evening that follows templates, people at their labels in random order.

    Rounds of a kind without a template, drills among them, are seated at
    random. None if there is no template at all, or something was played.
    """
    if problem.played:
        return None
    solution = list(random_solution(problem, rng))
    found = False
    for kind, way in _WAYS.items():
        rounds = [at for at in problem.free if problem.shapes[at].kind is kind]
        shapes = [problem.shapes[at] for at in rounds]
        seatings = way(problem, shapes, rng) if shapes else None
        for at, seating in zip(rounds, seatings or (), strict=False):
            solution[at], found = seating, True
    return tuple(solution) if found else None


def _doubles(problem: Problem, shapes: Shapes, rng: random.Random) -> Solution | None:
    everyone = problem.event.emphasis is Emphasis.MEET_EVERYONE
    aim = templates.MEETINGS if everyone else templates.OPPONENTS
    return patched_doubles(shapes, aim, rng)


def _mixed(problem: Problem, shapes: Shapes, rng: random.Random) -> Solution | None:
    """Seat mixed doubles of two groups of one size, couples apart if they wish."""
    courts = _courts_in_all(shapes)
    first, second = _groups(shapes[0])
    if not courts or len(first) != len(second):
        return None
    mate = _couples(problem, set(first))
    make = templates.mixed if mate else templates.mixed_strangers
    template = make(len(first), len(shapes), courts)
    if template is None:
        return None
    rng.shuffle(first)
    single = [player for player in second if player not in set(mate.values())]
    rng.shuffle(single)
    beside = [mate[player] if player in mate else single.pop() for player in first]
    return _seated(shapes, template.rounds, [*first, *beside])


def _against(_: Problem, shapes: Shapes, rng: random.Random) -> Solution | None:
    courts = _courts_in_all(shapes)
    if not courts:
        return None
    first, second = _groups(shapes[0])
    template = templates.group_against_group(len(first), len(second), courts, len(shapes))
    rng.shuffle(first)
    rng.shuffle(second)
    return _seated(shapes, template.rounds, [*first, *second]) if template else None


def _pairs(problem: Problem, shapes: Shapes, rng: random.Random) -> Solution | None:
    """Seat fixed teams as a round robin with the courts shared out."""
    courts = _courts_in_all(shapes)
    if not courts:
        return None
    teams = list(problem.teams)
    rng.shuffle(teams)
    rounds = templates.pairs_round_robin(len(teams), courts, len(shapes))
    seatings = []
    for shape, played in zip(shapes, rounds, strict=True):
        matches = [teams[one] + teams[other] for _, one, other in played]
        places = tuple(shape.courts[court] for court, _, _ in played)
        seatings.append(_seating(shape, matches, places))
    return tuple(seatings)


_WAYS: dict[Kind, Callable[[Problem, Shapes, random.Random], Solution | None]] = {
    Kind.DOUBLES: _doubles,
    Kind.MIXED: _mixed,
    Kind.GROUP_AGAINST_GROUP: _against,
    Kind.PAIRS: _pairs,
}


def _courts_in_all(shapes: Shapes) -> int:
    """Return the courts in use, 0 unless all rounds have the same people and matches only."""
    same_people = len({shape.players for shape in shapes}) == 1
    matches_only = all(b.kind is BlockKind.MATCH for shape in shapes for b in shape.blocks)
    courts = {len(shape.blocks) for shape in shapes}
    return courts.pop() if same_people and matches_only and len(courts) == 1 else 0


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


def _seated(shapes: Shapes, rounds: Matches, people: Sequence[int]) -> Solution:
    return tuple(
        _seating(
            shape,
            [tuple(people[label] for label in match) for match in matches],
            shape.courts[: len(matches)],
        )
        for shape, matches in zip(shapes, rounds, strict=True)
    )


def _seating(shape: Shape, matches: Sequence[tuple[int, ...]], courts: tuple[int, ...]) -> Seating:
    playing = {player for match in matches for player in match}
    return Seating(
        blocks=tuple(matches),
        courts=courts,
        rest=tuple(player for player in shape.players if player not in playing),
    )
