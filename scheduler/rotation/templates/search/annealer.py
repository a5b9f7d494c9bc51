"""The compiled annealer for patterns of labels, free or developed under a group."""

from __future__ import annotations

import ctypes
import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import combinations, product
from typing import Any

import numpy as np
import numpy.typing as npt
import wasmtime

Round = tuple[int, ...]
"""Labels of one round: four a court (two teams of two), then who rests."""

POINTS, ROUNDS, CLASSES, MOST, RESTS = 128, 64, 16, 16, 64
"""Sizes of the arrays in annealer.c."""

DEAREST = 10**6
"""Most that a count may cost, so that sums stay in 32 bits."""

BARRED = 8
"""Partnerships that pairs who must not meet are given beforehand.

The free search has one table for all pairs; these find their prices in its upper half.
"""


@dataclass(frozen=True, slots=True)
class Group:
    """A cyclic group acting on the labels: the powers of one permutation."""

    generator: tuple[int, ...]
    order: int

    def powers(self) -> list[tuple[int, ...]]:
        """Return the permutations of the group, the identity first."""
        result = [tuple(range(len(self.generator)))]
        for _ in range(self.order - 1):
            result.append(tuple(self.generator[x] for x in result[-1]))
        return result


def cycles(lengths: Sequence[int]) -> Group:
    """Return the group whose generator turns blocks of labels of these lengths."""
    generator: list[int] = []
    for length in lengths:
        first = len(generator)
        generator.extend(first + (k + 1) % length for k in range(length))
    return Group(tuple(generator), math.lcm(*lengths))


@dataclass(frozen=True, slots=True)
class Weights:
    """Prices of a repeat (k(k-1)/2 of a pair's times k), an unfair rest, a barred meeting."""

    partner: int
    opponent: int
    meeting: int
    rest: int
    apart: int = 4

    def of(self, partners: int, opponents: int) -> int:
        """Return the price of a pair's counts."""
        met = partners + opponents
        price = self.partner * partners * (partners - 1)
        price += self.opponent * opponents * (opponents - 1)
        return (price + self.meeting * met * (met - 1)) // 2


@cache
def _module() -> tuple[wasmtime.Engine, wasmtime.Module]:
    config = wasmtime.Config()
    config.cranelift_opt_level = "speed"
    engine = wasmtime.Engine(config)
    code = files(__package__).joinpath("annealer.wasm").read_bytes()
    return engine, wasmtime.Module(engine, code)


@dataclass(frozen=True, slots=True)
class Pattern:
    """What is looked for: base rounds of so many labels on so many courts.

    Parameters
    ----------
    players, courts
        Numbers of labels and courts.
    bases
        Number of base rounds; each stands for as many rounds as the group has elements.
    kinds
        Kind of each label: only labels of one kind change places, and rests
        are shared evenly among the labels of a kind.
    apart
        Pairs of labels that are never to meet, whole orbits of them.
    """

    players: int
    courts: int
    bases: int
    kinds: tuple[int, ...]
    apart: frozenset[tuple[int, int]] = frozenset()


class Annealer:
    """A search for base rounds that repeat little once developed under a group.

    Parameters
    ----------
    pattern
        What is looked for.
    group
        The group; the trivial one for a free search.
    weights
        What repeats and unfair rests cost.
    seed
        Start of the random numbers.
    """

    def __init__(self, pattern: Pattern, group: Group, weights: Weights, seed: int) -> None:
        engine, module = _module()
        self._store = wasmtime.Store(engine)
        self._exports = wasmtime.Instance(self._store, module, []).exports(self._store)
        self._memory: wasmtime.Memory = self._exports["memory"]  # type: ignore[assignment]
        self._pattern, self._group, self._weights = pattern, group, weights
        self._view("kind_of", np.uint8, POINTS)[: pattern.players] = pattern.kinds
        self._load_cells()
        logs = np.round(-1024 * np.log((np.arange(4096) + 0.5) / 4096)).astype(np.int32)
        self._view("minus_log", np.int32, 4096)[:] = logs
        self._call("sow", seed)

    def start(self, rounds: Sequence[Round]) -> int:
        """Start from base rounds; return the price of the whole pattern."""
        size = self._pattern
        seats = self._view("seat", np.uint8, ROUNDS * POINTS).reshape(ROUNDS, POINTS)
        seats[: size.bases, : size.players] = rounds
        self._load_rests(rounds[0])
        return self._call("start", size.players, size.courts, size.bases, self._cells, self._orbits)

    def anneal(self, moves: int, temperature: float, target: int) -> int:
        """Try so many exchanges; end early at the target; return the least price met."""
        name = "anneal_free" if self._group.order == 1 else "anneal_developed"
        return self._call(name, moves, round(temperature * 1024), target)

    def rounds(self) -> list[Round]:
        """Return all rounds of the best pattern met, each base round developed in turn."""
        kept = self._view("kept", np.uint8, ROUNDS * POINTS).reshape(ROUNDS, POINTS)
        bases = kept[: self._pattern.bases, : self._pattern.players].tolist()
        return [tuple(g[x] for x in base) for base in bases for g in self._group.powers()]

    def _load_cells(self) -> None:
        """Lay out the orbits of pairs and price each by how often its pairs' counts repeat."""
        orbits, cell_of = self._orbits_of_pairs()
        classes = sorted(set(orbits))
        table = np.zeros((CLASSES, MOST, MOST), dtype=np.int64)
        for number, (size, barred) in enumerate(classes):
            for partners, opponents in product(range(MOST), repeat=2):
                table[number, partners, opponents] = self._price(size, partners, opponents, barred)
        if self._group.order == 1 and (1, True) in classes:
            table[0, BARRED:] = table[classes.index((1, True)), BARRED:]
        self._view("price", np.int32, CLASSES * MOST * MOST)[:] = np.minimum(table, DEAREST).ravel()
        self._cells = len(orbits)
        self._view("cell_of", np.uint16, POINTS * POINTS)[:] = cell_of.ravel()
        self._view("class_of", np.uint8, len(orbits))[:] = [classes.index(o) for o in orbits]
        self._view("first_code", np.uint8, len(orbits))[:] = [
            MOST * BARRED * barred for _, barred in orbits
        ]

    def _price(self, size: int, partners: int, opponents: int, barred: int) -> int:
        """Price an orbit of `size` pairs that the base rounds give these counts."""
        times = self._group.order // size
        if barred:
            return size * self._weights.apart * (partners % BARRED + opponents) * times
        return size * self._weights.of(partners * times, opponents * times)

    def _orbits_of_pairs(self) -> tuple[list[tuple[int, bool]], npt.NDArray[np.uint16]]:
        """Return (size, barred) of each orbit, and the number of every pair's orbit."""
        powers = self._group.powers()
        cell_of = np.zeros((POINTS, POINTS), dtype=np.uint16)
        seen: set[tuple[int, int]] = set()
        orbits: list[tuple[int, bool]] = []
        for x, y in combinations(range(self._pattern.players), 2):
            if (x, y) in seen:
                continue
            orbit = {(min(g[x], g[y]), max(g[x], g[y])) for g in powers}
            for a, b in orbit:
                cell_of[a, b] = cell_of[b, a] = len(orbits)
            seen |= orbit
            orbits.append((len(orbit), (x, y) in self._pattern.apart))
        return orbits, cell_of

    def _load_rests(self, example: Round) -> None:
        """Price the rests of orbits of labels; the example shows how many of a kind rest."""
        pattern = self._pattern
        orbits = self._load_orbits()
        classes = sorted(set(orbits))
        self._view("rest_class", np.uint8, len(orbits))[:] = [classes.index(o) for o in orbits]
        resting = Counter(pattern.kinds[x] for x in example[4 * pattern.courts :])
        people = Counter(pattern.kinds)
        table = np.zeros((CLASSES, RESTS), dtype=np.int64)
        for number, (size, kind) in enumerate(classes):
            rests = pattern.bases * self._group.order * resting[kind]
            low, more = divmod(rests, people[kind])
            for k in range(RESTS):
                each = k * self._group.order // size
                off = max(low - each, each - low - bool(more), 0)
                table[number, k] = size * self._weights.rest * off * off
        self._view("rest_price", np.int32, CLASSES * RESTS)[:] = np.minimum(table, DEAREST).ravel()

    def _load_orbits(self) -> list[tuple[int, int]]:
        """Lay out the orbits of labels; return the size and kind of each."""
        powers, players = self._group.powers(), self._pattern.players
        orbit_of: dict[int, int] = {}
        orbits: list[tuple[int, int]] = []
        for x in range(players):
            if x not in orbit_of:
                orbit = {g[x] for g in powers}
                orbit_of.update(dict.fromkeys(orbit, len(orbits)))
                orbits.append((len(orbit), self._pattern.kinds[x]))
        self._orbits = len(orbits)
        self._view("orbit_of", np.uint8, players)[:] = [orbit_of[x] for x in range(players)]
        return orbits

    def _call(self, name: str, *args: int) -> int:
        function: wasmtime.Func = self._exports[name]  # type: ignore[assignment]
        return function(self._store, *args)  # type: ignore[no-any-return]

    def _view(self, name: str, dtype: Any, size: int) -> npt.NDArray[Any]:
        at = self._call(name)
        kind = np.dtype(dtype)
        base = ctypes.addressof(self._memory.data_ptr(self._store).contents)
        buffer = (ctypes.c_char * (size * kind.itemsize)).from_address(base + at)
        return np.frombuffer(memoryview(buffer), dtype=kind)
