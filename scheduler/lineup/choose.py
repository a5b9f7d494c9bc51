"""Who plays one fixture: the pool, as few people called as possible, the best line-ups."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import Here
from scheduler.domain.fixture import SEASON_KINDS, Condition, ConditionKind, SquadMember
from scheduler.lineup.bounds import INFINITE
from scheduler.lineup.conflict import smallest_conflict
from scheduler.lineup.price import Situation
from scheduler.lineup.problem import (
    Announced,
    Pool,
    Problem,
    build_problem,
    only_pairs,
    split_by_answer,
)
from scheduler.lineup.search import best_lineups

_FEASIBILITY_BUDGET = 20.0
_RESCUE_BUDGET = 1.0


@dataclass(frozen=True)
class Choice:
    """Line-ups of one fixture, best first, each as the pairs of its lines by name.

    `costs` are their prices in units; `proven` is True when none is better.
    """

    problem: Problem
    lineups: tuple[tuple[tuple[str, str], ...], ...]
    costs: tuple[int, ...]
    proven: bool


def choose(
    situation: Situation,
    keep: int = 1,
    *,
    only: Iterable[str] | None = None,
    announced: Announced | None = None,
    below: int = INFINITE,
) -> Choice:
    """Return the best line-ups of a fixture, with as few people called as possible.

    Parameters
    ----------
    situation
        The fixture, its price list and what has been played.
    keep
        How many line-ups that really differ are wanted.
    only
        The people to choose from; everybody who is free if not given.
    announced
        What was announced, if it should change as little as it can.
    below
        A price in units that no line-up wanted reaches.

    Raises
    ------
    NoPlan
        With a smallest set of conditions that rule out every line-up.
    """
    conditions = situation.season.conditions
    for pool in _pools(situation, conditions, only):
        problem = build_problem(situation, pool, conditions, announced)
        found = best_lineups(problem, keep, below=below)
        if found.lineups:
            lineups = tuple(_named(problem, chosen) for _, chosen in found.lineups)
            return Choice(problem, lineups, tuple(c for c, _ in found.lineups), found.proven)
        if not found.proven:
            rescued = _rescue(situation, pool, conditions, problem)
            if rescued is not None:
                return rescued
    raise NoPlan(explain(situation, only))


def order_lines(
    situation: Situation, pairs: Sequence[tuple[str, str]]
) -> tuple[tuple[str, str], ...]:
    """Return given pairs in the best order of lines that the conditions allow."""
    names = {name for pair in pairs for name in pair}
    members = tuple(m for m in situation.season.squad if m.name in names)
    pool = Pool(members, frozenset(names))
    problem = build_problem(situation, pool, situation.season.conditions)
    kept = only_pairs(problem, [frozenset(pair) for pair in pairs])
    ((_, lines),) = best_lineups(kept).lineups
    return _named(kept, lines)


def _named(problem: Problem, chosen: Sequence[int]) -> tuple[tuple[str, str], ...]:
    named = [problem.pairs[pair] for pair in chosen]
    return tuple((problem.names[i], problem.names[j]) for i, j in named)


def _pools(
    situation: Situation, conditions: Sequence[Condition], only: Iterable[str] | None
) -> Iterator[Pool]:
    """Yield who to choose from, first with as few people called as can be, then with more."""
    members, forced = eligible(situation, conditions, only)
    sure, spare = split_by_answer(situation, members)
    seats = 2 * situation.fixture.lines
    certain = frozenset(member.name for member in sure)
    present = frozenset(member.name for member in members)
    if not forced <= present:
        return
    fewest = max(seats - len(sure), len(forced - certain), 0)
    for called in range(fewest, min(len(spare), seats) + 1):
        if called == 0:
            yield Pool(sure, present, forced)
        elif called == seats - len(sure):
            yield Pool((*sure, *spare), present, forced | certain)
        else:
            yield Pool((*sure, *spare), present, forced, certain, seats - called)


def eligible(
    situation: Situation, conditions: Iterable[Condition], only: Iterable[str] | None = None
) -> tuple[tuple[SquadMember, ...], frozenset[str]]:
    """Return who may play under the conditions that count fixtures, and who must.

    Where conditions are at odds somebody may have to play who may not.
    """
    named = None if only is None else set(only)
    members, forced = [], set()
    counting = [c for c in conditions if c.kind in SEASON_KINDS]
    for member in situation.season.squad:
        answer = situation.fixture.answer(member.name)
        mine = [c for c in counting if c.player in {"", member.name}]
        if answer is Here.NO or (named is not None and member.name not in named):
            continue
        if any(_forces(situation, c, member.name, answer) for c in mine):
            forced.add(member.name)
        if not any(_bars(situation, c, member.name) for c in mine):
            members.append(member)
    return tuple(members), frozenset(forced)


def _bars(situation: Situation, condition: Condition, name: str) -> bool:
    return (
        condition.kind is ConditionKind.PLAYS_AT_MOST
        and situation.calendar[name] >= condition.number
    )


def _forces(situation: Situation, condition: Condition, name: str, answer: Here) -> bool:
    if condition.kind is ConditionKind.LEFT_OUT_AT_MOST:
        return answer is Here.YES and situation.left_out[name] >= condition.number
    if condition.kind is ConditionKind.PLAYS_AT_LEAST:
        can_reach = situation.calendar[name] + situation.still_free[name]
        return can_reach < condition.number <= can_reach + 1
    return False


def explain(situation: Situation, only: Iterable[str] | None = None) -> tuple[str, ...]:
    """Return why a fixture has no line-up, in sentences, a smallest set of conditions."""
    fixture, season = situation.fixture, situation.season
    named = None if only is None else tuple(only)
    free = sum(
        fixture.answer(m.name) is not Here.NO and (named is None or m.name in named)
        for m in season.squad
    )
    pairs = f"{fixture.lines} pair{'s' if fixture.lines > 1 else ''}"
    place = f"{fixture.where}: " if fixture.where else ""
    if free < 2 * fixture.lines:
        return (f"{place}only {free} available players for {pairs} on {fixture.date}",)
    conflict = smallest_conflict(season.conditions, lambda kept: _possible(situation, kept, named))
    said = f"{place}{pairs} are to play on {fixture.date}, and {free} players are available"
    return (said, *(condition.sentence for condition in conflict))


def _possible(
    situation: Situation, conditions: Sequence[Condition], only: Sequence[str] | None
) -> bool:
    members, forced = eligible(situation, conditions, only)
    present = frozenset(member.name for member in members)
    pool = Pool(members, present, forced)
    return forced <= present and _solve(situation, pool, conditions) is not None


def _rescue(
    situation: Situation, pool: Pool, conditions: Sequence[Condition], problem: Problem
) -> Choice | None:
    """Return a line-up from the constraint solver where the search found none in its budget."""
    chosen = _solve(situation, pool, conditions, problem)
    if chosen is None:
        return None
    kept = only_pairs(problem, [frozenset(pair) for pair in chosen])
    ((cost, lines),) = best_lineups(kept).lineups
    return Choice(problem, (_named(kept, lines),), (cost,), proven=False)


def _solve(
    situation: Situation,
    pool: Pool,
    conditions: Sequence[Condition],
    priced: Problem | None = None,
) -> tuple[tuple[str, str], ...] | None:
    """Return pairs that keep the conditions, cheap ones if priced, or None if there are none."""
    from ortools.sat.python import cp_model  # noqa: PLC0415  slow to load and seldom needed

    from scheduler.lineup.model import add_fixture, solver_with  # noqa: PLC0415

    if len(pool.members) < 2 * situation.fixture.lines:
        return None
    model = cp_model.CpModel()
    variables = add_fixture(model, situation.fixture, pool, conditions)
    for name in sorted(pool.forced):
        model.add(variables.plays[name] == 1)
    if pool.sure:
        sure = [variables.plays[name] for name in sorted(pool.certain)]
        model.add(cp_model.LinearExpr.sum(sure) >= pool.sure)
    if priced is not None:
        prices = priced.rough_prices()
        model.minimize(sum(prices[frozenset(p)] * x for p, x in variables.pairs.items()))
    solver = solver_with(_FEASIBILITY_BUDGET if priced is None else _RESCUE_BUDGET)
    status = solver.solve(model)
    if status in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return variables.chosen(solver)
    if status == cp_model.INFEASIBLE:
        return None
    raise NoPlan([f"no line-up for {situation.fixture.date} was found"], proven=False)
