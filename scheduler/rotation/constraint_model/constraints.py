"""The rules of a seating as constraints, one method a rule.

A rule that belongs to a wish or to somebody's fair share can be put *under* a
literal: it then holds only where the literal is true, so that the solver can
be asked which of them cannot be kept together.
"""
# ruff: noqa: D401  the docstrings state the rules

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from ortools.sat.python import cp_model

from scheduler.domain.event import PAIR_WISHES, WishKind
from scheduler.rotation.constraint_model.rests import RestRange
from scheduler.rotation.constraint_model.settled import Settled
from scheduler.rotation.constraint_model.variables import (
    REST,
    Literal,
    RoundVariables,
    Variables,
)
from scheduler.rotation.problem import ANYONE, BlockKind, Demand, Problem, Seating, pair
from scheduler.rotation.teams import teams_in


class Constraints:
    """Adds rules to a model.

    Parameters
    ----------
    model
        The model to add to.
    problem
        What is to be seated.
    variables
        The unknowns.
    settled
        Seatings of the rounds without unknowns; the played ones if not given.
    """

    def __init__(
        self,
        model: cp_model.CpModel,
        problem: Problem,
        variables: Variables,
        settled: Mapping[int, Seating] | None = None,
    ) -> None:
        self._model = model
        self._problem = problem
        self._variables = variables
        self._settled = Settled(problem, settled)
        self._met: dict[tuple[WishKind, int, int, int], list[Literal]] = {}
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

    # ---- what every seating keeps ------------------------------------------------

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
                self._forbid(made.on_block(player, number))
        for place, cell in enumerate(made.cells):
            first = made.cells[place - 1]
            if cell.side == 1 and cell.masks == first.masks and made.shape.players:
                self._forbid([made.in_cell(made.shape.players[0], place)])

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
                    there = [] if mate == player else _known(made.in_cell(mate, place))
                    self._equal(_known(made.in_cell(player, place)), there, None)

    def _free_teams_stay_together(self, made: RoundVariables) -> None:
        blocks = range(len(made.shape.blocks))
        everyone = sorted({player for both in self._variables.mates for player in both})
        for player in made.shape.players:
            if player not in everyone:
                self._forbid(lit for b in blocks for lit in made.on_block(player, b))
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
        self._under(self._rests(player) >= fewest, on)

    def at_most_rests(self, player: int, most: int, on: Literal | None) -> None:
        """A player rests at most so often over the whole evening."""
        self._under(self._rests(player) <= most, on)

    def nearly_fair_rests(
        self, player: int, allowed: RestRange, less: Literal, more: Literal
    ) -> None:
        """A player's rests leave the range of the fair share by at most two whole numbers."""
        self._model.add(self._rests(player) >= allowed.fewest - less)
        self._model.add(self._rests(player) <= allowed.most + more)

    def few_meetings_a_round(self) -> None:
        """Nobody has two partners or three opponents in a round (where wishes ask for some)."""
        met: dict[tuple[WishKind, int, int], list[Literal]] = {}
        for (kind, number, one, other), literals in self._met.items():
            for player in (one, other):
                met.setdefault((kind, number, player), []).extend(literals)
        for (kind, _, _), literals in met.items():
            self._model.add(sum(literals) <= (1 if kind is WishKind.PARTNERS_ONCE else 2))

    # ---- wishes -------------------------------------------------------------------

    def wish(self, demand: Demand, on: Literal | None = None) -> None:
        """A must-wish is kept in the rounds still to be seated."""
        self._wishes[demand.kind](demand, on)

    def partners(self, demand: Demand, on: Literal | None) -> None:
        """Two are partners or both rest in every round of the wish in which both take part."""
        one, other = demand.player, demand.other
        for made in self._together(demand):
            if made.shape.keeps_teams:
                self._equal(made.rests(one), made.rests(other), on)
                for plays in self._on_court(made, one):
                    self._clause([~plays, *self._mates(one, other)], on)
                continue
            for place, cell in enumerate(made.cells):
                here, there = made.in_cell(one, place), made.in_cell(other, place)
                if cell.is_team or cell.block == REST:
                    self._equal(_known(here), _known(there), on)
                else:
                    self._never([*_known(here), *_known(there)], on)

    def not_partners(self, demand: Demand, on: Literal | None) -> None:
        """Two are never partners."""
        one, other = demand.player, demand.other
        for made in self._together(demand):
            if made.shape.keeps_teams:
                for plays in self._on_court(made, one):
                    for mates in self._mates(one, other):
                        self._clause([~plays, ~mates], on)
                continue
            for place, cell in enumerate(made.cells):
                if cell.is_team:
                    self._not_both(made.in_cell(one, place), made.in_cell(other, place), on)

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
                self._under(sum(here) <= 1, on)

    def same_court(self, demand: Demand, on: Literal | None) -> None:
        """Two are in one group in every drill of the wish in which both take part."""
        for made in self._together(demand):
            for block in range(len(made.shape.blocks)):
                self._equal(
                    made.on_block(demand.player, block), made.on_block(demand.other, block), on
                )

    def on_court(self, demand: Demand, on: Literal | None) -> None:
        """A player who is on a court is on the one wished."""
        for made in self._rounds(demand):
            for block in range(len(made.shape.blocks)):
                court = _known(made.court.get((block, demand.other), 0))
                for here in made.on_block(demand.player, block):
                    self._clause([~here, *court], on)

    def rests(self, demand: Demand, on: Literal | None) -> None:
        """A player rests in every round of the wish."""
        for made in self._rounds(demand):
            self._clause(made.rests(demand.player), on)

    def plays_at_most(self, demand: Demand, on: Literal | None) -> None:
        """A player is on a court in at most so many rounds of the wish."""
        left = max(0, demand.number - self._settled.times_on_court(demand))
        plays = [self._plays(made, demand.player) for made in self._rounds(demand)]
        if len(plays) > left:
            self._under(sum(plays) <= left, on)

    def rounds_running_at_most(self, demand: Demand, on: Literal | None) -> None:
        """A player is never on a court in more rounds running than wished."""
        length = demand.number + 1
        for start in demand.rounds:
            window = range(start, start + length)
            if not set(window) <= set(demand.rounds) or window[-1] not in self._variables.rounds:
                continue
            if all(self._may_play(r, demand.player) for r in window):
                self._under(
                    sum(self._plays_in(r, demand.player) for r in window) <= demand.number, on
                )

    def plays_once(self, demand: Demand) -> None:
        """Each person of a wish is on a court in at least one of its rounds still to be seated."""
        is_pair = demand.kind in PAIR_WISHES
        rounds = list(self._together(demand) if is_pair else self._rounds(demand))
        for player in (demand.player, demand.other) if is_pair else (demand.player,):
            if rounds:
                self._clause([lit for m in rounds for lit in self._on_court(m, player)], None)

    # ---- pieces --------------------------------------------------------------------

    def _meet_once(self, demand: Demand, on: Literal | None, *, has_been: bool) -> None:
        both = {demand.player, demand.other}
        is_asked = any(both <= set(self._problem.shapes[r].players) for r in demand.rounds)
        if is_asked and not has_been:
            met = [self._meetings(made, demand) for made in self._together(demand)]
            self._clause([literal for here in met for literal in here], on)

    def _meetings(self, made: RoundVariables, demand: Demand) -> list[Literal]:
        """Return literals each of which makes two meet in a round as a wish has it.

        Two wishes for the same meeting share them.
        """
        key = (demand.kind, made.number, *pair(demand.player, demand.other))
        if key not in self._met:
            as_partners = demand.kind is WishKind.PARTNERS_ONCE
            find = self._partner_literals if as_partners else self._opponent_literals
            self._met[key] = find(made, demand.player, demand.other)
        return self._met[key]

    def _partner_literals(self, made: RoundVariables, one: int, other: int) -> list[Literal]:
        """Return new literals each of which makes two partners in a round."""
        if made.shape.keeps_teams:
            return [
                self._all_of([mates, plays])
                for mates in self._mates(one, other)
                for plays in self._on_court(made, one)
            ]
        return self._in_both(
            made,
            [(place, place) for place, cell in enumerate(made.cells) if cell.is_team],
            one,
            other,
        )

    def _opponent_literals(self, made: RoundVariables, one: int, other: int) -> list[Literal]:
        """Return new literals each of which makes two opponents in a round."""
        if made.shape.keeps_teams and not made.has_teams:
            places = [(p, p) for p, cell in enumerate(made.cells) if cell.block != REST]
            met = self._in_both(made, places, one, other)
            for literal in met:
                for mates in self._mates(one, other):
                    self._model.add_implication(literal, ~mates)
            return met
        sides = [place for place, cell in enumerate(made.cells) if cell.side == 1]
        both_ways = [both for place in sides for both in ((place - 1, place), (place, place - 1))]
        return self._in_both(made, both_ways, one, other)

    def _in_both(
        self, made: RoundVariables, places: Iterable[tuple[int, int]], one: int, other: int
    ) -> list[Literal]:
        return [
            self._all_of([made.inside[one, here], made.inside[other, there]])
            for here, there in places
            if (one, here) in made.inside and (other, there) in made.inside
        ]

    def _all_of(self, literals: list[Literal]) -> Literal:
        """Return a new literal that makes all the given ones true."""
        together = self._model.new_bool_var("")
        for literal in literals:
            self._model.add_implication(together, literal)
        return together

    def _mates(self, one: int, other: int) -> list[Literal]:
        """Return a literal for "these two are mates in pairs rounds"; nothing if they cannot be."""
        if self._variables.mates:
            return _known(self._variables.mates.get(pair(one, other), 0))
        return [self._model.new_constant(1)] if pair(one, other) in self._teams else []

    @property
    def _teams(self) -> frozenset[tuple[int, int]]:
        return frozenset(pair(*team) for team in self._problem.teams)

    def _rounds(self, demand: Demand) -> Iterable[RoundVariables]:
        """Return the rounds of a wish, still to be seated, in which its player takes part."""
        made = (self._variables.rounds.get(number) for number in demand.rounds)
        return (m for m in made if m is not None and demand.player in m.shape.players)

    def _together(self, demand: Demand) -> Iterable[RoundVariables]:
        return (made for made in self._rounds(demand) if demand.other in made.shape.players)

    def _on_court(self, made: RoundVariables, player: int) -> list[Literal]:
        return [lit for b in range(len(made.shape.blocks)) for lit in made.on_block(player, b)]

    def _plays(self, made: RoundVariables, player: int) -> cp_model.LinearExprT:
        return 1 - sum(made.rests(player))

    def _may_play(self, number: int, player: int) -> bool:
        if number in self._variables.rounds:
            return player in self._problem.shapes[number].players
        return self._settled.on_court(number, player)

    def _plays_in(self, number: int, player: int) -> cp_model.LinearExprT:
        made = self._variables.rounds.get(number)
        return 1 if made is None else self._plays(made, player)

    def _rests(self, player: int) -> cp_model.LinearExprT:
        rounds = self._variables.rounds.values()
        free = [lit for m in rounds if player in m.shape.players for lit in m.rests(player)]
        return cp_model.LinearExpr.sum(free) + self._settled.rests(player)

    def _under(self, constraint: Any, on: Literal | None) -> None:
        added = self._model.add(constraint)
        if on is not None:
            added.only_enforce_if(on)

    def _clause(self, literals: Iterable[cp_model.LiteralT], on: Literal | None) -> None:
        under: list[cp_model.LiteralT] = [] if on is None else [~on]
        self._model.add_bool_or([*under, *literals])

    def _forbid(self, literals: Iterable[Literal | int]) -> None:
        for literal in literals:
            if not isinstance(literal, int):
                self._model.add(literal == 0)

    def _never(self, literals: Iterable[Literal], on: Literal | None) -> None:
        for literal in literals:
            self._clause([~literal], on)

    def _not_both(self, here: Literal | int, there: Literal | int, on: Literal | None) -> None:
        if not isinstance(here, int) and not isinstance(there, int):
            self._clause([~here, ~there], on)

    def _equal(self, here: list[Literal], there: list[Literal], on: Literal | None) -> None:
        """Make two literals equal, an empty list standing for what cannot be."""
        for literal in here:
            self._clause([~literal, *there], on)
        for literal in there:
            self._clause([~literal, *here], on)


def _known(literal: Literal | int) -> list[Literal]:
    """Return a literal in a list, nothing where there is none."""
    return [] if isinstance(literal, int) else [literal]
