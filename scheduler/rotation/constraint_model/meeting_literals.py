"""Literals for "these two meet in this round as partners", or as opponents, for wishes."""

from __future__ import annotations

from collections.abc import Iterable

from ortools.sat.python import cp_model

from scheduler.domain.event import WishKind
from scheduler.rotation.constraint_model.logic import Logic, known
from scheduler.rotation.constraint_model.variables import REST, Literal, RoundVariables, Variables
from scheduler.rotation.problem import Demand, Problem, pair


class MeetingLiterals:
    """Makes the literals and keeps them.

    Parameters
    ----------
    model
        Where to make them.
    problem
        What is to be seated.
    variables
        The unknowns.
    """

    def __init__(self, model: cp_model.CpModel, problem: Problem, variables: Variables) -> None:
        self._model = model
        self._logic = Logic(model)
        self._variables = variables
        self._teams = frozenset(pair(*team) for team in problem.teams)
        self._met: dict[tuple[WishKind, int, int, int], list[Literal]] = {}

    def of(self, made: RoundVariables, demand: Demand) -> list[Literal]:
        """Return literals each of which makes two meet in a round as a wish has it.

        Two wishes for the same meeting share them.
        """
        key = (demand.kind, made.number, *pair(demand.player, demand.other))
        if key not in self._met:
            as_partners = demand.kind is WishKind.PARTNERS_ONCE
            find = self._partners if as_partners else self._opponents
            self._met[key] = find(made, demand.player, demand.other)
        return self._met[key]

    def few_a_round(self) -> None:
        """Say that nobody has two partners or three opponents in a round."""
        met: dict[tuple[WishKind, int, int], list[Literal]] = {}
        for (kind, number, one, other), literals in self._met.items():
            for player in (one, other):
                met.setdefault((kind, number, player), []).extend(literals)
        for (kind, _, _), literals in met.items():
            self._model.add(sum(literals) <= (1 if kind is WishKind.PARTNERS_ONCE else 2))

    def _partners(self, made: RoundVariables, one: int, other: int) -> list[Literal]:
        """Return new literals each of which makes two partners in a round."""
        if made.shape.keeps_teams:
            return [
                self._logic.all_of([mates, plays])
                for mates in self.mates(one, other)
                for plays in made.on_court(one)
            ]
        return self._in_both(
            made,
            [(place, place) for place, cell in enumerate(made.cells) if cell.is_team],
            one,
            other,
        )

    def _opponents(self, made: RoundVariables, one: int, other: int) -> list[Literal]:
        """Return new literals each of which makes two opponents in a round."""
        if made.shape.keeps_teams and not made.has_teams:
            places = [(p, p) for p, cell in enumerate(made.cells) if cell.block != REST]
            met = self._in_both(made, places, one, other)
            for literal in met:
                for mates in self.mates(one, other):
                    self._model.add_implication(literal, ~mates)
            return met
        sides = [place for place, cell in enumerate(made.cells) if cell.side == 1]
        both_ways = [both for place in sides for both in ((place - 1, place), (place, place - 1))]
        return self._in_both(made, both_ways, one, other)

    def _in_both(
        self, made: RoundVariables, places: Iterable[tuple[int, int]], one: int, other: int
    ) -> list[Literal]:
        return [
            self._logic.all_of([made.inside[one, here], made.inside[other, there]])
            for here, there in places
            if (one, here) in made.inside and (other, there) in made.inside
        ]

    def mates(self, one: int, other: int) -> list[Literal]:
        """Return a literal for "these two are mates in pairs rounds"; nothing if they cannot be."""
        if self._variables.mates:
            return known(self._variables.mates.get(pair(one, other), 0))
        return [self._model.new_constant(1)] if pair(one, other) in self._teams else []
