"""Seating people who come and go at a template made for people who stay.

Somebody who leaves before another one comes shares a label with them, so that
the template is no larger than need be. Where a label has nobody in a round,
somebody who would rest takes the seat, and the search after mends what that
costs.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence

from scheduler.rotation import templates
from scheduler.rotation.problem import Block, BlockKind, Seating, Shape

Matches = Sequence[Sequence[int]]


def patched_doubles(
    shapes: Sequence[Shape], aim: str, rng: random.Random
) -> tuple[Seating, ...] | None:
    """Return rounds of doubles after the best template for so many people, or None without one.

    Repeats are those of the template where everybody is there for all rounds,
    and not far from it where few come late or leave early.

    Parameters
    ----------
    shapes
        The rounds to seat; anybody may sit anywhere.
    aim
        What the template keeps low next to partner repeats: see `templates.find`.
    rng
        Says who takes which label.
    """
    labels = shared_labels([shape.players for shape in shapes])
    courts = max(len(_matches(shape)) for shape in shapes)
    template = templates.find(len(labels), courts, len(shapes), aim)
    if template is None:
        return None
    rng.shuffle(labels)
    rested: Counter[int] = Counter()
    seatings = []
    for shape, matches in zip(shapes, template.rounds, strict=True):
        seatings.append(_patched(shape, matches, labels, rested))
        rested.update(seatings[-1].rest)
    return tuple(seatings)


def shared_labels(present: Sequence[Sequence[int]]) -> list[list[int]]:
    """Return the people of each label, who are never there in one round.

    People take the first label that is free from their first round on. Where
    everybody stays without a break that needs no more labels than there are
    people in the fullest round (greedy colouring of intervals: when a new
    label is opened, all others are taken in that round).

    Parameters
    ----------
    present
        Who is there, round by round.
    """
    first: dict[int, int] = {}
    last: dict[int, int] = {}
    for at, people in enumerate(present):
        for player in people:
            first.setdefault(player, at)
            last[player] = at
    labels: list[list[int]] = []
    for player in sorted(first, key=lambda p: (first[p], p)):
        free = (label for label in labels if last[label[-1]] < first[player])
        label = next(free, None)
        if label is None:
            labels.append([player])
        else:
            label.append(player)
    return labels


def _patched(
    shape: Shape, matches: Matches, labels: Sequence[Sequence[int]], rested: Counter[int]
) -> Seating:
    """Seat one round: keep the fullest matches, fill their holes from those who would rest."""
    here = set(shape.players)
    person = [next((p for p in label if p in here), None) for label in labels]
    wanted = [[person[label] for label in match] for match in matches]
    wanted.sort(key=lambda match: match.count(None))
    kept = wanted[: len(_matches(shape))]
    seated = {player for match in kept for player in match}
    spare = sorted((p for p in shape.players if p not in seated), key=lambda p: rested[p])
    blocks = [
        tuple(spare.pop() if player is None else player for player in match) for match in kept
    ]
    others = shape.blocks[len(blocks) :]
    blocks.extend(tuple(spare.pop() for _ in block.masks) for block in others)
    return Seating(tuple(blocks), shape.courts[: len(blocks)], tuple(spare))


def _matches(shape: Shape) -> list[Block]:
    return [block for block in shape.blocks if block.kind is BlockKind.MATCH]
