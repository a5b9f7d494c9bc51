"""The best line-ups of one fixture, exactly: branch and bound over lines.

Lines are filled one after another, cheapest first, with the lower bound of
`scheduler.lineup.bounds`; evenness, which ties all pairs together, is bounded
from the highest pair sum downwards. Several best line-ups are kept, never two
that differ by a mere swap of equal players.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from scheduler.lineup.bounds import BEYOND, INFINITE, STEPS, Relaxation, relax
from scheduler.lineup.problem import Problem

NODES = 200_000
"""Branchings after which a search stops and calls its answer the best found."""

_STEPS_A_TOP = 40

Signature = tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class Found:
    """Line-ups found, best first.

    Attributes
    ----------
    lineups
        Price in units and the pair of each line, best first.
    proven
        True when no better line-ups exist (none at all, if empty).
    nodes
        Branchings counted.
    """

    lineups: tuple[tuple[int, tuple[int, ...]], ...]
    proven: bool
    nodes: int


def best_lineups(
    problem: Problem, keep: int = 1, nodes: int = NODES, *, below: int = INFINITE
) -> Found:
    """Return the best line-ups of a fixture that really differ from one another.

    Parameters
    ----------
    problem
        The fixture.
    keep
        How many line-ups are wanted.
    nodes
        The counted budget; within it the answer is proven.
    below
        Only line-ups cheaper than this are wanted.
    """
    search = _Search(problem, keep, nodes, below)
    for task in _tasks(problem):
        search.run(task)
    ranked = sorted(search.best.values())
    return Found(tuple(ranked), search.nodes < nodes, search.nodes)


@dataclass(frozen=True)
class _Task:
    """One part of the search: additive costs and, for evenness, the highest pair sum."""

    costs: tuple[tuple[int | None, ...], ...]
    constant: int = 0
    top: int | None = None


def _tasks(problem: Problem) -> Iterator[_Task]:
    if not problem.even_weight:
        yield _Task(problem.costs)
    elif len(problem.names) == 2 * problem.lines:
        yield _everyone_plays(problem)
    else:
        for top in _tops(problem):
            yield _below(problem, top)


def _everyone_plays(problem: Problem) -> _Task:
    """Return the task when nobody can be left out: unevenness is a plain sum then."""
    total = sum(problem.levels)
    weight = problem.even_weight
    square = [weight * problem.lines * value * value for value in problem.sums]
    costs = tuple(_plus(row, square) for row in problem.costs)
    return _Task(costs, constant=-weight * total * total)


def _tops(problem: Problem) -> list[int]:
    """Return the pair sums that can be highest, those with most company first."""
    crowd = Counter(problem.sums)
    return sorted(crowd, key=lambda value: (-crowd[value], value))


def _below(problem: Problem, top: int) -> _Task:
    """Return the task of all line-ups whose highest pair sum is `top`.

    Each other pair then adds at least the square of what it lacks to the top.
    """
    square = [problem.even_weight * (top - value) ** 2 for value in problem.sums]
    costs = tuple(
        tuple(
            cost if value <= top else None
            for cost, value in zip(_plus(row, square), problem.sums, strict=True)
        )
        for row in problem.costs
    )
    return _Task(costs, top=top)


def _plus(row: Sequence[int | None], extra: Sequence[int]) -> tuple[int | None, ...]:
    return tuple(
        None if cost is None else cost + more for cost, more in zip(row, extra, strict=True)
    )


class _Search:
    """The state of one search: the line-ups kept, the price to beat, the count."""

    def __init__(self, problem: Problem, keep: int, budget: int, below: int) -> None:
        self.problem = problem
        self.keep = keep
        self.budget = budget
        self.nodes = 0
        self.limit = below
        self.prices: tuple[int, ...] = ()
        self.best: dict[Signature, tuple[int, tuple[int, ...]]] = {}
        self.masks = [(1 << i) | (1 << j) for i, j in problem.pairs]
        self.before = [_twins_before(problem, pair) for pair in problem.pairs]
        self.forced = sum(1 << person for person in problem.forced)

    def run(self, task: _Task) -> None:
        """Search one task for line-ups cheaper than the dearest one kept."""
        relaxation = relax(
            self.problem,
            task.costs,
            self.limit - task.constant,
            steps=STEPS if task.top is None else _STEPS_A_TOP,
            start=self.prices,
        )
        if not relaxation.impossible and task.constant + relaxation.bound < self.limit:
            self.prices = relaxation.prices
            _Descent(self, task, relaxation).go()

    def offer(self, chosen: tuple[int, ...]) -> None:
        """Keep a finished line-up if it is among the best that differ."""
        cost = self.problem.cost(chosen)
        signature = _signature(self.problem, chosen)
        known = self.best.get(signature)
        if cost >= self.limit or (known is not None and known[0] <= cost):
            return
        self.best[signature] = (cost, chosen)
        if len(self.best) > self.keep:
            del self.best[max(self.best, key=lambda key: self.best[key])]
        if len(self.best) == self.keep:
            self.limit = max(cost for cost, _ in self.best.values())


class _Descent:
    """The descent through the lines of one task."""

    def __init__(self, search: _Search, task: _Task, relaxation: Relaxation) -> None:
        self.search = search
        self.problem = search.problem
        self.top = task.top
        self.constant = task.constant + relaxation.constant
        self.reduced = relaxation.reduced
        self.order = [self._ranked(relaxation, line) for line in range(self.problem.lines)]

    def go(self) -> None:
        """Try every line-up that the bound does not rule out."""
        self._fill(0, self.constant, 0, 0, ())

    def _ranked(self, relaxation: Relaxation, line: int) -> list[tuple[int, int]]:
        """Return the least a line and those after it cost with each pair, cheapest first."""
        later = relaxation.ahead[line + 1]
        row = relaxation.reduced[line]
        only = self.top if line == 0 and self.problem.ordered else None
        ranked = [
            (row[pair] + later[self.problem.follows[pair]], pair)
            for pair, value in enumerate(self.problem.sums)
            if row[pair] < BEYOND and only in (None, value)
        ]
        return sorted(entry for entry in ranked if entry[0] < BEYOND)

    def _fill(self, line: int, base: int, used: int, start: int, chosen: tuple[int, ...]) -> None:
        search = self.search
        floor = base + self._surplus(chosen)
        if not self._within_reach(used, chosen):
            return
        for least, pair in self.order[line]:
            if floor + least >= search.limit or search.nodes >= search.budget:
                return
            if pair < start or search.masks[pair] & used or search.before[pair] & ~used:
                continue
            search.nodes += 1
            self._take(line, pair, base, used, chosen)

    def _take(self, line: int, pair: int, base: int, used: int, chosen: tuple[int, ...]) -> None:
        taken = (*chosen, pair)
        used |= self.search.masks[pair]
        if line + 1 < self.problem.lines:
            start = self.problem.follows[pair]
            self._fill(line + 1, base + self.reduced[line][pair], used, start, taken)
        elif self._within_reach(used, taken) and self._has_top(taken):
            self.search.offer(taken)

    def _within_reach(self, used: int, chosen: tuple[int, ...]) -> bool:
        """Return whether the lines left can still seat everyone who must play."""
        seats = 2 * (self.problem.lines - len(chosen))
        if (self.search.forced & ~used).bit_count() > seats:
            return False
        return all(
            need.count - sum(need.by_pair[pair] for pair in chosen) <= seats
            for need in self.problem.needs
        )

    def _has_top(self, chosen: tuple[int, ...]) -> bool:
        return self.top is None or max(self.problem.sums[pair] for pair in chosen) == self.top

    def _surplus(self, chosen: tuple[int, ...]) -> int:
        """Return the unevenness, in units, that the additive costs leave out so far.

        The additive costs hold each pair's square to the top. In level order
        every pair to come lies at or below the last, so it also adds at least
        the squares between the last pair and those before, but the top.
        """
        if self.top is None or not chosen:
            return 0
        sums = [self.problem.sums[pair] for pair in chosen]
        counted = sum((self.top - value) ** 2 for value in sums) if self.top in sums else 0
        ahead = 0
        if self.problem.ordered:
            left = self.problem.lines - len(chosen)
            ahead = left * sum((value - sums[-1]) ** 2 for value in sums[1:])
        return self.problem.even_weight * (self.problem.unevenness(chosen) - counted + ahead)


def _twins_before(problem: Problem, pair: tuple[int, int]) -> int:
    """Return as bits the twins who must be seated before a pair may be."""
    bits = 0
    for person in pair:
        twin = problem.twin_before[person]
        if twin >= 0 and twin not in pair:
            bits |= 1 << twin
    return bits


def _signature(problem: Problem, chosen: tuple[int, ...]) -> Signature:
    """Return what tells a line-up from another but for swaps of equal players."""
    kinds = [
        tuple(sorted((problem.kinds[i], problem.kinds[j])))
        for i, j in (problem.pairs[pair] for pair in chosen)
    ]
    return tuple(sorted(kinds)) if problem.ordered else tuple(kinds)
