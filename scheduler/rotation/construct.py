"""A first seating to start the search from: fair in its rests, random otherwise."""

from __future__ import annotations

import random
from collections.abc import Sequence
from fractions import Fraction

from scheduler.rotation.problem import ANYONE, Problem, Seating, Shape, Solution


def random_solution(problem: Problem, rng: random.Random) -> Solution:
    """Return a random solution with every seat filled.

    Rests go to those furthest behind their share, so that the fairness of
    rests hardly needs the search; nothing else is cared for.
    """
    owed = [Fraction(0)] * problem.players
    for shape, seating in zip(problem.shapes, problem.played, strict=False):
        _settle(owed, shape, seating.rest)
    result = list(problem.played)
    for number in problem.free:
        shape = problem.shapes[number]
        seating = _teams_round(problem, shape, rng, owed) or _round(shape, rng, owed)
        _settle(owed, shape, seating.rest)
        result.append(seating)
    return tuple(result)


def _settle(owed: list[Fraction], shape: Shape, resting: Sequence[int]) -> None:
    """Add what a round's rests owe everybody, less what was given."""
    if not shape.players:
        return
    share = Fraction(len(shape.rest), len(shape.players))
    for player in shape.players:
        owed[player] += share
    for player in resting:
        owed[player] -= 1


def _round(shape: Shape, rng: random.Random, owed: list[Fraction]) -> Seating:
    bit = dict(zip(shape.players, shape.bits, strict=True))
    free = list(shape.players)
    rng.shuffle(free)
    rest = []
    for mask in shape.rest:
        player = max((p for p in free if bit[p] & mask), key=lambda p: owed[p])
        rest.append(player)
        free.remove(player)
    blocks: list[list[int]] = [[-1] * block.size for block in shape.blocks]
    seats = [(b, s) for b, block in enumerate(shape.blocks) for s in range(block.size)]
    seats.sort(key=lambda seat: shape.blocks[seat[0]].masks[seat[1]] == ANYONE)
    for b, s in seats:
        mask = shape.blocks[b].masks[s]
        player = next(p for p in free if bit[p] & mask)
        blocks[b][s] = player
        free.remove(player)
    courts = shape.courts[: len(blocks)]
    return Seating(tuple(tuple(block) for block in blocks), courts, tuple(sorted(rest)))


def _teams_round(
    problem: Problem, shape: Shape, rng: random.Random, owed: list[Fraction]
) -> Seating | None:
    """Seat a round of fixed teams, those who have rested least resting now."""
    if not shape.keeps_teams:
        return None
    teams = list(problem.teams)
    rng.shuffle(teams)
    teams.sort(key=lambda team: owed[team[0]])
    playing = teams[: 2 * len(shape.blocks)]
    rng.shuffle(playing)
    blocks = tuple(one + other for one, other in zip(playing[::2], playing[1::2], strict=True))
    seated = {player for block in blocks for player in block}
    rest = [player for team in teams for player in team if player not in seated]
    alone = [p for p in shape.players if p not in seated and p not in set(rest)]
    return Seating(blocks, shape.courts[: len(blocks)], (*rest, *alone))
