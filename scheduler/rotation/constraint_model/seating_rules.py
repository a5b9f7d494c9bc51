"""The rules every seating keeps, whatever anybody wishes, one method a rule."""
# ruff: noqa: D401  the docstrings state the rules

from __future__ import annotations

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.logic import Logic, known
from scheduler.rotation.constraint_model.rests import RestRange
from scheduler.rotation.constraint_model.settled import Settled
from scheduler.rotation.constraint_model.variables import REST, Literal, RoundVariables, Variables
from scheduler.rotation.problem import ANYONE, BlockKind, Problem
from scheduler.rotation.teams import teams_in


class SeatingRules:
    """Adds these rules to a model.

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
        self._model = model
        self._logic = Logic(model)
        self._problem = problem
        self._variables = variables
        self._settled = settled

    def add_seating(self, *, is_roomy: bool = False) -> None:
        """Add the rules that hold without any wish; in a roomy model seats may stay empty."""
        for made in self._variables.rounds.values():
            self.everybody_somewhere(made)
            self.every_seat_filled(made, is_roomy=is_roomy)
            self.blocks_in_order(made)
            self.one_court_each(made)
            if made.shape.keeps_teams:
                self.teams_stay_together(made)
        if self._variables.mates:
            self.one_mate_each()

    def everybody_somewhere(self, made: RoundVariables) -> None:
        """Each player of a round is in exactly one cell."""
        for player in made.shape.players:
            self._model.add_exactly_one(
                made.inside[player, place]
                for place in range(len(made.cells))
                if (player, place) in made.inside
            )

    def every_seat_filled(self, made: RoundVariables, *, is_roomy: bool = False) -> None:
        """Each cell holds as many people as it has seats, and of each set no more than may sit.

        With sets of players that are single bits, and seats for one set or
        for anybody, this is Hall's condition: a cell so filled can be seated.
        """
        bit = dict(zip(made.shape.players, made.shape.bits, strict=True))
        for place, cell in enumerate(made.cells):
            people = [p for p in made.shape.players if (p, place) in made.inside]
            filled = sum(made.inside[p, place] for p in people)
            self._model.add(filled <= cell.size if is_roomy else filled == cell.size)
            for own in sorted(set(made.shape.bits)):
                seats = sum(mask == ANYONE or bool(mask & own) for mask in cell.masks)
                if seats < cell.size:
                    of_set = (made.inside[p, place] for p in people if bit[p] == own)
                    self._model.add(sum(of_set) <= seats)

    def blocks_in_order(self, made: RoundVariables) -> None:
        """Of blocks alike, the one with the first player comes first; so do the teams of a match.

        This keeps one of many seatings that differ in nothing but numbering:
        block k of its kind has at least k earlier players in front of its own.
        """
        alike: dict[tuple[BlockKind, tuple[int, ...]], int] = {}
        for number, block in enumerate(made.shape.blocks):
            before = alike.get((block.kind, block.masks), 0)
            alike[block.kind, block.masks] = before + 1
            for player in made.shape.players[:before]:
                self._logic.forbid(made.on_block(player, number))
        for place, cell in enumerate(made.cells):
            first = made.cells[place - 1]
            if cell.side == 1 and cell.masks == first.masks and made.shape.players:
                self._logic.forbid([made.in_cell(made.shape.players[0], place)])

    def one_court_each(self, made: RoundVariables) -> None:
        """Each block is on one court, and no court holds two blocks."""
        if not made.court:
            return
        for block in range(len(made.shape.blocks)):
            self._model.add_exactly_one(made.court[block, c] for c in made.shape.courts)
        for court in made.shape.courts:
            self._model.add_at_most_one(
                made.court[block, court] for block in range(len(made.shape.blocks))
            )

    def teams_stay_together(self, made: RoundVariables) -> None:
        """In a ``pairs`` round mates share a court or rest, and nobody plays without a mate."""
        if self._variables.mates:
            self._free_teams_stay_together(made)
            return
        mates = dict(self._problem.teams) | {b: a for a, b in self._problem.teams}
        for player in made.shape.players:
            mate = mates.get(player, player)
            for place, cell in enumerate(made.cells):
                if cell.block != REST:
                    there = [] if mate == player else known(made.in_cell(mate, place))
                    self._logic.equal(known(made.in_cell(player, place)), there, None)

    def _free_teams_stay_together(self, made: RoundVariables) -> None:
        blocks = range(len(made.shape.blocks))
        everyone = sorted({player for both in self._variables.mates for player in both})
        for player in made.shape.players:
            if player not in everyone:
                self._logic.forbid(lit for b in blocks for lit in made.on_block(player, b))
        for both, mates in self._variables.mates.items():
            for block in blocks:
                for one, other in (both, both[::-1]):
                    for here in made.on_block(one, block):
                        self._model.add_bool_or(~mates, ~here, *made.on_block(other, block))

    def one_mate_each(self) -> None:
        """Everybody of the ``pairs`` rounds has exactly one mate, the one from before if any."""
        mates = self._variables.mates
        for player in sorted({player for both in mates for player in both}):
            self._model.add_exactly_one(lit for both, lit in mates.items() if player in both)
        for team in teams_in(self._problem, self._problem.played):
            if team in mates:
                self._model.add(mates[team] == 1)

    def at_least_rests(self, player: int, fewest: int, on: Literal | None) -> None:
        """A player rests at least so often over the whole evening."""
        self._logic.under(self._rests(player) >= fewest, on)

    def at_most_rests(self, player: int, most: int, on: Literal | None) -> None:
        """A player rests at most so often over the whole evening."""
        self._logic.under(self._rests(player) <= most, on)

    def nearly_fair_rests(
        self, player: int, allowed: RestRange, less: Literal, more: Literal
    ) -> None:
        """A player's rests leave the range of the fair share by at most two whole numbers."""
        self._model.add(self._rests(player) >= allowed.fewest - less)
        self._model.add(self._rests(player) <= allowed.most + more)

    def _rests(self, player: int) -> cp_model.LinearExprT:
        rounds = self._variables.rounds.values()
        free = [lit for m in rounds if player in m.shape.players for lit in m.rests(player)]
        return cp_model.LinearExpr.sum(free) + self._settled.rests(player)
