"""The model a textbook on constraint programming would write, for the CP-SAT solver.

A Boolean for every round, team and player; products of two of them say who is
with and against whom; the first round is fixed against the plainest symmetry.
The weights are those of the engine. Nothing clever: no bounds as cuts, no
hints, no templates.
"""

from __future__ import annotations

from itertools import combinations

from ortools.sat.python import cp_model

from scheduler.bench.seating import Foursome, planned
from scheduler.domain.event import Event
from scheduler.domain.plan import PlannedRound
from scheduler.rotation.price import LEVEL, prices_of

LARGEST = 2_000_000
"""Products of Booleans beyond which the model is not built: it would fill the memory."""
_UNITS = 1_000  # a level in the model's whole numbers


def plan(event: Event, seed: int, units: float) -> tuple[PlannedRound, ...] | None:
    """Return the solver's best rounds after so much deterministic time, None without any."""
    model = _Model(event)
    if model.products > LARGEST:
        return None
    model.build()
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = units
    status = solver.solve(model.model)
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return None
    return planned(event, model.rounds(solver))


class _Model:
    """Variables and constraints; teams 2c and 2c + 1 play each other on court c."""

    def __init__(self, event: Event) -> None:
        self.event = event
        self.model = cp_model.CpModel()
        self.people = range(len(event.players))
        self.courts = range(min(len(event.courts), len(event.players) // 4))
        self.number_of_rounds = range(len(event.rounds))
        self.pairs = tuple(combinations(self.people, 2))
        self.costs: list[tuple[cp_model.IntVar, int]] = []

    @property
    def products(self) -> int:
        """How many products of two Booleans the model needs."""
        return 4 * len(self.pairs) * len(self.courts) * len(self.number_of_rounds)

    def build(self) -> None:
        self.plays = {
            (r, t, p): self.model.new_bool_var(f"round {r} team {t} player {p}")
            for r in self.number_of_rounds
            for t in range(2 * len(self.courts))
            for p in self.people
        }
        self._seats()
        self._fair_rests()
        self._first_round()
        self._repeats()
        self._gaps()
        priced, prices = zip(*self.costs, strict=True)
        self.model.minimize(cp_model.LinearExpr.weighted_sum(priced, prices))

    def _seats(self) -> None:
        teams = range(2 * len(self.courts))
        for r in self.number_of_rounds:
            for t in teams:
                self.model.add(sum(self.plays[r, t, p] for p in self.people) == 2)
            for p in self.people:
                self.model.add_at_most_one(self.plays[r, t, p] for t in teams)

    def _fair_rests(self) -> None:
        games = 4 * len(self.courts) * len(self.number_of_rounds)
        low, more = divmod(games, len(self.people))
        for p in self.people:
            mine = sum(self.plays[key] for key in self.plays if key[2] == p)
            self.model.add_linear_constraint(mine, low, low + (1 if more else 0))

    def _first_round(self) -> None:
        for t in range(2 * len(self.courts)):
            self.model.add(self.plays[0, t, 2 * t] == 1)
            self.model.add(self.plays[0, t, 2 * t + 1] == 1)

    def _both(self, one: tuple[int, int, int], other: tuple[int, int, int]) -> cp_model.IntVar:
        """Return a Boolean that is true where both are; its price keeps it false elsewhere."""
        both = self.model.new_bool_var("")
        self.model.add_bool_or(both, ~self.plays[one], ~self.plays[other])
        return both

    def _repeats(self) -> None:
        prices = prices_of(self.event.emphasis, self.event.exchange)
        scale = LEVEL // _UNITS
        for a, b in self.pairs:
            with_each_other, against = [], []
            for r in self.number_of_rounds:
                for t in range(2 * len(self.courts)):
                    with_each_other.append(self._both((r, t, a), (r, t, b)))
                    against.append(self._both((r, t, a), (r, t ^ 1, b)))
            self._again(with_each_other, prices.partner // scale)
            self._again(against, prices.opponent // scale)
            if prices.meeting // scale > 2:
                self._again(with_each_other + against, prices.meeting // scale)

    def _again(self, times: list[cp_model.IntVar], price: int) -> None:
        """Price k(k-1)/2 for the number k of these that hold: each further one costs one more."""
        further = [self.model.new_bool_var("") for _ in self.number_of_rounds[1:]]
        self.model.add(sum(times) <= 1 + sum(further))
        self.costs += [(step, price * more) for more, step in enumerate(further, start=1)]

    def _gaps(self) -> None:
        prices = prices_of(self.event.emphasis, self.event.exchange)
        price = max(1, prices.gap * _UNITS // LEVEL)
        levels = [round(player.level * _UNITS) for player in self.event.players]
        for r in self.number_of_rounds:
            for c in self.courts:
                one, other = (
                    sum(levels[p] * self.plays[r, t, p] for p in self.people)
                    for t in (2 * c, 2 * c + 1)
                )
                gap = self.model.new_int_var(0, 2 * max(levels), "")
                self.model.add(gap >= one - other)
                self.model.add(gap >= other - one)
                self.costs.append((gap, price))

    def rounds(self, solver: cp_model.CpSolver) -> list[list[Foursome]]:
        result = []
        for r in self.number_of_rounds:
            teams = [
                [p for p in self.people if solver.boolean_value(self.plays[r, t, p])]
                for t in range(2 * len(self.courts))
            ]
            result.append(
                [
                    (one[0], one[1], other[0], other[1])
                    for one, other in zip(teams[::2], teams[1::2], strict=True)
                ]
            )
        return result
