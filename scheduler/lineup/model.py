"""One fixture as part of a CP-SAT model: which pairs play, under which conditions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.fixture import Condition, ConditionKind, Fixture
from scheduler.lineup.line_rules import Candidate, Pair, pair_switches
from scheduler.lineup.pair_rules import allowed_pairs, in_level_order, may_play_line
from scheduler.lineup.price import hundredths
from scheduler.lineup.problem import Pool


@dataclass(frozen=True)
class FixtureVariables:
    """The unknowns of one fixture: 1 where a pair or a person plays."""

    fixture: Fixture
    pairs: Mapping[Pair, cp_model.LinearExprT]
    plays: Mapping[str, cp_model.LinearExprT]

    def chosen(self, solver: cp_model.CpSolver) -> tuple[Pair, ...]:
        """Return the pairs that play in the solver's answer."""
        return tuple(pair for pair, expr in self.pairs.items() if solver.value(expr))


def solver_with(deterministic_time: float, seed: int = 1) -> cp_model.CpSolver:
    """Return a solver whose work is counted, so that its answer repeats.

    Parameters
    ----------
    deterministic_time
        The budget in the solver's own units, each about a second.
    seed
        Where the solver may choose, it chooses by this number.
    """
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = deterministic_time
    solver.parameters.keep_symmetry_in_presolve = True
    return solver


def add_fixture(
    model: cp_model.CpModel,
    fixture: Fixture,
    pool: Pool,
    conditions: Sequence[Condition],
) -> FixtureVariables:
    """Add a fixture's pairs and its conditions to a model.

    Conditions that count fixtures are left to the caller.
    """
    members = pool.members
    pairs = pair_switches(
        model,
        fixture.date,
        _candidates(fixture, pool, conditions),
        fixture.lines,
        ordered=in_level_order(conditions),
    )
    model.add(cp_model.LinearExpr.sum(list(pairs.values())) == fixture.lines)
    plays = {}
    for member in members:
        seats = [expr for pair, expr in pairs.items() if member.name in pair]
        plays[member.name] = cp_model.LinearExpr.sum(seats)
        model.add(plays[member.name] <= 1)
    for condition in conditions:
        if condition.kind is ConditionKind.GROUP_IN_TEAM:
            group = [plays[m.name] for m in members if m.player.group == condition.group]
            model.add(cp_model.LinearExpr.sum(group) >= int(condition.number))
    return FixtureVariables(fixture, pairs, plays)


def _candidates(fixture: Fixture, pool: Pool, conditions: Sequence[Condition]) -> list[Candidate]:
    members = pool.members
    candidates = []
    for i, j in allowed_pairs(members, conditions, pool.present):
        first, second = members[i], members[j]
        lines = tuple(
            line
            for line in range(1, fixture.lines + 1)
            if all(may_play_line(first, second, line, c) for c in conditions)
        )
        if lines:
            total = hundredths(first.level) + hundredths(second.level)
            candidates.append(Candidate((first.name, second.name), total, lines))
    return candidates
