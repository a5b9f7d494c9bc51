"""Who serves when and who receives where, chosen before a set (ITF Rules 14 and 15)."""

from __future__ import annotations

from collections.abc import Mapping

from scheduler.domain.event import Side


def serving_order(
    first_team: tuple[str, str], second_team: tuple[str, str]
) -> tuple[str, str, str, str]:
    """Return the four in the order they serve games 1 to 4.

    Parameters
    ----------
    first_team
        The team serving game 1, in its own serving order.
    second_team
        The other team, in its own serving order.

    Notes
    -----
    ITF Rule 14: the teams serve alternate games, partners take turns, and the
    cycle of four lasts the set.
    """
    return (first_team[0], second_team[0], first_team[1], second_team[1])


def deuce_receiver(team: tuple[str, str], sides: Mapping[str, Side]) -> str:
    """Return which of two partners receives on the deuce side.

    Parameters
    ----------
    team
        The two partners.
    sides
        The side each likes to receive on; a name that is missing likes either.

    Returns
    -------
    str
        The partner who fits the wishes, or the first named where both want
        the same side or neither minds. ITF Rule 15 leaves the choice free.
    """
    first, second = team
    wish, other = sides.get(first, Side.EITHER), sides.get(second, Side.EITHER)
    if wish == other:
        return first
    second_belongs_there = wish is Side.AD or other is Side.DEUCE
    return second if second_belongs_there else first
