"""From players' levels to chances of a point: an invented default, marked as one.

No published relation between a club's own levels and chances of a point was
found, so the numbers here are **invented**. They are chosen so that one level
of difference in the teams' means wins about six points in ten, and they can
all be set.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from scheduler.domain.errors import BadInput, Fault
from scheduler.timing.servers import Servers

Team = tuple[float, float]

#: What every answer that rests on this relation must say.
ORIGIN = "invented default: no source relates a club's levels to chances of a point"

_LOWEST, _HIGHEST = 1.0, 10.0


@dataclass(frozen=True, slots=True)
class LevelModel:
    """A logistic relation between a difference of levels and the chance of a point.

    The server's team wins a point with chance 1 / (1 + exp(-x)), where
    x = log-odds of `equal_serve` + `per_level` * (strength of the serving
    team - mean level of the other).

    Parameters
    ----------
    equal_serve
        The server's chance of a point between equal teams. Invented default.
    per_level
        Log-odds for one level of difference. Invented default.
    server_share
        The server's share in the serving team's strength, the rest being the
        partner's. Invented default.
    """

    equal_serve: float = 0.55
    per_level: float = 0.4
    server_share: float = 0.6

    def servers(self, first: Team, second: Team) -> Servers:
        """Return the chances of four players, each team in serving order.

        Parameters
        ----------
        first, second
            The levels of the team that serves first and of the other.

        Raises
        ------
        BadInput
            If a level is not a number from 1 to 10; each is named.
        """
        faults = level_faults((*first, *second))
        if faults:
            raise BadInput(faults)
        return Servers(
            (
                self._chance(first, 0, second),
                self._chance(second, 0, first),
                self._chance(first, 1, second),
                self._chance(second, 1, first),
            )
        )

    def _chance(self, serving: Team, server: int, other: Team) -> float:
        share = self.server_share
        strength = share * serving[server] + (1 - share) * serving[1 - server]
        equal = math.log(self.equal_serve / (1 - self.equal_serve))
        log_odds = equal + self.per_level * (strength - sum(other) / 2)
        return 1 / (1 + math.exp(-log_odds))


def level_faults(levels: tuple[float, ...], where: str = "levels") -> list[Fault]:
    """Return a fault for every value that is not a level from 1 to 10."""
    return [
        Fault(where, f"a level must be a number from 1 to 10, got {level}")
        for level in levels
        if math.isnan(level) or not _LOWEST <= level <= _HIGHEST
    ]
