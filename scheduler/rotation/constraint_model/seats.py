"""From the solver's answer back to seats."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from scheduler.domain.event import WishKind
from scheduler.rotation.constraint_model.variables import (
    REST,
    Cell,
    Literal,
    RoundVariables,
    Variables,
)
from scheduler.rotation.problem import (
    ANYONE,
    BlockKind,
    Problem,
    Seating,
    Shape,
    Solution,
    pair,
)

IsTrue = Callable[[Literal], bool]
Mates = dict[int, int]


def solution_of(problem: Problem, variables: Variables, is_true: IsTrue) -> Solution:
    """Return the solver's answer as a solution, played rounds included.

    Parameters
    ----------
    problem
        What was to be seated; every round of it must have unknowns.
    variables
        The unknowns.
    is_true
        Tells the value of an unknown.
    """
    mates = _mates(problem, variables, is_true)
    free = (seating_of(problem, variables.rounds[r], is_true, mates) for r in problem.free)
    return (*problem.played, *free)


def seating_of(problem: Problem, made: RoundVariables, is_true: IsTrue, mates: Mates) -> Seating:
    """Return one round of the answer as a seating."""
    inside: dict[int, list[int]] = {place: [] for place in range(len(made.cells))}
    for (player, place), literal in made.inside.items():
        if is_true(literal):
            inside[place].append(player)
    blocks: list[tuple[int, ...]] = [() for _ in made.shape.blocks]
    rest: tuple[int, ...] = ()
    for place, cell in enumerate(made.cells):
        people = sorted(inside[place])
        if cell.block == REST:
            rest = tuple(people)
        elif cell.is_team:
            blocks[cell.block] += seated(made.shape, cell.masks, people)
        else:
            blocks[cell.block] = _whole_block(problem, made.shape, cell.block, people, mates)
    return Seating(tuple(blocks), _courts(made, is_true), rest)


def canonical(shape: Shape, seating: Seating) -> Seating:
    """Return a seating with blocks alike, and teams alike, in the order the model keeps them in.

    Blocks of one kind come by their first player, and so do the two teams of a match.
    """
    order = list(range(len(shape.blocks)))
    for block in dict.fromkeys(shape.blocks):
        alike = [at for at in order if shape.blocks[at] == block]
        by_first = sorted(alike, key=lambda at: min(seating.blocks[at]))
        for place, at in zip(alike, by_first, strict=True):
            order[place] = at
    blocks = [seating.blocks[at] for at in order]
    for at, (block, seats) in enumerate(zip(shape.blocks, blocks, strict=True)):
        swaps = block.kind is BlockKind.MATCH and block.masks[:2] == block.masks[2:]
        if swaps and min(seats[2:]) < min(seats[:2]):
            blocks[at] = seats[2:] + seats[:2]
    return Seating(tuple(blocks), tuple(seating.courts[at] for at in order), seating.rest)


def people_in(seating: Seating, cell: Cell) -> tuple[int, ...]:
    """Return who sits in a cell."""
    if cell.block == REST:
        return seating.rest
    seats = seating.blocks[cell.block]
    return seats[2 * cell.side : 2 * cell.side + 2] if cell.is_team else seats


def seated(shape: Shape, masks: Sequence[int], people: Sequence[int]) -> tuple[int, ...]:
    """Return people in the order of the seats that let them in."""
    bit = dict(zip(shape.players, shape.bits, strict=True))
    left = list(people)
    seats = [-1] * len(masks)
    for seat in sorted(range(len(masks)), key=lambda s: masks[s] == ANYONE):
        seats[seat] = next(p for p in left if masks[seat] == ANYONE or masks[seat] & bit[p])
        left.remove(seats[seat])
    return tuple(seats)


def _whole_block(
    problem: Problem, shape: Shape, number: int, people: list[int], mates: Mates
) -> tuple[int, ...]:
    """Seat a court where nobody asked about teams (or where the mates settle them)."""
    block = shape.blocks[number]
    if block.kind is BlockKind.MATCH and shape.keeps_teams:
        first = people[0]
        team = {first, mates[first]}
        return tuple(sorted(team)) + tuple(p for p in people if p not in team)
    if block.kind is BlockKind.MATCH:
        return _even_teams(problem, shape, block.masks, people)
    if block.kind is BlockKind.SPARE:
        return _spare(problem, people)
    return tuple(people)


def _even_teams(
    problem: Problem, shape: Shape, masks: tuple[int, ...], people: list[int]
) -> tuple[int, ...]:
    """Seat four so that the teams are as even as the masks allow."""
    a, b, c, d = people
    orders = [seated(shape, masks, order) for order in ((a, b, c, d), (a, c, b, d), (a, d, b, c))]
    orders += [seated(shape, masks, (d, c, b, a)), seated(shape, masks, (b, c, a, d))]
    level = problem.levels
    return min(orders, key=lambda s: abs(level[s[0]] + level[s[1]] - level[s[2]] - level[s[3]]))


def _spare(problem: Problem, people: list[int]) -> tuple[int, ...]:
    """Seat a spare court; of three, the first two play together, so they may be partners."""
    if len(people) != 3:
        return tuple(people)
    apart = {pair(d.player, d.other) for d in problem.demands if d.kind is WishKind.NOT_PARTNERS}
    a, b, c = people
    orders = [(a, b, c), (a, c, b), (b, c, a)]
    return next((order for order in orders if pair(*order[:2]) not in apart), orders[0])


def _courts(made: RoundVariables, is_true: IsTrue) -> tuple[int, ...]:
    blocks = range(len(made.shape.blocks))
    if not made.court:
        return made.shape.courts[: len(blocks)]
    return tuple(
        next(court for court in made.shape.courts if is_true(made.court[block, court]))
        for block in blocks
    )


def _mates(problem: Problem, variables: Variables, is_true: IsTrue) -> Mates:
    teams = [both for both, literal in variables.mates.items() if is_true(literal)]
    both_ways = [
        team for one, other in teams or problem.teams for team in ((one, other), (other, one))
    ]
    return dict(both_ways)
