"""Which court each block of a round gets, when everybody's seats are settled."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ortools.sat.python import cp_model

from scheduler.domain.event import WishKind
from scheduler.rotation.constraint_model.parameters import Budget, Status, run
from scheduler.rotation.kernel.arrays import Data
from scheduler.rotation.problem import Problem, Seating, Solution

Barred = set[tuple[int, int]]


class Courts:
    """Chooses courts.

    Parameters
    ----------
    problem
        What is seated.
    data
        The kernel's arrays, which hold the prices.
    seed
        The solver's random seed.
    """

    def __init__(self, problem: Problem, data: Data, seed: int) -> None:
        self._problem = problem
        self._data = data
        self._seed = seed

    def best(self, solution: Solution, number: int, budget: Budget) -> Solution:
        """Return a solution with the courts of one round chosen best, all others being kept.

        That is an assignment of blocks to courts: a court costs each player
        what a visit more there costs, and what wishes ask for it.
        """
        seating = solution[number]
        cost = self._costs(solution, number)
        model = cp_model.CpModel()
        on = {key: model.new_bool_var(f"b{key[0]}_c{key[1]}") for key in cost}
        for block in range(len(seating.blocks)):
            model.add_exactly_one(on[key] for key in on if key[0] == block)
        for court in self._problem.shapes[number].courts:
            model.add_at_most_one(on[key] for key in on if key[1] == court)
        model.minimize(sum(cost[key] * literal for key, literal in on.items()))
        status, solver = run(model, self._seed, budget)
        if status is not Status.BEST:
            return solution
        chosen = {block: court for (block, court), lit in on.items() if solver.boolean_value(lit)}
        courts = tuple(chosen[block] for block in range(len(seating.blocks)))
        return (*solution[:number], replace(seating, courts=courts), *solution[number + 1 :])

    def _costs(self, solution: Solution, number: int) -> dict[tuple[int, int], int]:
        """Return the price of each block on each court that no must bars."""
        seating = solution[number]
        barred = _barred(self._problem, number, seating)
        others = [(r, other) for r, other in enumerate(solution) if r != number]
        return {
            (block, court): sum(self._price(others, number, player, court) for player in people)
            for block, people in enumerate(seating.blocks)
            for court in self._problem.shapes[number].courts
            if (block, court) not in barred
        }

    def _price(
        self, others: Sequence[tuple[int, Seating]], number: int, player: int, court: int
    ) -> int:
        """Return what one player's coming to a court in a round adds to the price."""
        visits = [r for r, seating in others if _is_on(seating, player, court)]
        is_station = bool(self._data["at_station"][court])
        drills = [r for r in visits if self._problem.shapes[r].is_drill and is_station]
        prices, step = self._data["visit_price"], len(self._problem.shapes) + 1
        before = len(visits) + step * len(drills)
        more = 1 + step * (self._problem.shapes[number].is_drill and is_station)
        table = int(self._data["round_unary"][number])
        wished = 0 if table < 0 else int(self._data["unary"][table, player, court])
        return int(prices[before + more] - prices[before]) + wished


def _is_on(seating: Seating, player: int, court: int) -> bool:
    return any(
        player in people and at == court
        for people, at in zip(seating.blocks, seating.courts, strict=True)
    )


def _barred(problem: Problem, number: int, seating: Seating) -> Barred:
    """Return the blocks and courts that a must keeps apart."""
    block_of: Mapping[int, int] = {p: b for b, block in enumerate(seating.blocks) for p in block}
    return {
        (block_of[demand.player], court)
        for demand in problem.demands
        if demand.must and demand.kind is WishKind.ON_COURT
        if number in demand.rounds and demand.player in block_of
        for court in problem.shapes[number].courts
        if court != demand.other
    }
