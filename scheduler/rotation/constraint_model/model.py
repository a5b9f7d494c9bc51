"""The whole model: unknowns, rules, and who is answerable for which rule."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.cuts import add_cuts
from scheduler.rotation.constraint_model.parameters import Budget, Status, run
from scheduler.rotation.constraint_model.rests import RestRange, rest_ranges
from scheduler.rotation.constraint_model.seating_rules import SeatingRules
from scheduler.rotation.constraint_model.seats import solution_of
from scheduler.rotation.constraint_model.settled import Settled
from scheduler.rotation.constraint_model.variables import (
    Literal,
    Variables,
    rounds_with_courts,
    rounds_with_teams,
    variables_of,
)
from scheduler.rotation.constraint_model.wish_rules import WishRules
from scheduler.rotation.problem import Demand, Problem, Solution


@dataclass(frozen=True, slots=True)
class Limit:
    """One side of somebody's fair share: rests at least, or at most, so often."""

    player: int
    rests: int
    is_most: bool


@dataclass(frozen=True, slots=True)
class Asked:
    """What a model is to keep beside the seats.

    Parameters
    ----------
    demands
        The wishes.
    limits
        The sides of fair shares.
    """

    demands: tuple[Demand, ...]
    limits: tuple[Limit, ...]


def musts_of(problem: Problem) -> tuple[Demand, ...]:
    """Return the wishes every plan has to keep."""
    return tuple(demand for demand in problem.demands if demand.must)


def limits_of(problem: Problem, ranges: Sequence[RestRange] | None = None) -> tuple[Limit, ...]:
    """Return both sides of everybody's fair share, where they bind at all."""
    chances = [0] * problem.players
    for shape in problem.shapes:
        for player in shape.players if shape.rest else ():
            chances[player] += 1
    limits = []
    for player, allowed in enumerate(ranges or rest_ranges(problem)):
        if chances[player] > allowed.most:
            limits.append(Limit(player, allowed.most, is_most=True))
        if allowed.fewest > 0:
            limits.append(Limit(player, allowed.fewest, is_most=False))
    return tuple(limits)


class RotaModel:
    """A model of a problem that keeps what is asked.

    Parameters
    ----------
    problem
        What is to be seated.
    asked
        The wishes and shares to keep.
    softly
        Wishes of which as many as possible are kept.
    is_assumed
        Whether each thing asked hangs on a literal of its own, so that the
        solver can name those that clash.
    free_teams
        Whether the people of the ``pairs`` rounds may be paired anew.
    is_roomy
        Whether courts may stay partly empty and anybody may rest.
    rounds
        Positions of the rounds to seat; all free ones if not given.
    teams_everywhere
        Whether teams are told apart even where no wish asks for it.
    """

    def __init__(  # noqa: PLR0913  each names a question that is asked
        self,
        problem: Problem,
        asked: Asked,
        *,
        softly: Sequence[Demand] = (),
        is_assumed: bool = False,
        free_teams: bool = False,
        is_roomy: bool = False,
        rounds: Iterable[int] | None = None,
        teams_everywhere: bool = False,
    ) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        demands = (*asked.demands, *softly)
        self.variables: Variables = variables_of(
            self.model,
            problem,
            rounds=list(problem.free if rounds is None else rounds),
            teams_in=problem.free if teams_everywhere else rounds_with_teams(problem, demands),
            courts_in=rounds_with_courts(problem, demands),
            free_teams=free_teams,
            is_roomy=is_roomy,
        )
        settled = Settled(problem)
        self.rules = SeatingRules(self.model, problem, self.variables, settled)
        self.wishes = WishRules(self.model, problem, self.variables, settled)
        self.rules.add_seating(is_roomy=is_roomy)
        self._answerable: list[tuple[Literal, Demand | Limit]] = []
        self._add(asked, softly, is_assumed=is_assumed)

    def _add(self, asked: Asked, softly: Sequence[Demand], *, is_assumed: bool) -> None:
        hung: list[tuple[Demand, Literal | None]] = [
            (demand, self._literal(demand) if is_assumed else None) for demand in asked.demands
        ]
        hung += [(demand, self._literal(demand)) for demand in softly]
        for demand, on in hung:
            self.wishes.add(demand, on)
        add_cuts(self.model, self.variables, hung)
        self.wishes.meetings.few_a_round()
        for limit in asked.limits:
            add = self.rules.at_most_rests if limit.is_most else self.rules.at_least_rests
            add(limit.player, limit.rests, self._literal(limit) if is_assumed else None)

    def _literal(self, what: Demand | Limit) -> Literal:
        literal = self.model.new_bool_var(f"asked{len(self._answerable)}")
        self._answerable.append((literal, what))
        return literal

    def solve(self, seed: int, budget: Budget) -> tuple[Status, Solution | None]:
        """Look for any seating; return how it went and the seating if there is one."""
        status, solver = run(self.model, seed, budget)
        if status not in {Status.FOUND, Status.BEST}:
            return status, None
        return status, solution_of(self.problem, self.variables, solver.boolean_value)

    def is_impossible(self, seed: int, budget: Budget) -> bool:
        """Return whether it was proved that there is no seating."""
        status, _ = run(self.model, seed, budget)
        return status is Status.IMPOSSIBLE

    def clash(self, seed: int, budget: Budget) -> tuple[Status, Asked]:
        """Look for a seating; where there is none return what cannot be kept together."""
        self.model.add_assumptions([literal for literal, _ in self._answerable])
        status, solver = run(self.model, seed, budget)
        blamed: list[Demand | Limit] = []
        if status is Status.IMPOSSIBLE:
            core = set(solver.sufficient_assumptions_for_infeasibility())
            blamed = [what for lit, what in self._answerable if lit.index in core]
        return status, Asked(
            tuple(what for what in blamed if isinstance(what, Demand)),
            tuple(what for what in blamed if isinstance(what, Limit)),
        )

    def least_missed(self, seed: int, budget: Budget) -> tuple[Status, tuple[int, ...]]:
        """Return how it went and which of the soft wishes, by their places, are missed."""
        self.model.maximize(sum(literal for literal, _ in self._answerable))
        status, solver = run(self.model, seed, budget)
        if status not in {Status.FOUND, Status.BEST}:
            return status, ()
        kept = [solver.boolean_value(literal) for literal, _ in self._answerable]
        return status, tuple(place for place, is_kept in enumerate(kept) if not is_kept)
