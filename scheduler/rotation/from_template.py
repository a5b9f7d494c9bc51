"""Seating people at a template: a pattern of labels that is as good as any can be."""

from __future__ import annotations

import random

from scheduler.domain.event import Emphasis, Kind
from scheduler.rotation import templates
from scheduler.rotation.problem import BlockKind, Problem, Seating, Shape, Solution

_AIMS = {Emphasis.VARIETY: "opponents", Emphasis.MEET_EVERYONE: "meetings"}


def seated_template(problem: Problem, rng: random.Random) -> Solution | None:
    """Return a template with people at its labels in random order, or None if there is none.

    Templates are for the plain case: the same people in rounds of ordinary
    doubles that use the same number of courts, free to partner anybody.
    """
    size = _size(problem)
    aim = _AIMS.get(problem.event.emphasis)
    if size is None or aim is None or not hasattr(templates, "find"):
        return None
    template = templates.find(*size, aim)
    if template is None:
        return None
    people = list(problem.shapes[0].players)
    rng.shuffle(people)
    return tuple(
        _seating(shape, [tuple(people[label] for label in match) for match in matches])
        for shape, matches in zip(problem.shapes, template.rounds, strict=True)
    )


def _size(problem: Problem) -> tuple[int, int, int] | None:
    """Return (players, courts, rounds) of a plain evening of doubles, else None."""
    shapes = problem.shapes
    if not problem.is_plain or not shapes:
        return None
    ordinary = all(
        shape.kind is Kind.DOUBLES and all(b.kind is BlockKind.MATCH for b in shape.blocks)
        for shape in shapes
    )
    courts = {len(shape.blocks) for shape in shapes}
    if not ordinary or len(courts) != 1 or 0 in courts:
        return None
    return len(shapes[0].players), courts.pop(), len(shapes)


def _seating(shape: Shape, matches: list[tuple[int, ...]]) -> Seating:
    playing = {player for match in matches for player in match}
    return Seating(
        blocks=tuple(matches),
        courts=shape.courts[: len(matches)],
        rest=tuple(player for player in shape.players if player not in playing),
    )
