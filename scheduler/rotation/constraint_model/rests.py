"""How often everybody may rest: the whole numbers next to the fair share."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.rotation.problem import Problem


@dataclass(frozen=True, slots=True)
class RestRange:
    """Fewest and most rests of one player over the whole evening, played rounds included."""

    fewest: int
    most: int


def rest_ranges(problem: Problem) -> tuple[RestRange, ...]:
    """Return each player's range: the whole numbers less than 1 away from the share."""
    return tuple(
        RestRange(share.numerator // share.denominator, -(-share.numerator // share.denominator))
        for share in problem.shares
    )


def rests_so_far(problem: Problem) -> list[int]:
    """Return how often each player rested in the rounds already played."""
    rests = [0] * problem.players
    for seating in problem.played:
        for player in seating.rest:
            rests[player] += 1
    return rests
