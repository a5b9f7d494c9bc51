"""What each kind of must-wish demands, one method a kind.

A wish can be put *under* a literal: it then holds only where the literal is
true, so that the solver can be asked which wishes cannot be kept together.
"""
# ruff: noqa: D401  the docstrings state the rules

from __future__ import annotations

from collections.abc import Callable, Iterable

from ortools.sat.python import cp_model

from scheduler.domain.event import PAIR_WISHES, WishKind
from scheduler.rotation.constraint_model.logic import Logic, known
from scheduler.rotation.constraint_model.meeting_literals import MeetingLiterals
from scheduler.rotation.constraint_model.settled import Settled
from scheduler.rotation.constraint_model.variables import REST, Literal, RoundVariables, Variables
from scheduler.rotation.problem import Demand, Problem


class WishRules:
    """Adds wishes to a model.

    Parameters
    ----------
    model
        The model to add to.
    problem
        What is to be seated.
    variables
        The unknowns.
    settled
        The rounds without unknowns.
    """

    def __init__(
        self,
        model: cp_model.CpModel,
        problem: Problem,
        variables: Variables,
        settled: Settled,
    ) -> None:
        self._logic = Logic(model)
        self._problem = problem
        self._variables = variables
        self._settled = settled
        self.meetings = MeetingLiterals(model, problem, variables)
        self._wishes: dict[WishKind, Callable[[Demand, Literal | None], None]] = {
            WishKind.PARTNERS: self.partners,
            WishKind.PARTNERS_ONCE: self.partners_once,
            WishKind.NOT_PARTNERS: self.not_partners,
            WishKind.AGAINST_ONCE: self.against_once,
            WishKind.NOT_SAME_COURT: self.not_same_court,
            WishKind.SAME_COURT: self.same_court,
            WishKind.ON_COURT: self.on_court,
            WishKind.RESTS: self.rests,
            WishKind.PLAYS_AT_MOST: self.plays_at_most,
            WishKind.ROUNDS_RUNNING_AT_MOST: self.rounds_running_at_most,
        }

    def add(self, demand: Demand, on: Literal | None = None) -> None:
        """A must-wish is kept in the rounds still to be seated."""
        self._wishes[demand.kind](demand, on)

    def partners(self, demand: Demand, on: Literal | None) -> None:
        """Two are partners or both rest in every round of the wish in which both take part."""
        one, other = demand.player, demand.other
        for made in self._together(demand):
            if made.shape.keeps_teams:
                self._logic.equal(made.rests(one), made.rests(other), on)
                for plays in made.on_court(one):
                    self._logic.clause([~plays, *self.meetings.mates(one, other)], on)
                continue
            for place, cell in enumerate(made.cells):
                here, there = made.in_cell(one, place), made.in_cell(other, place)
                if cell.is_team or cell.block == REST:
                    self._logic.equal(known(here), known(there), on)
                else:
                    self._logic.never([*known(here), *known(there)], on)

    def not_partners(self, demand: Demand, on: Literal | None) -> None:
        """Two are never partners."""
        one, other = demand.player, demand.other
        for made in self._together(demand):
            if made.shape.keeps_teams:
                for plays in made.on_court(one):
                    for mates in self.meetings.mates(one, other):
                        self._logic.clause([~plays, ~mates], on)
                continue
            for place, cell in enumerate(made.cells):
                if cell.is_team:
                    self._logic.not_both(made.in_cell(one, place), made.in_cell(other, place), on)

    def partners_once(self, demand: Demand, on: Literal | None) -> None:
        """Two are partners in at least one round of the wish, if they share any."""
        self._meet_once(demand, on, has_been=self._settled.are_partners(demand))

    def against_once(self, demand: Demand, on: Literal | None) -> None:
        """Two oppose each other in at least one round of the wish, if they share any."""
        self._meet_once(demand, on, has_been=self._settled.are_opponents(demand))

    def not_same_court(self, demand: Demand, on: Literal | None) -> None:
        """Two are never on one court, drills and spare courts included."""
        for made in self._together(demand):
            for block in range(len(made.shape.blocks)):
                here = made.on_block(demand.player, block) + made.on_block(demand.other, block)
                self._logic.under(sum(here) <= 1, on)

    def same_court(self, demand: Demand, on: Literal | None) -> None:
        """Two are in one group in every drill of the wish in which both take part."""
        for made in self._together(demand):
            for block in range(len(made.shape.blocks)):
                self._logic.equal(
                    made.on_block(demand.player, block), made.on_block(demand.other, block), on
                )

    def on_court(self, demand: Demand, on: Literal | None) -> None:
        """A player who is on a court is on the one wished."""
        for made in self._rounds(demand):
            for block in range(len(made.shape.blocks)):
                court = known(made.court.get((block, demand.other), 0))
                for here in made.on_block(demand.player, block):
                    self._logic.clause([~here, *court], on)

    def rests(self, demand: Demand, on: Literal | None) -> None:
        """A player rests in every round of the wish."""
        for made in self._rounds(demand):
            self._logic.clause(made.rests(demand.player), on)

    def plays_at_most(self, demand: Demand, on: Literal | None) -> None:
        """A player is on a court in at most so many rounds of the wish."""
        left = max(0, demand.number - self._settled.times_on_court(demand))
        plays = [self._plays(made, demand.player) for made in self._rounds(demand)]
        if len(plays) > left:
            self._logic.under(sum(plays) <= left, on)

    def rounds_running_at_most(self, demand: Demand, on: Literal | None) -> None:
        """A player is never on a court in more rounds running than wished."""
        length = demand.number + 1
        for start in demand.rounds:
            window = range(start, start + length)
            if not set(window) <= set(demand.rounds) or window[-1] not in self._variables.rounds:
                continue
            if all(self._may_play(r, demand.player) for r in window):
                self._logic.under(
                    sum(self._plays_in(r, demand.player) for r in window) <= demand.number, on
                )

    def plays_once(self, demand: Demand) -> None:
        """Each person of a wish is on a court in at least one of its rounds still to be seated."""
        is_pair = demand.kind in PAIR_WISHES
        rounds = list(self._together(demand) if is_pair else self._rounds(demand))
        for player in (demand.player, demand.other) if is_pair else (demand.player,):
            if rounds:
                self._logic.clause([lit for m in rounds for lit in m.on_court(player)], None)

    def _meet_once(self, demand: Demand, on: Literal | None, *, has_been: bool) -> None:
        both = {demand.player, demand.other}
        is_asked = any(both <= set(self._problem.shapes[r].players) for r in demand.rounds)
        if is_asked and not has_been:
            met = [self.meetings.of(made, demand) for made in self._together(demand)]
            self._logic.clause([literal for here in met for literal in here], on)

    def _rounds(self, demand: Demand) -> Iterable[RoundVariables]:
        """Return the rounds of a wish, still to be seated, in which its player takes part."""
        made = (self._variables.rounds.get(number) for number in demand.rounds)
        return (m for m in made if m is not None and demand.player in m.shape.players)

    def _together(self, demand: Demand) -> Iterable[RoundVariables]:
        return (made for made in self._rounds(demand) if demand.other in made.shape.players)

    def _plays(self, made: RoundVariables, player: int) -> cp_model.LinearExprT:
        return 1 - sum(made.rests(player))

    def _may_play(self, number: int, player: int) -> bool:
        if number in self._variables.rounds:
            return player in self._problem.shapes[number].players
        return self._settled.on_court(number, player)

    def _plays_in(self, number: int, player: int) -> cp_model.LinearExprT:
        made = self._variables.rounds.get(number)
        return 1 if made is None else self._plays(made, player)
