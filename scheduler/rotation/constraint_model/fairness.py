"""The fair share of rests that a model is to keep.

Without played rounds and wishes the whole numbers next to the share can
always be met (the shares are a fractional seating, and such a one can be
rounded). What was played may already be further away than that; then the
ranges are widened by as little as possible in all.
"""

from __future__ import annotations

from scheduler.rotation.constraint_model.model import Asked, Limit, RotaModel, limits_of
from scheduler.rotation.constraint_model.parameters import Budget, Status, run
from scheduler.rotation.constraint_model.rests import RestRange, rest_ranges
from scheduler.rotation.constraint_model.variables import Literal
from scheduler.rotation.problem import Problem


def fair_limits(problem: Problem, seed: int, budget: Budget) -> tuple[Limit, ...]:
    """Return the limits on everybody's rests, widened where played rounds leave no choice."""
    limits = limits_of(problem)
    if not problem.played or not limits:
        return limits
    status, _ = RotaModel(problem, Asked((), limits)).solve(seed, budget)
    if status is not Status.IMPOSSIBLE:
        return limits
    return limits_of(problem, _widened(problem, seed, budget))


def _widened(problem: Problem, seed: int, budget: Budget) -> tuple[RestRange, ...]:
    """Return ranges that can be met, with the least sum of squared excess."""
    free = RotaModel(problem, Asked((), ()))
    ranges = rest_ranges(problem)
    most = len(problem.shapes)
    less = [_excess(free, most) for _ in ranges]
    more = [_excess(free, most) for _ in ranges]
    for player, allowed in enumerate(ranges):
        free.rules.nearly_fair_rests(player, allowed, less[player][0], more[player][0])
    free.model.minimize(sum(square for _, square in [*less, *more]))
    status, solver = run(free.model, seed, budget)
    if status not in {Status.FOUND, Status.BEST}:
        return tuple(RestRange(0, most) for _ in ranges)
    return tuple(
        RestRange(allowed.fewest - solver.value(low), allowed.most + solver.value(high))
        for allowed, (low, _), (high, _) in zip(ranges, less, more, strict=True)
    )


def _excess(free: RotaModel, most: int) -> tuple[Literal, Literal]:
    """Return a new whole number from 0 to `most`, and its square."""
    off = free.model.new_int_var(0, most, "")
    square = free.model.new_int_var(0, most * most, "")
    free.model.add_multiplication_equality(square, [off, off])
    return off, square
