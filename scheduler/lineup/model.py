"""One fixture as part of a CP-SAT model: which pairs play, under which conditions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.domain.fixture import Condition, ConditionKind, Fixture
from scheduler.lineup.price import hundredths
from scheduler.lineup.problem import Pool, allowed_pairs, in_level_order, may_play_line

Pair = tuple[str, str]


@dataclass(frozen=True)
class FixtureVariables:
    """The unknowns of one fixture: 1 where a pair or a person plays."""

    fixture: Fixture
    pairs: Mapping[Pair, cp_model.LinearExprT]
    plays: Mapping[str, cp_model.LinearExprT]
    switches: tuple[cp_model.IntVar, ...]

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
    if any(c.kind is ConditionKind.GROUP_IN_PAIR and c.lines for c in conditions):
        pairs, switches = _by_line(model, fixture, pool, conditions)
    else:
        pairs, switches = _without_lines(model, fixture, pool, conditions)
    members = pool.members
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
    return FixtureVariables(fixture, pairs, plays, switches)


def _without_lines(
    model: cp_model.CpModel,
    fixture: Fixture,
    pool: Pool,
    conditions: Sequence[Condition],
) -> tuple[dict[Pair, cp_model.LinearExprT], tuple[cp_model.IntVar, ...]]:
    pairs: dict[Pair, cp_model.LinearExprT] = {}
    switches = []
    members = pool.members
    for i, j in allowed_pairs(members, conditions, pool.present):
        if all(may_play_line(members[i], members[j], 1, c) for c in conditions):
            names = (members[i].name, members[j].name)
            switch = model.new_bool_var(f"{fixture.date}: {names[0]} + {names[1]}")
            pairs[names] = switch
            switches.append(switch)
    return pairs, tuple(switches)


def _by_line(
    model: cp_model.CpModel,
    fixture: Fixture,
    pool: Pool,
    conditions: Sequence[Condition],
) -> tuple[dict[Pair, cp_model.LinearExprT], tuple[cp_model.IntVar, ...]]:
    """Add a switch for each pair and line; needed where lines have conditions of their own."""
    lines = range(1, fixture.lines + 1)
    on_line: dict[int, list[tuple[cp_model.IntVar, int]]] = {line: [] for line in lines}
    pairs: dict[Pair, cp_model.LinearExprT] = {}
    members = pool.members
    for i, j in allowed_pairs(members, conditions, pool.present):
        first, second = members[i], members[j]
        switches = []
        for line in lines:
            if all(may_play_line(first, second, line, c) for c in conditions):
                name = f"{fixture.date}: {first.name} + {second.name} on {line}"
                switch = model.new_bool_var(name)
                on_line[line].append((switch, hundredths(first.level) + hundredths(second.level)))
                switches.append(switch)
        if switches:
            pairs[first.name, second.name] = cp_model.LinearExpr.sum(switches)
    for line in lines:
        model.add_exactly_one([switch for switch, _ in on_line[line]])
    if in_level_order(conditions):
        sums = [_weighted(on_line[line]) for line in lines]
        for stronger, weaker in pairwise(sums):
            model.add(stronger >= weaker)
    return pairs, tuple(switch for line in lines for switch, _ in on_line[line])


def _weighted(terms: Iterable[tuple[cp_model.IntVar, int]]) -> cp_model.LinearExpr:
    switches, weights = [], []
    for switch, weight in terms:
        switches.append(switch)
        weights.append(weight)
    return cp_model.LinearExpr.weighted_sum(switches, weights)
