"""How often everybody may rest: the whole numbers next to the fair share."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from scheduler.rotation.problem import Problem, Shape


@dataclass(frozen=True, slots=True)
class RestRange:
    """Fewest and most rests of one player over the whole evening, played rounds included."""

    fewest: int
    most: int


def rest_ranges(problem: Problem) -> tuple[RestRange, ...]:
    """Return each player's range: the whole numbers less than 1 away from the share."""
    return tuple(RestRange(floor(share), ceil(share)) for share in fair_shares(problem))


def fair_shares(problem: Problem) -> list[Fraction]:
    """Return each player's fair share of rests.

    As `Problem.shares`, but in ``pairs`` rounds the share is that of the
    pairs, and somebody there without a mate can only rest.
    """
    shares = list(problem.shares)
    for shape in problem.shapes:
        if shape.keeps_teams and shape.players:
            by_head = Fraction(len(shape.rest), len(shape.players))
            paired = _paired_shares(problem, shape)
            for player in shape.players:
                shares[player] += paired.get(player, Fraction(1)) - by_head
    return shares


def _paired_shares(problem: Problem, shape: Shape) -> dict[int, Fraction]:
    there = [team for team in problem.teams if set(team) <= set(shape.players)]
    resting = max(0, len(there) - 2 * len(shape.blocks))
    return {player: Fraction(resting, len(there)) for team in there for player in team}


def rests_so_far(problem: Problem) -> list[int]:
    """Return how often each player rested in the rounds already played."""
    rests = [0] * problem.players
    for seating in problem.played:
        for player in seating.rest:
            rests[player] += 1
    return rests
