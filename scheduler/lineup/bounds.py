"""A lower bound on every line-up's price, by prices on people (Lagrangian relaxation).

Dropping the rule that nobody plays twice, and charging each person a price
for every seat instead, leaves a problem that a table over lines solves
exactly. Whatever the prices, its optimum is a lower bound; good ones are
found by subgradient steps (M. Held, P. Wolfe, H. P. Crowder, "Validation of
subgradient optimization", Mathematical Programming 6, 1974, 62-88). Prices
are whole numbers, so the bound is exact arithmetic.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.lineup.problem import Problem

INFINITE = 1 << 62
"""The price of what is not allowed."""

BEYOND = INFINITE >> 1
"""No allowed sum of prices reaches this; sums with an `INFINITE` in them do."""

STEPS = 400
"""Subgradient steps for one relaxation; 400 were enough to converge where it was measured."""

_PATIENCE = 6


@dataclass(frozen=True)
class Relaxation:
    """The relaxed problem at its best prices found.

    Attributes
    ----------
    constant
        Units that every line-up's bound starts from.
    reduced
        ``reduced[line][pair]``: price with the people's prices in it, or
        `INFINITE` where the pair may not play.
    ahead
        ``ahead[line][place]``: least reduced price of all lines from `line`
        on when their pairs come from `place` or later in the list.
    prices
        The prices on people and needs, to start a similar relaxation from.
    """

    constant: int
    reduced: tuple[tuple[int, ...], ...]
    ahead: tuple[tuple[int, ...], ...]
    prices: tuple[int, ...]

    @property
    def impossible(self) -> bool:
        """Whether not even the relaxed problem has an answer."""
        return self.ahead[0][0] >= BEYOND

    @property
    def bound(self) -> int:
        """A number of units no line-up goes below."""
        return self.constant + self.ahead[0][0]


def relax(
    problem: Problem,
    costs: Sequence[Sequence[int | None]],
    enough: int = INFINITE,
    *,
    steps: int = STEPS,
    start: tuple[int, ...] = (),
) -> Relaxation:
    """Return the relaxation of a fixture under additive costs.

    Parameters
    ----------
    problem
        The fixture; its people, needs and line order are used.
    costs
        ``costs[line][pair]`` in units, None where the pair may not play.
    enough
        A bound at which the caller loses interest and the steps may end.
    steps
        Most steps to take.
    start
        Prices to start from; zeros if empty.
    """
    plain = tuple(tuple(INFINITE if c is None else c for c in row) for row in costs)
    prices = list(start) or [0] * (len(problem.names) + len(problem.needs))
    best = here = _at(problem, plain, prices)
    step, stale = _first_step(plain), 0
    for _ in range(steps):
        if here.impossible or best.bound >= enough or step < 1:
            break
        slack = _slack(problem, _argmin(problem, here))
        size = sum(value * value for value in slack)
        if size == 0:
            break
        _move(problem, prices, slack, step / size**0.5)
        here = _at(problem, plain, prices)
        stale = 0 if here.bound > best.bound else stale + 1
        best = max(best, here, key=lambda relaxation: relaxation.bound)
        if stale >= _PATIENCE:
            step, stale, here, prices = step * 0.6, 0, best, list(best.prices)
    return best


def _first_step(costs: Sequence[Sequence[int]]) -> float:
    finite = [cost for row in costs for cost in row if cost < BEYOND]
    return (max(finite) - min(finite)) / 3 + 1 if finite else 1.0


def _at(problem: Problem, costs: Sequence[Sequence[int]], prices: Sequence[int]) -> Relaxation:
    people = len(problem.names)
    charge = [prices[i] + prices[j] for i, j in problem.pairs]
    for need, price in zip(problem.needs, prices[people:], strict=True):
        if price:
            charge = [c - price * n for c, n in zip(charge, need.by_pair, strict=True)]
    reduced = tuple(
        tuple(
            INFINITE if cost >= BEYOND else cost + extra
            for cost, extra in zip(row, charge, strict=True)
        )
        for row in costs
    )
    constant = -sum(prices[:people]) + sum(
        need.count * price for need, price in zip(problem.needs, prices[people:], strict=True)
    )
    return Relaxation(constant, reduced, _ahead(problem, reduced), tuple(prices))


def _ahead(problem: Problem, reduced: Sequence[Sequence[int]]) -> tuple[tuple[int, ...], ...]:
    places = len(problem.pairs)
    table: list[tuple[int, ...]] = [(0,) * (places + 1)]
    follows = problem.follows
    for row in reversed(reduced):
        later = table[0]
        least = INFINITE
        column = [INFINITE] * (places + 1)
        for place in range(places - 1, -1, -1):
            value = row[place] + later[follows[place]]
            least = min(least, value)
            column[place] = least
        table.insert(0, tuple(column))
    return tuple(table)


def _argmin(problem: Problem, relaxation: Relaxation) -> list[int]:
    """Return the pair of each line in the relaxed optimum."""
    chosen, start = [], 0
    for line, row in enumerate(relaxation.reduced):
        later = relaxation.ahead[line + 1]
        target = relaxation.ahead[line][start]
        place = next(
            p
            for p in range(start, len(problem.pairs))
            if row[p] + later[problem.follows[p]] == target
        )
        chosen.append(place)
        start = problem.follows[place]
    return chosen


def _slack(problem: Problem, chosen: Sequence[int]) -> list[int]:
    """Return how far each dropped rule is broken: seats above one, needs unmet."""
    seats = [-1] * len(problem.names)
    for pair in chosen:
        for person in problem.pairs[pair]:
            seats[person] += 1
    unmet = [n.count - sum(n.by_pair[pair] for pair in chosen) for n in problem.needs]
    return seats + unmet


def _move(problem: Problem, prices: list[int], slack: Sequence[int], factor: float) -> None:
    forced = set(problem.forced)
    for place, value in enumerate(slack):
        moved = prices[place] + round(factor * value)
        prices[place] = moved if place in forced else max(0, moved)
