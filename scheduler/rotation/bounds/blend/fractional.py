"""The best mix of matches as a linear program, for the multipliers it ends with."""

from __future__ import annotations

import warnings
from collections import defaultdict
from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from scheduler.rotation.bounds.blend.certificate import (
    Multipliers,
    odd_rounds,
    proven_price,
    reduced_gaps,
)
from scheduler.rotation.bounds.blend.odd_sets import odd_sets
from scheduler.rotation.bounds.blend.pool import Ints, Matches
from scheduler.rotation.price import LEVEL

if TYPE_CHECKING:
    from ortools.linear_solver.pywraplp import (  # type: ignore[import-untyped]
        Constraint,
        Solver,
        Variable,
    )

SOLVES = 25
"""Most linear programs solved for one bound."""

FIRST, MORE = 60, 20
"""Matches a player in the first program, and those added after a solve."""

SETS = 8
"""Most odd sets added after a solve."""

_EMPTY = 25.0
"""Price, in levels, of an empty turn: above any gap, so that the program has a solution."""

_SEEN, _VIOLATED = 1e-7, 1e-3


def least_price(matches: Matches) -> int:
    """Return the best bound on the blend price that the linear programs lead to.

    The programs only look for multipliers; what these prove is counted in
    whole numbers, so that no rounding of the solver's can make it untrue.

    Returns
    -------
    int
        In millionths of a level.
    """
    program = Program(matches)
    best = 0
    for _ in range(SOLVES):
        if not program.solve():
            break
        multipliers, total = program.multipliers()
        reduced = reduced_gaps(matches, multipliers)
        best = max(best, proven_price(matches, multipliers, reduced))
        if not (program.add_cheaper(reduced, total) or program.add_odd_sets()):
            break
    return best


class Program:
    """How little gaps and repeats can cost if matches may be played in part.

    Minimise gaps plus the exchange times the repeats, each pair's repeats
    being k(k-1)/2 with straight lines between whole k. Matches come in
    as they are needed (column generation), odd sets as they are violated.
    """

    def __init__(self, matches: Matches) -> None:
        self.matches = matches
        pool = matches.pool
        self._solver = solver = _new_solver()
        self._turns = [
            solver.Constraint(low, high) for low, high in zip(pool.fewest, pool.most, strict=True)
        ]
        seats = 4 * pool.matches
        self._all = solver.Constraint(seats, seats)
        self._opponents = self._new_pairs(pool.exchange)
        self._partners = self._new_pairs(pool.partner)
        self._odd: dict[int, Constraint] = {}
        self._shares: dict[int, Variable] = {}
        for turn in self._turns:
            self._variable(_EMPTY, [turn, self._all])
        cheapest = np.argsort(matches.gaps, kind="stable")[: FIRST * pool.players]
        self._add_matches(cheapest)

    def _new_pairs(self, price: int) -> list[Constraint]:
        """Add a row a pair: times met, less those paid for at a price that rises; none if free."""
        pool, solver = self.matches.pool, self._solver
        if not price:
            return []
        rows = [solver.Constraint(-solver.infinity(), 1) for _ in range(self.matches.pairs)]
        most = 2 + 4 * pool.matches // len(rows)
        for row in rows:
            for repeat in range(1, most + 1):
                high = 1 if repeat < most else solver.infinity()
                self._variable(repeat * price / LEVEL, [row], -1, high)
        return rows

    def solve(self) -> bool:
        """Solve; return whether that went well, which rounding prevents now and then."""
        return bool(self._solver.Solve() == self._solver.OPTIMAL)

    def multipliers(self) -> tuple[Multipliers, int]:
        """Return the multipliers in whole millionths, that of the total apart."""
        odd = ((some, int(_whole([row])[0])) for some, row in self._odd.items())
        multipliers = Multipliers(
            turns=_whole(self._turns),
            opponents=self._pair_multipliers(self._opponents),
            partners=self._pair_multipliers(self._partners),
            odd=tuple((some, price) for some, price in odd if price > 0),
        )
        return multipliers, 4 * int(_whole([self._all])[0])

    def _pair_multipliers(self, rows: list[Constraint]) -> Ints:
        if not rows:
            return np.zeros(self.matches.pairs, dtype=np.int64)
        return np.maximum(-_whole(rows), 0)

    def add_cheaper(self, reduced: Ints, total: int) -> bool:
        """Add the matches that make the mix cheaper; return whether there were any."""
        below = np.flatnonzero(reduced < total - LEVEL // 1000)
        new = [match for match in below if match not in self._shares]
        order = np.argsort(reduced[new], kind="stable")[: MORE * self.matches.pool.players]
        self._add_matches(np.asarray(new, dtype=np.int64)[order])
        return bool(new)

    def add_odd_sets(self) -> bool:
        """Add the odd sets that the mix splits too evenly; return whether there were any."""
        pool = self.matches.pool
        if not pool.whole:
            return False
        share = self._share_of_foursomes()
        short: list[int] = []
        for some in odd_sets(pool.whole[0][0], share):
            oddly = sum(x for four, x in share.items() if (four & some).bit_count() % 2)
            known = some in self._odd or some in short
            if not known and oddly < odd_rounds(pool, some) - _VIOLATED:
                short.append(some)
                if len(short) == SETS:
                    break
        for some in short:
            self._add_odd_set(some)
        return bool(short)

    def _share_of_foursomes(self) -> dict[int, float]:
        share: dict[int, float] = defaultdict(float)
        for match, variable in self._shares.items():
            played = variable.solution_value()
            if played > _SEEN:
                four = sum(1 << int(player) for player in self.matches.players[match])
                share[four] += played
        return share

    def _add_odd_set(self, some: int) -> None:
        least = odd_rounds(self.matches.pool, some)
        row = self._odd[some] = self._solver.Constraint(least, self._solver.infinity())
        self._variable(_EMPTY, [row])
        oddly = self.matches.meeting_oddly(some)
        for match, variable in self._shares.items():
            if oddly[match]:
                row.SetCoefficient(variable, 1)

    def _add_matches(self, new: Ints) -> None:
        oddly = {some: self.matches.meeting_oddly(some) for some in self._odd}
        for match in new.tolist():
            rows = [self._turns[player] for player in self.matches.players[match]]
            rows += [self._opponents[pair] for pair in self.matches.opponents[match]]
            if self._partners:
                rows += [self._partners[pair] for pair in self.matches.partners[match]]
            rows += [row for some, row in self._odd.items() if oddly[some][match]]
            gap = self.matches.gaps[match] / LEVEL
            variable = self._shares[match] = self._variable(gap, rows)
            self._all.SetCoefficient(variable, 4)

    def _variable(
        self, price: float, rows: Iterable[Constraint], sign: int = 1, most: float | None = None
    ) -> Variable:
        """Add a variable with a price that counts once in some rows."""
        high = self._solver.infinity() if most is None else most
        variable = self._solver.NumVar(0, high, "")
        self._solver.Objective().SetCoefficient(variable, price)
        for row in rows:
            row.SetCoefficient(variable, sign)
        return variable


def _new_solver() -> Solver:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of the generated wrapper
        from ortools.linear_solver import (  # type: ignore[import-untyped]  # noqa: PLC0415  slow
            pywraplp,
        )

    solver: Solver = pywraplp.Solver.CreateSolver("GLOP")
    solver.Objective().SetMinimization()
    return solver


def _whole(rows: Iterable[Constraint]) -> Ints:
    """Return the duals of some rows in whole millionths."""
    duals: npt.NDArray[np.float64] = np.asarray([row.dual_value() for row in rows])
    return np.rint(np.nan_to_num(duals) * LEVEL).astype(np.int64)
