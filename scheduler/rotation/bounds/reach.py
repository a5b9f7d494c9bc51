"""Who can meet whom in the rounds that count, and how often everybody can play."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from scheduler.domain.event import Kind, WishKind
from scheduler.rotation.problem import ANYONE, BlockKind, Problem, Shape


def matches_of(shape: Shape) -> int:
    """Return how many matches a round has."""
    return sum(block.kind is BlockKind.MATCH for block in shape.blocks)


EVERYBODY, OWN_GROUP, OTHER_GROUP = "all", "same", "other"
"""Whom somebody can meet in a role: everybody, their own group, or the other group."""


_WHOM = {
    (Kind.MIXED, "partners"): OTHER_GROUP,
    (Kind.GROUP_AGAINST_GROUP, "partners"): OWN_GROUP,
    (Kind.GROUP_AGAINST_GROUP, "opponents"): OTHER_GROUP,
}


def is_pure(shape: Shape) -> bool:
    """Return whether all matches of a round are of its kind, none of leftovers."""
    return all(mask != ANYONE for block in shape.blocks for mask in block.masks)


def whom_of(shape: Shape, role: str) -> str:
    """Return whom somebody can meet in a role in a round."""
    return _WHOM.get((shape.kind, role), EVERYBODY) if is_pure(shape) else EVERYBODY


def met(
    problem: Problem,
    wanted: Callable[[Shape], bool],
    barred: set[WishKind],
    whom: Callable[[Shape], str] = lambda _: EVERYBODY,
) -> list[int]:
    """Return for each player a bit set of those who share a wanted round and may meet."""
    mates = [0] * problem.players
    for shape in problem.shapes:
        if wanted(shape):
            for player, those in _in_reach(shape, whom(shape)):
                mates[player] |= those
    for player in range(problem.players):
        mates[player] &= ~(1 << player)
    for demand in problem.demands:
        if demand.must and demand.kind in barred and demand.wish.round is None:
            mates[demand.player] &= ~(1 << demand.other)
            mates[demand.other] &= ~(1 << demand.player)
    return mates


def _in_reach(shape: Shape, whom: str) -> Iterator[tuple[int, int]]:
    """Yield each player of a round with the bit set of those within reach."""
    everyone = sum(1 << player for player in shape.players)
    group: dict[int, int] = {}
    for player, bit in zip(shape.players, shape.bits, strict=True):
        group[bit] = group.get(bit, 0) | 1 << player
    for player, bit in zip(shape.players, shape.bits, strict=True):
        own = group[bit]
        yield player, {EVERYBODY: everyone, OWN_GROUP: own, OTHER_GROUP: everyone & ~own}[whom]


def turns_of(problem: Problem, wanted: Callable[[Shape], bool]) -> list[int]:
    """Return for each player the most matches possible in the wanted rounds."""
    turns = [0] * problem.players
    for shape in problem.shapes:
        if wanted(shape) and matches_of(shape):
            for player in shape.players:
                turns[player] += 1
    return turns
