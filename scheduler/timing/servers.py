"""The four servers of a doubles match and their chances of winning a point.

Points count as independent, with a chance that depends only on who serves.
That is the model of Carter and Crews, "An Analysis of the Game of Tennis",
The American Statistician 28 (1974), and of Newton and Keller, "Probability of
winning at tennis I. Theory and data", Studies in Applied Mathematics 114
(2005). Real points are not quite independent, but close (Klaassen and Magnus,
from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from scheduler.domain.errors import BadInput, Fault

#: Turns after which the serve is back with the same player (ITF Rule 14).
CYCLE = 4


@dataclass(frozen=True, slots=True)
class Servers:
    """Each server's chance that the own team wins a point, in serving order.

    Parameters
    ----------
    chances
        Four chances from 0 to 1 in the order of ITF Rule 14: the first team's
        first server, the second team's first server, their partners. Fractions
        are kept as they are, so that every chance and mean comes out exactly.

    Raises
    ------
    BadInput
        If there are not four chances or one is not a number from 0 to 1; each
        is named.
    """

    chances: tuple[float, float, float, float]

    def __post_init__(self) -> None:
        faults = [] if len(self.chances) == CYCLE else [_wrong_count(len(self.chances))]
        faults += chance_faults(self.chances)
        if faults:
            raise BadInput(faults)

    @classmethod
    def of_teams(cls, first: float, second: float) -> Servers:
        """Return servers of whom partners are alike: one chance for each team."""
        return cls((first, second, first, second))

    def first_team_wins(self, turn: int) -> float:
        """Return the first team's chance of a point in a serving turn counted from 0."""
        chance = self.chances[turn % CYCLE]
        return 1 - chance if turn % 2 else chance

    def swapped(self) -> Servers:
        """Return the same four with the other team serving first."""
        first, second, third, fourth = self.chances
        return Servers((second, first, fourth, third))


def chance_faults(chances: Iterable[float], where: str = "points won") -> list[Fault]:
    """Return a fault for every value that is not a chance from 0 to 1.

    Parameters
    ----------
    chances
        The values to look at.
    where
        The option or argument they came from, for the message.
    """
    return [
        Fault(where, f"a chance must be a number from 0 to 1, got {chance}")
        for chance in chances
        if math.isnan(chance) or not 0 <= chance <= 1
    ]


def _wrong_count(count: int) -> Fault:
    return Fault("points won", f"four chances are needed, one for each server, got {count}")
