"""Sums that follow from several wishes at once; the solver would be slow to find them itself.

Each holds wherever the wishes it follows from hold. They matter for proofs
that there is no plan: six people who must not share five courts are a
pigeonhole, which clauses on pairs alone make very long work of.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from ortools.sat.python import cp_model

from scheduler.domain.event import WishKind
from scheduler.rotation.constraint_model.variables import Literal, RoundVariables, Variables
from scheduler.rotation.problem import Demand, pair

Asked = Sequence[tuple[Demand, Literal | None]]


def add_cuts(model: cp_model.CpModel, variables: Variables, asked: Asked) -> None:
    """Add the sums that follow from the wishes in each round.

    Parameters
    ----------
    model
        Where to add them.
    variables
        The unknowns.
    asked
        The wishes, each with the literal it hangs on, or None if it holds anyhow.
    """
    for made in variables.rounds.values():
        here = [
            (d, on) for d, on in asked if made.number in d.rounds and d.player in made.shape.players
        ]
        _one_of_a_clique(model, made, here)
        _room_on_a_court(model, made, here)


def _one_of_a_clique(model: cp_model.CpModel, made: RoundVariables, here: Asked) -> None:
    """Of people none of whom may share a court with another, a court holds one."""
    edges: dict[tuple[int, int], Literal | None] = {}
    for demand, on in here:
        if demand.kind is WishKind.NOT_SAME_COURT and demand.other in made.shape.players:
            edges.setdefault(pair(demand.player, demand.other), on)
    for clique in cliques(edges):
        held = [edges[one, other] for one, other in edges if one in clique and other in clique]
        under = [literal for literal in held if literal is not None]
        for block in range(len(made.shape.blocks)):
            people = [lit for player in clique for lit in made.on_block(player, block)]
            _under(model, sum(people) <= 1, under)


def _room_on_a_court(model: cp_model.CpModel, made: RoundVariables, here: Asked) -> None:
    """Of people who must be on one court, no more play than it has seats."""
    wished: dict[int, dict[int, Literal | None]] = defaultdict(dict)
    for demand, on in here:
        if demand.kind is WishKind.ON_COURT:
            wished[demand.other].setdefault(demand.player, on)
    seats = max((block.size for block in made.shape.blocks), default=0)
    for people in wished.values():
        if len(people) > seats:
            resting = sum(lit for player in people for lit in made.rests(player))
            under = [literal for literal in people.values() if literal is not None]
            _under(model, resting >= len(people) - seats, under)


def cliques(edges: Iterable[tuple[int, int]]) -> list[tuple[int, ...]]:
    """Return sets of three or more in which everybody is joined to everybody, greedily grown."""
    near: dict[int, set[int]] = defaultdict(set)
    for one, other in edges:
        near[one].add(other)
        near[other].add(one)
    by_degree = sorted(near, key=lambda player: (-len(near[player]), player))
    found = []
    for start in by_degree:
        clique = [start]
        for player in by_degree:
            if near[player].issuperset(clique):
                clique.append(player)
        found.append(tuple(sorted(clique)))
    return [clique for clique in dict.fromkeys(found) if len(clique) > 2]


def _under(
    model: cp_model.CpModel,
    constraint: cp_model.BoundedLinearExpression | bool,
    literals: list[Literal],
) -> None:
    added = model.add(constraint)
    if literals:
        added.only_enforce_if(literals)
