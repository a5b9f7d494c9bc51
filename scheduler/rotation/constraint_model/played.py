"""What the rounds already played settle for the wishes."""

from __future__ import annotations

from functools import cached_property

from scheduler.rotation.constraint_model.rests import rests_so_far
from scheduler.rotation.problem import BlockKind, Demand, Problem


class Played:
    """The rounds already played, as constants.

    Parameters
    ----------
    problem
        Whose played rounds are meant.
    """

    def __init__(self, problem: Problem) -> None:
        self._problem = problem

    @cached_property
    def _rests(self) -> list[int]:
        return rests_so_far(self._problem)

    def rests(self, player: int) -> int:
        """Return how often a player rested so far."""
        return self._rests[player]

    def on_court(self, number: int, player: int) -> bool:
        """Return whether a player was on a court in a played round."""
        return any(player in block for block in self._problem.played[number].blocks)

    def times_on_court(self, demand: Demand) -> int:
        """Return in how many played rounds of a wish its player was on a court."""
        return sum(self.on_court(number, demand.player) for number in self._numbers(demand))

    def were_partners(self, demand: Demand) -> bool:
        """Return whether the two of a wish were partners in one of its played rounds."""
        return any(same for same in self._meetings(demand))

    def were_opponents(self, demand: Demand) -> bool:
        """Return whether the two of a wish opposed in one of its played rounds."""
        return any(not same for same in self._meetings(demand))

    def _meetings(self, demand: Demand) -> list[bool]:
        """Return for each match of the two whether they were on the same side."""
        both = {demand.player, demand.other}
        return [
            seats.index(demand.player) // 2 == seats.index(demand.other) // 2
            for number in self._numbers(demand)
            for block, seats in zip(
                self._problem.shapes[number].blocks,
                self._problem.played[number].blocks,
                strict=True,
            )
            if block.kind is BlockKind.MATCH and both <= set(seats)
        ]

    def _numbers(self, demand: Demand) -> list[int]:
        return [number for number in demand.rounds if number < len(self._problem.played)]
