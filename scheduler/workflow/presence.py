"""When somebody is there who comes, or comes back, in the middle of the evening."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from scheduler.domain.event import Here, Player
from scheduler.domain.plan import PlannedRound


def back_again(player: Player, played: Sequence[PlannedRound], start: int) -> Player:
    """Return a player as there from now on, and before just when they were.

    Parameters
    ----------
    player
        Somebody of the list who was not expected any more.
    played
        The rounds played.
    start
        The minute at which the next round starts.
    """
    missed = [planned for planned in played if player.name in planned.as_it_was.absent]
    numbers = {planned.number for planned in missed}
    leaves = player.leaves if player.leaves is not None and player.leaves > start else None
    if len(missed) == len(played):
        arrives = start if played else None
        return replace(player, here=Here.YES, arrives=arrives, leaves=leaves, away=())
    arrives = player.arrives if player.arrives is not None and player.arrives <= start else None
    away: list[tuple[int, int]] = []
    for planned in missed:
        if arrives is not None and planned.start < arrives:
            continue
        if away and planned.number - 1 in numbers:
            away[-1] = (away[-1][0], planned.end)
        else:
            away.append((planned.start, planned.end))
    return replace(player, here=Here.YES, arrives=arrives, leaves=leaves, away=tuple(away))
