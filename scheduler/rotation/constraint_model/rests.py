"""How often everybody may rest: the whole numbers next to the fair share."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from scheduler.rotation.problem import Problem


@dataclass(frozen=True, slots=True)
class RestRange:
    """Fewest and most rests of one player over the whole evening, played rounds included."""

    fewest: int
    most: int


def rest_ranges(problem: Problem) -> tuple[RestRange, ...]:
    """Return each player's range: the whole numbers less than 1 away from the share."""
    return tuple(RestRange(floor(share), ceil(share)) for share in problem.shares)
