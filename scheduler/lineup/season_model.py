"""A whole season as one CP-SAT model: who plays when, in pairs that keep the conditions.

Work is counted, never timed, and everything is built from sorted sequences,
so that the same season always gives the same answer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import Here
from scheduler.domain.fixture import (
    SEASON_KINDS,
    Condition,
    ConditionKind,
    Fixture,
    TeamSeason,
)
from scheduler.lineup.line_rules import Pair
from scheduler.lineup.model import FixtureVariables, add_fixture, solver_with
from scheduler.lineup.problem import Pool
from scheduler.lineup.season_price import season_price
from scheduler.lineup.work import Work

_CALL = 100_000
"""One person called counts more than any unfairness of up to 300 appearances of one person."""


@dataclass(frozen=True)
class Fairness:
    """How fairly appearances are spread.

    Attributes
    ----------
    calls
        "If needed" people called, all fixtures together.
    squares
        Sum of the squares of everyone's appearances.
    proven
        Whether no plan calls fewer, or as few with a smaller sum of squares.
    """

    calls: int
    squares: int
    proven: bool


@dataclass(frozen=True)
class SeasonPlan:
    """The pairs of every fixture to come, by date, and how good they were proved to be.

    `least_spread` is a spread of appearances below which no plan with as few
    calls can go; `pairs_gap` the units by which a better choice of pairs is
    not ruled out, 0 when it is.
    """

    pairs: Mapping[str, tuple[Pair, ...]]
    fairness: Fairness
    least_spread: int
    pairs_gap: float


class SeasonModel:
    """The unknowns and the conditions of all fixtures to come.

    Parameters
    ----------
    season
        The season; played fixtures are frozen and only count.
    conditions
        The conditions to keep.
    work
        Seed and budgets of the solver.
    with_pairs
        False leaves out pairs and everything said about them: who plays when
        is then limited by availability and the fixtures' numbers alone, and
        whatever is proved holds for every plan.
    """

    def __init__(
        self,
        season: TeamSeason,
        conditions: Sequence[Condition],
        work: Work,
        *,
        with_pairs: bool = True,
    ) -> None:
        self.season = season
        self.work = work
        self.model = cp_model.CpModel()
        self.fixtures = [
            self._fixture(fixture, conditions, with_pairs=with_pairs) for fixture in season.to_come
        ]
        self.total = {m.name: self._appearances(m.name) for m in season.squad}
        for condition in conditions:
            if condition.kind in SEASON_KINDS:
                self._count(condition)

    def _fixture(
        self, fixture: Fixture, conditions: Sequence[Condition], *, with_pairs: bool
    ) -> FixtureVariables:
        free = tuple(m for m in self.season.squad if fixture.answer(m.name) is not Here.NO)
        if with_pairs:
            pool = Pool(free, frozenset(m.name for m in free))
            return add_fixture(self.model, fixture, pool, conditions)
        plays = {m.name: self.model.new_bool_var(f"{fixture.date}: {m.name}") for m in free}
        self.model.add(sum(plays.values()) == 2 * fixture.lines)
        return FixtureVariables(fixture, {}, plays)

    def _appearances(self, name: str) -> cp_model.LinearExprT:
        seats = [f.plays[name] for f in self.fixtures if name in f.plays]
        return cp_model.LinearExpr.sum([*seats, self.season.appearances[name]])

    def _count(self, condition: Condition) -> None:
        """Add a condition that counts fixtures, for one person or for everybody."""
        names = [condition.player] if condition.player else [m.name for m in self.season.squad]
        for name in names:
            before = self.season.member_by_name[name].matches
            played = self.total[name] - before
            limit = int(condition.number)
            if condition.kind is ConditionKind.PLAYS_AT_MOST:
                self.model.add(played <= limit)
            elif condition.kind is ConditionKind.PLAYS_AT_LEAST:
                self.model.add(played >= limit)
            else:
                self.model.add(self._left_out(name) <= limit)

    def _left_out(self, name: str) -> cp_model.LinearExprT:
        past = sum(
            f.answer(name) is Here.YES and not _played_in(self.season, f, name)
            for f in self.season.fixtures
            if f.date in self.season.played_dates
        )
        free = [f for f in self.fixtures if f.fixture.answer(name) is Here.YES]
        seats = cp_model.LinearExpr.sum([f.plays[name] for f in free])
        return len(free) + past - seats

    def calls(self) -> cp_model.LinearExprT:
        """Return how many "if needed" people are called, all fixtures together."""
        return cp_model.LinearExpr.sum(
            [
                expr
                for f in self.fixtures
                for name, expr in f.plays.items()
                if f.fixture.answer(name) is Here.IF_NEEDED
            ]
        )

    def squares(self) -> cp_model.LinearExprT:
        """Return the sum of squared appearances, each built up match by match."""
        terms: list[cp_model.LinearExprT] = []
        for member in self.season.squad:
            base = self.season.appearances[member.name]
            most = sum(member.name in f.plays for f in self.fixtures)
            steps = [self.model.new_bool_var(f"{member.name} {k + 1}") for k in range(most)]
            self.model.add(cp_model.LinearExpr.sum(steps) + base == self.total[member.name])
            terms += [(2 * (base + k) + 1) * step for k, step in enumerate(steps)]
            terms.append(base * base)
        return cp_model.LinearExpr.sum(terms)

    def spread(self) -> cp_model.LinearExprT:
        """Return the difference between most and fewest appearances of those who can play."""
        names = regulars(self.season)
        values = [self.season.appearances[name] for name in names]
        high = max(values, default=0) + len(self.fixtures)
        most = self.model.new_int_var(0, high, "most")
        fewest = self.model.new_int_var(0, high, "fewest")
        for name in names:
            self.model.add(self.total[name] <= most)
            self.model.add(self.total[name] >= fewest)
        return most - fewest

    def solve(self, budget: float) -> tuple[cp_model.CpSolver, bool]:
        """Return the solver with its answer and whether it is proved the best.

        Raises
        ------
        NoPlan
            If there is no answer; `proven` tells whether that was proved.
        """
        solver = solver_with(budget, self.work.seed)
        status = solver.solve(self.model)
        if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
            known = status == cp_model.INFEASIBLE
            raise NoPlan(["the season's fixtures cannot all be filled"], proven=known)
        return solver, status == cp_model.OPTIMAL

    def hint(self, solver: cp_model.CpSolver) -> None:
        """Start the next search from the answer of the last one."""
        for index in range(len(self.model.proto.variables)):
            variable = self.model.get_int_var_from_proto_index(index)
            if index < len(solver.response_proto.solution):
                self.model.add_hint(variable, solver.value(variable))


def plan_season(season: TeamSeason, work: Work) -> SeasonPlan:
    """Return pairs for every fixture to come: appearances first, then the captain's prices.

    Raises
    ------
    NoPlan
        If no plan keeps the conditions.
    """
    model = SeasonModel(season, season.conditions, work)
    fairness, solver = _fairest(model)
    pairs, gap = _best_pairs(model, solver)
    return SeasonPlan(pairs, fairness, _least_spread(season, fairness.calls, work), gap)


def season_possible(season: TeamSeason, conditions: Iterable[Condition], work: Work) -> bool:
    """Return whether all fixtures can be filled under some of the conditions.

    Raises
    ------
    NoPlan
        If the counted work ended without an answer.
    """
    try:
        SeasonModel(season, tuple(conditions), work).solve(work.fair)
    except NoPlan as error:
        if not error.proven:
            raise
        return False
    return True


def regulars(season: TeamSeason) -> list[str]:
    """Return who said yes to a fixture to come; the spread of appearances is about them."""
    return [
        m.name for m in season.squad if any(f.answer(m.name) is Here.YES for f in season.to_come)
    ]


def _fairest(model: SeasonModel) -> tuple[Fairness, cp_model.CpSolver]:
    calls, squares = model.calls(), model.squares()
    model.model.minimize(cp_model.LinearExpr.weighted_sum([calls, squares], [_CALL, 1]))
    solver, proven = model.solve(model.work.fair)
    fairness = Fairness(int(solver.value(calls)), int(solver.value(squares)), proven)
    model.model.add(calls <= fairness.calls)
    model.model.add(squares <= fairness.squares)
    return fairness, solver


def _best_pairs(
    model: SeasonModel, solver: cp_model.CpSolver
) -> tuple[dict[str, tuple[Pair, ...]], float]:
    model.model.minimize(season_price(model.model, model.season, model.fixtures))
    model.hint(solver)
    priced, proven = model.solve(model.work.pairs)
    gap = 0.0 if proven else priced.objective_value - priced.best_objective_bound
    return {f.fixture.date: f.chosen(priced) for f in model.fixtures}, gap


def _least_spread(season: TeamSeason, calls: int, work: Work) -> int:
    """Return a spread that no plan which calls at most so many people goes below."""
    model = SeasonModel(season, season.conditions, work, with_pairs=False)
    model.model.add(model.calls() <= calls)
    model.model.minimize(model.spread())
    solver, _ = model.solve(work.fair)
    return max(0, math.ceil(solver.best_objective_bound - 1e-6))


def _played_in(season: TeamSeason, fixture: Fixture, name: str) -> bool:
    return any(p.date == fixture.date and name in p.players for p in season.played)
