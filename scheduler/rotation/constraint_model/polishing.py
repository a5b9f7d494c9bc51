"""Seating a few rounds anew as cheaply as can be, while all others are held fast."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ortools.sat.python import cp_model

from scheduler.rotation.constraint_model.courts import Courts
from scheduler.rotation.constraint_model.cuts import add_cuts
from scheduler.rotation.constraint_model.levels import LevelPrices
from scheduler.rotation.constraint_model.meetings import Linear, MeetingPrices, linear_prices
from scheduler.rotation.constraint_model.model import musts_of
from scheduler.rotation.constraint_model.parameters import Budget, Status, run
from scheduler.rotation.constraint_model.relations import Pair, Relations, relations_of
from scheduler.rotation.constraint_model.rests import RestRange, rest_ranges
from scheduler.rotation.constraint_model.seating_rules import SeatingRules
from scheduler.rotation.constraint_model.seats import canonical, people_in, seating_of
from scheduler.rotation.constraint_model.settled import Settled
from scheduler.rotation.constraint_model.sums import Sum
from scheduler.rotation.constraint_model.turns import Turns
from scheduler.rotation.constraint_model.variables import (
    RoundVariables,
    rounds_with_courts,
    variables_of,
)
from scheduler.rotation.constraint_model.wish_rules import WishRules
from scheduler.rotation.counts import broken
from scheduler.rotation.kernel import Kernel
from scheduler.rotation.kernel.arrays import Data, arrays_of
from scheduler.rotation.kernel.wishes import OPPONENT, PARTNER, TOGETHER, unary_terms
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import Problem, Solution

_HINT_SHARE = 0.2


def polish(  # noqa: PLR0913  the seed comes on top
    problem: Problem,
    prices: Prices,
    solution: Solution,
    rounds: Sequence[int],
    units: float,
    *,
    seed: int = 1,
) -> Solution:
    """Return a solution no dearer, with some rounds seated anew.

    Who sits with whom is searched for first, with everything priced but the
    visits to courts; then the courts of these rounds are chosen. The answer
    is compared by the kernel's own price, so it is never worse.

    Parameters
    ----------
    problem, prices
        What is to be seated, and what everything costs.
    solution
        The solution to improve. If it breaks a must it is returned as it is.
    rounds
        Positions of one to three rounds not yet played.
    units
        Deterministic time.
    seed
        The solver's random seed.
    """
    if broken(problem, solution, must=True):
        return solution
    budget = Budget(units)
    model = PolishModel(problem, prices, solution, sorted(rounds))
    found = model.solve(seed, budget)
    courts = Courts(problem, arrays_of(problem, prices).data, seed)
    for number in sorted(rounds):
        found = courts.best(found, number, Budget(units))
    kernel = Kernel(problem, prices, seed)
    return found if kernel.start(found) < kernel.start(solution) else solution


class PolishModel:
    """Some rounds of a solution as unknowns, with their price.

    Musts and the fair share of rests are kept by rules, not priced.

    Parameters
    ----------
    problem, prices, solution
        As for `polish`.
    rounds
        Positions of the rounds to seat anew.
    """

    def __init__(
        self, problem: Problem, prices: Prices, solution: Solution, rounds: Sequence[int]
    ) -> None:
        self.problem = problem
        self.prices = replace(prices, must=0)
        self.model = cp_model.CpModel()
        self._solution = solution
        self._settled = {r: s for r, s in enumerate(solution) if r not in rounds}
        self._variables = variables_of(
            self.model,
            problem,
            rounds=rounds,
            teams_in=rounds,
            courts_in=rounds_with_courts(problem, problem.demands),
        )
        self._add_rules()
        self._add_price(arrays_of(problem, self.prices).data)

    def solve(self, seed: int, budget: Budget) -> Solution:
        """Return the solution with the rounds as the solver seats them, or as they were."""
        with budget.at_most(_HINT_SHARE * budget.left) as part:
            if not self._hint(seed, part):
                return self._solution
        status, solver = run(self.model, seed, budget, hinted=True)
        if status not in {Status.FOUND, Status.BEST}:
            return self._solution
        return self._seated(solver)

    def price_of(self, solution: Solution, seed: int, budget: Budget) -> int:
        """Return the model's price of a solution, less that of what is held fast."""
        status, solver = run(self._with(solution), seed, budget)
        if status is not Status.BEST:
            raise ValueError(f"the solution does not fit the model: {status}")
        return round(solver.objective_value)

    def _hint(self, seed: int, budget: Budget) -> bool:
        """Give the solver all unknowns of the solution as it is; return whether that went."""
        status, solver = run(self._with(self._solution), seed, budget)
        if status is not Status.BEST:
            return False
        for index in range(len(self.model.proto.variables)):
            variable = self.model.get_int_var_from_proto_index(index)
            self.model.add_hint(variable, solver.value(variable))
        return True

    def _with(self, solution: Solution) -> cp_model.CpModel:
        """Return the model with the seats and courts of a solution put in."""
        fixed = self.model.clone()
        for number, made in self._variables.rounds.items():
            seating = canonical(made.shape, solution[number])
            for (player, place), literal in made.inside.items():
                fixed.add(literal == (player in people_in(seating, made.cells[place])))
            for (block, court), literal in made.court.items():
                fixed.add(literal == (seating.courts[block] == court))
        return fixed

    def _add_rules(self) -> None:
        settled = Settled(self.problem, self._settled)
        rules = SeatingRules(self.model, self.problem, self._variables, settled)
        wishes = WishRules(self.model, self.problem, self._variables, settled)
        rules.add_seating()
        musts = musts_of(self.problem)
        for demand in musts:
            wishes.add(demand)
        add_cuts(self.model, self._variables, [(demand, None) for demand in musts])
        for player, allowed in enumerate(self._ranges()):
            rules.at_least_rests(player, allowed.fewest, None)
            rules.at_most_rests(player, allowed.most, None)

    def _ranges(self) -> list[RestRange]:
        """Return everybody's fair range, or what they have now if that is outside it."""
        rests = [0] * self.problem.players
        for seating in self._solution:
            for player in seating.rest:
                rests[player] += 1
        return [
            RestRange(min(allowed.fewest, now), max(allowed.most, now))
            for allowed, now in zip(rest_ranges(self.problem), rests, strict=True)
        ]

    def _add_price(self, data: Data) -> None:
        total = Sum(self.model)
        levels = LevelPrices(self.model, total, self.problem, self.prices, data)
        met: dict[int, tuple[Relations, Linear]] = {}
        for number, made in self._variables.rounds.items():
            linear = linear_prices(self.problem, self.prices, number)
            met[number] = (relations_of(self.model, made, _priced(made, linear)), linear)
            levels.add(made)
            self._add_court_wishes(total, made)
        MeetingPrices(self.problem, self.prices, self._settled).add(total, met)
        Turns(self.problem, self._variables.rounds, self._settled).add_prices(total, data)
        total.minimise()

    def _add_court_wishes(self, total: Sum, made: RoundVariables) -> None:
        """Add what people's being on courts costs by wishes."""
        price: dict[int, dict[int, int]] = {}
        for term in unary_terms(self.problem, self.prices, made.number):
            courts = price.setdefault(term.player, {})
            courts[term.court] = courts.get(term.court, 0) + term.price
        for player, costs in price.items():
            least = min(costs.get(court, 0) for court in made.shape.courts)
            for block in range(len(made.shape.blocks)):
                for here in made.on_block(player, block):
                    total.add(least, here)
                    for court in made.shape.courts:
                        more = costs.get(court, 0) - least
                        if more:
                            total.product(more, [here, made.court[block, court]])

    def _seated(self, solver: cp_model.CpSolver) -> Solution:
        mates = dict(self.problem.teams) | {b: a for a, b in self.problem.teams}
        return tuple(
            seating_of(self.problem, self._variables.rounds[r], solver.boolean_value, mates)
            if r in self._variables.rounds
            else seating
            for r, seating in enumerate(self._solution)
        )


def _priced(made: RoundVariables, linear: Linear) -> Mapping[int, list[Pair]]:
    """Return the relations that cost something in a round, and for whom if not for everybody."""
    everybody = [TOGETHER] if made.shape.is_drill else [PARTNER, OPPONENT]
    priced: dict[int, list[Pair]] = {relation: [] for relation in everybody}
    for relation, both in sorted(linear):
        if relation not in everybody and set(both) <= set(made.shape.players):
            priced.setdefault(relation, []).append(both)
    return priced
