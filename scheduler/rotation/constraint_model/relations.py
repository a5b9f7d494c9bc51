"""How two people stand to each other in a round, as literals: partners, opponents, and so on.

The relations are the kernel's, so that its tables of prices can be used.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from itertools import combinations

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.variables import REST, Literal, RoundVariables
from scheduler.rotation.kernel.wishes import BOTH_REST, OPPONENT, PARTNER, TOGETHER

Pair = tuple[int, int]
Places = dict[int, int]
Relations = dict[Pair, dict[int, Literal]]


def relations_of(
    model: cp_model.CpModel, made: RoundVariables, priced: Mapping[int, Collection[Pair]]
) -> Relations:
    """Make the literals of a round.

    Parameters
    ----------
    model
        Where to make them.
    made
        The round's unknowns, teams told apart.
    priced
        The relations a price hangs on, each with the pairs it concerns; an
        empty collection means everybody.
    """
    found: Relations = {both: {} for both in combinations(sorted(made.shape.players), 2)}
    for relation, pairs in priced.items():
        places = _places(made, relation)
        for both in (found if not pairs else sorted(pairs)) if places else ():
            found[both][relation] = _exactly(model, made, places, both, relation)
        if places and not pairs:
            _add_up(model, made, found, places, relation)
    return found


def _places(made: RoundVariables, relation: int) -> Places:
    """Return for each cell of one person the cell of the other that makes the relation."""
    cells = list(enumerate(made.cells))
    if relation == PARTNER:
        return {place: place for place, cell in cells if cell.is_team}
    if relation == OPPONENT:
        return {place: place + 1 - 2 * cell.side for place, cell in cells if cell.is_team}
    if relation == TOGETHER:
        return {place: place for place, c in cells if not c.is_team and c.block != REST}
    return {place: place for place, cell in cells if cell.block == REST and relation == BOTH_REST}


def _exactly(
    model: cp_model.CpModel, made: RoundVariables, places: Places, both: Pair, relation: int
) -> Literal:
    """Return a literal that is true exactly when the relation holds."""
    holds = model.new_bool_var(f"r{made.number}_{relation}_{both[0]}_{both[1]}")
    for one, other in (both, both[::-1]):
        anywhere = []
        for here, there in places.items():
            if (one, here) not in made.inside:
                continue
            is_here = made.inside[one, here]
            anywhere.append(is_here)
            is_there = [made.inside[other, there]] if (other, there) in made.inside else []
            model.add_bool_or(~holds, ~is_here, *is_there)
            for literal in is_there:
                model.add_bool_or(~is_here, ~literal, holds)
        model.add_bool_or(~holds, *anywhere)
    return holds


def _add_up(
    model: cp_model.CpModel, made: RoundVariables, found: Relations, places: Places, relation: int
) -> None:
    """Say how many others a person in each cell stands in the relation to."""
    for player in made.shape.players:
        others = [known[relation] for both, known in found.items() if player in both]
        expected = [
            (made.cells[there].size - (here == there)) * made.inside[player, here]
            for here, there in places.items()
            if (player, here) in made.inside
        ]
        model.add(sum(others) == sum(expected))
