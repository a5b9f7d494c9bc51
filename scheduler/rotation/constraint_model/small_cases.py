"""Small cases settled: that no solution has so few repeats, or one that does."""

from __future__ import annotations

from itertools import pairwise

from scheduler.rotation.constraint_model.model import Asked, RotaModel, limits_of, musts_of
from scheduler.rotation.constraint_model.parameters import Budget, Status, run
from scheduler.rotation.constraint_model.relations import Pair, Relations, relations_of
from scheduler.rotation.constraint_model.seats import solution_of
from scheduler.rotation.constraint_model.sums import Sum
from scheduler.rotation.constraint_model.variables import Literal
from scheduler.rotation.kernel.wishes import OPPONENT, PARTNER
from scheduler.rotation.problem import ANYONE, BlockKind, Problem, Solution

MEASURES = ("partner_repeats", "opponent_repeats", "meeting_repeats")


class Proof:
    """The question whether a solution has at most so many repeats.

    Musts and the fair share of rests are kept, and unless partners are the
    measure nobody partners twice. Of plain evenings (everybody alike, every
    round the same) only one of many renamed copies is looked at.

    Parameters
    ----------
    problem
        What is to be seated; no round of it is played, and none is a drill
        or of kind ``pairs``.
    measure
        One of `MEASURES`.
    at_most
        The value asked about.

    Raises
    ------
    ValueError
        If the measure or the problem is of another kind.
    """

    def __init__(self, problem: Problem, measure: str, at_most: int) -> None:
        if measure not in MEASURES:
            raise ValueError(f"measure must be one of {', '.join(MEASURES)}, got {measure!r}")
        if problem.played or any(s.is_drill or s.keeps_teams for s in problem.shapes):
            raise ValueError("only rounds of matches with free partners, none played, are settled")
        self._problem = problem
        asked = Asked(musts_of(problem), limits_of(problem))
        self._rota = RotaModel(problem, asked, teams_everywhere=True)
        self._model = self._rota.model
        self._met = [self._relations(number) for number in problem.free]
        self._limit(measure, at_most)
        if is_plain(problem):
            self._name_by_the_first_round()
            self._order_rounds(one_partner=measure != "partner_repeats")

    def settle(self, seed: int, units: float) -> tuple[Status, Solution | None]:
        """Return how the question was answered, with the solution if there is one."""
        status, solver = run(self._model, seed, Budget(units))
        if status not in {Status.FOUND, Status.BEST}:
            return status, None
        return status, solution_of(self._problem, self._rota.variables, solver.boolean_value)

    def _relations(self, number: int) -> Relations:
        made = self._rota.variables.rounds[number]
        return relations_of(self._model, made, {PARTNER: [], OPPONENT: []})

    def _limit(self, measure: str, at_most: int) -> None:
        """Say how many repeats there may be.

        The price of a pair's count is held up by the tangents of k(k-1)/2, and
        the counts of a player add up to what the matches make them; so the
        linear relaxation knows the counting bound, per player and in total.
        """
        total = Sum(self._model)
        for both in sorted({both for met in self._met for both in met}):
            partners, opponents = self._counted(both, PARTNER), self._counted(both, OPPONENT)
            if measure != "partner_repeats" and both not in self._problem.uncounted_partners:
                self._model.add_at_most_one(partners)
            counted = {
                "partner_repeats": partners,
                "opponent_repeats": opponents,
                "meeting_repeats": partners + opponents,
            }[measure]
            total.convex(lambda k: k * (k - 1) // 2, 0, counted)
        total.at_most(at_most)

    def _counted(self, both: Pair, relation: int) -> list[Literal]:
        if relation == PARTNER and both in self._problem.uncounted_partners:
            return []
        return [met[both][relation] for met in self._met if relation in met.get(both, {})]

    def _name_by_the_first_round(self) -> None:
        """Name people by their seats of the first round, which can be done to any solution."""
        first = self._rota.variables.rounds[0]
        for (player, place), literal in first.inside.items():
            cell = first.cells[place]
            seat = cell.block * 4 + cell.side * 2
            at_rest = player >= 4 * len(first.shape.blocks)
            here = player in {seat, seat + 1} if cell.is_team else at_rest
            self._model.add(literal == here)
        self._order_partners(len(first.shape.blocks))

    def _order_partners(self, courts: int) -> None:
        """Let the partners of player 0 come from the front of what the first round leaves alike.

        Renaming that leaves the first round and player 0 as they are: the two
        of a team, the teams of a match, the matches, those who rested. Of all
        such names take those for which the row "was p a partner of 0" is
        lexicographically greatest.
        """
        people = self._problem.players
        had = [self._model.new_constant(0), *(self._partnered(p) for p in range(1, people))]
        self._model.add_implication(had[3], had[2])
        for first in range(4, 4 * courts, 4):
            for front, back in ((0, 1), (2, 3), (0, 2)):
                self._model.add_implication(had[first + back], had[first + front])
        rows = [
            sum(weight * had[first + seat] for seat, weight in enumerate((8, 4, 2, 1)))
            for first in range(4, 4 * courts, 4)
        ]
        for ahead, behind in pairwise(rows):
            self._model.add(ahead >= behind)
        for player in range(4 * courts + 1, people):
            self._model.add_implication(had[player], had[player - 1])

    def _partnered(self, player: int) -> Literal:
        """Return a literal for "the player partners 0 in some round"."""
        literals = self._counted((0, player), PARTNER)
        ever = self._model.new_bool_var(f"partnered_{player}")
        self._model.add_max_equality(ever, literals)
        return ever

    def _order_rounds(self, *, one_partner: bool) -> None:
        """Order the rounds after the first by whom player 0 partners in them, rests last."""
        people = self._problem.players
        if not one_partner:
            return
        partner = [
            people + sum((p - people) * met[0, p][PARTNER] for p in range(1, people))
            for met in self._met[1:]
        ]
        for before, after in pairwise(partner):
            self._model.add(before <= after)


def is_plain(problem: Problem) -> bool:
    """Return whether everybody is alike and every round is the same round of doubles."""
    first = problem.shapes[0]
    return (
        not problem.demands
        and all(shape == first for shape in problem.shapes)
        and len(first.players) == problem.players
        and all(block.kind is BlockKind.MATCH for block in first.blocks)
        and all(mask == ANYONE for block in first.blocks for mask in block.masks)
        and len(set(first.bits)) == 1
    )
