"""When ends are changed (ITF Rule 10)."""

from __future__ import annotations

from scheduler.domain.formats import EndChanges
from scheduler.rules.state import Pair


def changes_after_game(games_played: int) -> bool:
    """Return whether ends change after so many games of a set.

    Rule 10: after the first, third and every following odd game; at the end of
    a set unless its games are even in number, and then after the first game
    of the next. Both come to "after an odd game", for a tie-break counts as one.
    """
    return games_played % 2 == 1


def changes_after_point(points_played: int, end_changes: EndChanges) -> bool:
    """Return whether ends change after so many points of a tie-break that goes on.

    Rule 10: after every six points; or, by the appendix on alternative
    procedures, after the first point and then after every four.
    """
    if end_changes is EndChanges.SIX:
        return points_played % 6 == 0
    return points_played % 4 == 1


def changed(ends: Pair) -> Pair:
    """Return the ends after both teams have crossed over."""
    return (ends[1], ends[0])
