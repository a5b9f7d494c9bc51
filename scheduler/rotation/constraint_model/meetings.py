"""The price of who meets whom, exact for any counts, in a few rounds to be seated."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations, product

import numpy as np

from scheduler.rotation.constraint_model.relations import Pair, Relations
from scheduler.rotation.constraint_model.sums import Sum
from scheduler.rotation.kernel.wishes import (
    OPPONENT,
    PARTNER,
    TOGETHER,
    Counts,
    PairClass,
    linear_terms,
    pair_classes,
)
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import BlockKind, Problem, Seating, pair

Step = tuple[int, int, int]
Linear = dict[tuple[int, Pair], int]
"""Price by relation and pair."""


def linear_prices(problem: Problem, prices: Prices, number: int) -> Linear:
    """Return what each relation of each pair costs in a round by wishes and earlier evenings."""
    found: Linear = {}
    for term in linear_terms(problem, prices, number):
        key = (term.relation, pair(term.one, term.other))
        found[key] = found.get(key, 0) + term.price
    return {key: price for key, price in found.items() if price}


def step_of(problem: Problem, number: int, relation: int) -> Step:
    """Return what a relation in a round adds to a pair's partnerships, oppositions, groups."""
    shape = problem.shapes[number]
    if relation == PARTNER and not shape.keeps_teams:
        return (1, 0, 0)
    if relation == OPPONENT:
        return (0, 1, 0)
    return (0, 0, 1) if relation == TOGETHER and shape.is_drill else (0, 0, 0)


class MeetingPrices:
    """Adds the prices of meetings to a sum.

    A pair's price is a table over its counts. In each round at most one
    relation holds, so the table is a polynomial in the literals of the
    rounds to be seated, of no higher degree than there are rounds; its
    coefficients are differences of the table.

    Parameters
    ----------
    problem, prices
        What is to be seated, and what everything costs.
    settled
        The seatings of all other rounds.
    """

    def __init__(self, problem: Problem, prices: Prices, settled: Mapping[int, Seating]) -> None:
        self._problem = problem
        self._classes = pair_classes(problem, prices)
        self._prices = prices
        self._tables: dict[PairClass, Counts] = {}
        self._before: dict[Pair, Step] = {}
        for number, seating in sorted(settled.items()):
            self._count(number, seating)

    def add(self, total: Sum, rounds: Mapping[int, tuple[Relations, Linear]]) -> None:
        """Add the price of every pair that meets in the rounds given."""
        pairs = sorted({both for relations, _ in rounds.values() for both in relations})
        for both in pairs:
            choices = [
                [(number, relation) for relation in relations.get(both, {})]
                for number, (relations, _) in rounds.items()
            ]
            for degree in range(1, len(choices) + 1):
                for some in combinations(choices, degree):
                    for meetings in product(*some):
                        self._term(total, rounds, both, meetings)

    def _term(
        self,
        total: Sum,
        rounds: Mapping[int, tuple[Relations, Linear]],
        both: Pair,
        meetings: tuple[tuple[int, int], ...],
    ) -> None:
        price = self._difference(both, [step_of(self._problem, r, rel) for r, rel in meetings])
        if len(meetings) == 1:
            number, relation = meetings[0]
            price += rounds[number][1].get((relation, both), 0)
        total.product(price, [rounds[r][0][both][relation] for r, relation in meetings])

    def _difference(self, both: Pair, steps: list[Step]) -> int:
        """Return the mixed difference of a pair's table along some steps."""
        if any(step == (0, 0, 0) for step in steps):
            return 0
        table = self._table(both)
        result = 0
        for taken in product((0, 1), repeat=len(steps)):
            at = self._before.get(both, (0, 0, 0))
            for is_taken, step in zip(taken, steps, strict=True):
                if is_taken:
                    at = (at[0] + step[0], at[1] + step[1], at[2] + step[2])
            sign = -1 if (len(steps) - sum(taken)) % 2 else 1
            result += sign * int(table[at])
        return result

    def _table(self, both: Pair) -> Counts:
        kind = self._classes.get(both, PairClass())
        if kind not in self._tables:
            drills = sum(shape.is_drill for shape in self._problem.shapes)
            matches = len(self._problem.shapes) - drills
            grid = np.indices((matches + 1, matches + 1, drills + 1))
            self._tables[kind] = kind.table(self._prices, *grid)
        return self._tables[kind]

    def _count(self, number: int, seating: Seating) -> None:
        for block, seats in zip(self._problem.shapes[number].blocks, seating.blocks, strict=True):
            for one, other in combinations(range(len(seats)), 2):
                relation = TOGETHER
                if block.kind is BlockKind.MATCH:
                    relation = PARTNER if one // 2 == other // 2 else OPPONENT
                step = step_of(self._problem, number, relation)
                both = pair(seats[one], seats[other])
                a, b, c = self._before.get(both, (0, 0, 0))
                self._before[both] = (a + step[0], b + step[1], c + step[2])
