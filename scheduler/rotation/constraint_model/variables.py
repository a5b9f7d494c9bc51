"""The unknowns: who is in which cell of each round.

A *cell* is a part of a round inside which seats make no difference: a whole
court where nobody asks about teams, one team of a match where somebody does,
a drill group, the rest bench. One Boolean says whether a player is in a cell.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from scheduler.domain.event import WishKind
from scheduler.rotation.problem import ANYONE, BlockKind, Demand, Problem, Shape, pair

Literal = cp_model.IntVar
REST = -1
"""The block number of the rest bench."""

ONCE_WISHES = frozenset({WishKind.PARTNERS_ONCE, WishKind.AGAINST_ONCE})
TEAM_WISHES = ONCE_WISHES | frozenset(
    {
        WishKind.PARTNERS,
        WishKind.NOT_PARTNERS,
    }
)


@dataclass(frozen=True, slots=True)
class Cell:
    """Seats of one block (or of the rest bench) that make no difference.

    `side` is 0 or 1 for the teams of a match, `is_team` says whether the cell
    is one of them, so that those in it are partners.
    """

    block: int
    side: int
    masks: tuple[int, ...]
    is_team: bool = False

    @property
    def size(self) -> int:
        """How many people it holds."""
        return len(self.masks)


def cells_of(shape: Shape, *, by_team: bool, is_roomy: bool = False) -> tuple[Cell, ...]:
    """Return the cells of a round, the rest bench last if there is one.

    A roomy round has room for everybody on the bench.
    """
    cells: list[Cell] = []
    for number, block in enumerate(shape.blocks):
        if by_team and block.kind is BlockKind.MATCH:
            cells.append(Cell(number, 0, block.masks[:2], is_team=True))
            cells.append(Cell(number, 1, block.masks[2:], is_team=True))
        else:
            cells.append(Cell(number, 0, block.masks))
    rest = (ANYONE,) * len(shape.players) if is_roomy else shape.rest
    if rest:
        cells.append(Cell(REST, 0, rest))
    return tuple(cells)


@dataclass
class RoundVariables:
    """The unknowns of one round.

    Parameters
    ----------
    number
        The round's position.
    shape
        Its shape.
    cells
        Its cells.
    inside
        For each player and cell (by its place in `cells`) whether the player
        is there; players a cell's masks keep out have no entry.
    court
        For each block and court whether the block is played there; empty
        where nobody asks for a court.
    """

    number: int
    shape: Shape
    cells: tuple[Cell, ...]
    inside: dict[tuple[int, int], Literal]
    court: dict[tuple[int, int], Literal] = field(default_factory=dict)

    def in_cell(self, player: int, place: int) -> Literal | int:
        """Return whether a player is in a cell, 0 where that cannot be."""
        return self.inside.get((player, place), 0)

    def on_block(self, player: int, block: int) -> list[Literal]:
        """Return literals of which one is true when a player is in a block."""
        return [
            self.inside[player, place]
            for place, cell in enumerate(self.cells)
            if cell.block == block and (player, place) in self.inside
        ]

    def rests(self, player: int) -> list[Literal]:
        """Return the literal of a player's rest, nothing where no rest is possible."""
        return self.on_block(player, REST)

    def on_court(self, player: int) -> list[Literal]:
        """Return literals of which one is true when a player is on a court."""
        return [
            literal
            for block in range(len(self.shape.blocks))
            for literal in self.on_block(player, block)
        ]

    @property
    def has_teams(self) -> bool:
        """Whether cells tell partners from opponents."""
        return any(cell.is_team for cell in self.cells)


@dataclass
class Variables:
    """The unknowns of all rounds still to be seated, by the rounds' positions.

    `mates` says who is whose partner in the ``pairs`` rounds; it is empty
    where the problem's own teams are kept.
    """

    rounds: dict[int, RoundVariables]
    mates: dict[tuple[int, int], Literal]


def variables_of(  # noqa: PLR0913  one for each question asked of the model
    model: cp_model.CpModel,
    problem: Problem,
    *,
    rounds: Sequence[int],
    teams_in: Iterable[int],
    courts_in: Iterable[int],
    free_teams: bool = False,
    is_roomy: bool = False,
) -> Variables:
    """Make the unknowns.

    Parameters
    ----------
    model
        Where to make them.
    problem
        What is to be seated.
    rounds
        Positions of the rounds to make unknowns for.
    teams_in, courts_in
        Positions of the rounds in which teams and courts are told apart.
    free_teams
        Whether the people of the fixed teams may be paired anew.
    is_roomy
        Whether the bench has room for everybody.
    """
    by_team, by_court = set(teams_in), set(courts_in)
    made = {}
    for number in rounds:
        shape = problem.shapes[number]
        cells = cells_of(shape, by_team=number in by_team, is_roomy=is_roomy)
        made[number] = RoundVariables(number, shape, cells, {})
        _people(model, made[number])
        if number in by_court:
            _courts(model, made[number])
    return Variables(made, _mates(model, problem) if free_teams else {})


def rounds_with_teams(problem: Problem, demands: Iterable[Demand]) -> list[int]:
    """Return the rounds in which some demand asks who partners or opposes whom."""
    asked = {
        number
        for demand in demands
        if demand.kind in TEAM_WISHES
        for number in demand.rounds
        if {demand.player, demand.other} <= set(problem.shapes[number].players)
    }
    return [r for r in problem.free if r in asked and not problem.shapes[r].keeps_teams]


def rounds_with_courts(problem: Problem, demands: Iterable[Demand]) -> list[int]:
    """Return the rounds in which some demand asks for a court."""
    asked = {
        number
        for demand in demands
        if demand.kind is WishKind.ON_COURT
        for number in demand.rounds
        if demand.player in problem.shapes[number].players
    }
    return [r for r in problem.free if r in asked]


def _people(model: cp_model.CpModel, made: RoundVariables) -> None:
    for player, bit in zip(made.shape.players, made.shape.bits, strict=True):
        for place, cell in enumerate(made.cells):
            if any(mask == ANYONE or mask & bit for mask in cell.masks):
                name = f"r{made.number}_p{player}_b{cell.block}_{cell.side}"
                made.inside[player, place] = model.new_bool_var(name)


def _courts(model: cp_model.CpModel, made: RoundVariables) -> None:
    for block in range(len(made.shape.blocks)):
        for court in made.shape.courts:
            name = f"r{made.number}_b{block}_court{court}"
            made.court[block, court] = model.new_bool_var(name)


def _mates(model: cp_model.CpModel, problem: Problem) -> dict[tuple[int, int], Literal]:
    people = sorted(player for team in problem.teams for player in team)
    return {
        pair(one, other): model.new_bool_var(f"mates_{one}_{other}")
        for at, one in enumerate(people)
        for other in people[at + 1 :]
    }
