"""Evenings of a few lines for the tests of the constraint model."""

from __future__ import annotations

from scheduler.domain.event import Court, Event, Kind, Player, Round, Wish, WishKind

DRILL, DOUBLES, MIXED = Kind.DRILL, Kind.DOUBLES, Kind.MIXED
PAIRS, AGAINST = Kind.PAIRS, Kind.GROUP_AGAINST_GROUP


def evening(people, courts, kinds, wishes=(), **more):
    """Return an evening of 20-minute rounds; players are P0, P1, …, by turns of group A and B."""
    return Event(
        name="evening",
        start=0,
        players=tuple(Player(f"P{i}", 1 + i % 10, group="AB"[i % 2]) for i in range(people)),
        courts=tuple(Court(f"Court {i}") for i in range(1, courts + 1)),
        rounds=tuple(Round(kind, 20 * i, 20) for i, kind in enumerate(kinds)),
        wishes=tuple(wishes),
        **more,
    )


def must(kind, player, other="", number=None, in_round=None):
    """Return a must by the words of its kind."""
    return Wish(WishKind(kind), player, other, number, round=in_round)
