"""Prove small cells of the book: ``python -m scheduler.rotation.templates.search.settle``.

On one court the order of the rounds does not matter, only how often each of the
3 * C(n, 4) matches is played. That is a small integer programme, and CP-SAT
solves it to the end. The answers stand in `scheduler.rotation.settled_cases`.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from itertools import combinations

from ortools.sat.python import cp_model

from scheduler.rotation.templates.limits import meeting_limit, opponent_limit, partner_limit
from scheduler.rotation.templates.recount import Match
from scheduler.rotation.templates.search.cell import MEETINGS, OPPONENTS

Times = dict[tuple[int, int], list[cp_model.IntVar]]


def least_repeats(players: int, rounds: int, aim: str) -> int | None:
    """Return the least repeats of an aim on one court, rests fair and partner repeats least.

    None if that is not settled within the counted work.
    """
    model = cp_model.CpModel()
    matches = list(_matches(players))
    times = [model.new_int_var(0, rounds, f"times {match}") for match in matches]
    model.add(sum(times) == rounds)
    low, more = divmod(4 * rounds, players)
    for label in range(players):
        turns = sum(t for t, match in zip(times, matches, strict=True) if label in match)
        model.add_linear_constraint(turns, low, low + bool(more))
    partners: Times = {}
    others: Times = {}
    for t, (a, b, c, d) in zip(times, matches, strict=True):
        teams, across = [(a, b), (c, d)], [(a, c), (a, d), (b, c), (b, d)]
        for pair in teams:
            partners.setdefault(pair, []).append(t)
        for one, other in [*across, *teams] if aim == MEETINGS else across:
            others.setdefault((min(one, other), max(one, other)), []).append(t)
    limit = partner_limit(players, 1, rounds)
    model.add(sum(_repeats(model, counts, rounds) for counts in partners.values()) == limit)
    model.minimize(sum(_repeats(model, counts, rounds) for counts in others.values()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 60
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return round(solver.objective_value)


def _matches(players: int) -> Iterator[Match]:
    for a, b, c, d in combinations(range(players), 4):
        yield from ((a, b, c, d), (a, c, b, d), (a, d, b, c))


def _repeats(
    model: cp_model.CpModel, counts: list[cp_model.IntVar], rounds: int
) -> cp_model.IntVar:
    """Return a variable no less than k(k-1)/2 for the sum k: above its tangents at whole k."""
    price = model.new_int_var(0, rounds * rounds, "repeats")
    for k in range(rounds):
        model.add(price >= k * sum(counts) - k * (k + 1) // 2)
    return price


def main() -> None:
    """Print the least repeats of the cells on one court that are above their bounds."""
    for aim in (OPPONENTS, MEETINGS):
        limit = opponent_limit if aim == OPPONENTS else meeting_limit
        for players in range(5, 8):
            for rounds in range(2, 17):
                least = least_repeats(players, rounds, aim)
                if least != limit(players, 1, rounds):
                    sys.stdout.write(f"{aim} ({players}, 1, {rounds}): {least}\n")
                    sys.stdout.flush()


if __name__ == "__main__":
    main()
