"""The compiled inner loop of the local search, and the arrays it works on.

``kernel.c`` is compiled to WebAssembly once, by us; at run time the wasmtime
library turns it into machine code in a few milliseconds. That is some fifteen
times faster than the same loop in Python, gives the same seats on every
machine, and needs no compiler at the user's.
"""

from __future__ import annotations

import ctypes
import math
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
import numpy.typing as npt
import wasmtime

from scheduler.rotation.kernel.arrays import FIELDS, SEAT, Arrays, arrays_of
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import Problem, Solution

PAGE = 65536


@dataclass(frozen=True, slots=True)
class Moves:
    """How often, of 1024 tries, each exchange is tried; the rest exchange two seats.

    `teams` exchanges two partners with two others, `courts` the courts of two
    matches, `rests` two people's rests in two rounds, `people` two people in
    every round; so does `kin`, at the cost of some look-ups, for people there in
    the same rounds (`Problem.kin`). `near` exchanges two seats of people whose levels differ by at
    most `span` places in the order of levels.
    """

    teams: int = 0
    courts: int = 0
    rests: int = 0
    people: int = 0
    kin: int = 0
    near: int = 0
    span: int = 1


@cache
def _module() -> tuple[wasmtime.Engine, wasmtime.Module]:
    config = wasmtime.Config()
    config.cranelift_opt_level = "speed"
    engine = wasmtime.Engine(config)
    code = files(__package__).joinpath("kernel.wasm").read_bytes()
    return engine, wasmtime.Module(engine, code)


class Kernel:
    """One problem loaded into the compiled search.

    Parameters
    ----------
    problem
        What to seat.
    prices
        What everything costs, in whole units.
    seed
        Start of the random numbers.
    """

    def __init__(self, problem: Problem, prices: Prices, seed: int) -> None:
        engine, module = _module()
        self._store = wasmtime.Store(engine)
        exports = wasmtime.Instance(self._store, module, []).exports(self._store)
        self._exports = exports
        self._memory: wasmtime.Memory = exports["memory"]  # type: ignore[assignment]
        self._problem = problem
        self._arrays = arrays_of(problem, prices)
        self._offsets = self._load(self._arrays)
        self._call("seed", seed)

    def start(self, solution: Solution) -> int:
        """Start from a solution; return its cost."""
        seats, courts = self._arrays.seats_of(solution)
        self._seated()[:] = seats
        self._view("place_court")[:] = courts
        return self._call("start")

    def restart(self, *, courts: bool) -> int:
        """Start again from where the search stands, with or without a price on courts."""
        self._call("price_courts", int(courts))
        return self._call("start")

    def anneal(self, moves: int, temperature: int, mix: Moves) -> int:
        """Try so many exchanges at one temperature; return the cost then."""
        return self._call(
            "anneal",
            moves,
            temperature,
            mix.teams,
            mix.courts,
            mix.rests,
            mix.people,
            mix.kin,
            mix.near,
            mix.span,
        )

    def relabel(self, moves: int, temperature: int) -> int:
        """Try to exchange two people in every round at once, again and again.

        Only kin (`Problem.kin`) change places, so that repeats and rests stay
        and what changes is gaps, wishes and meetings of earlier evenings.
        """
        return self._call("relabel", moves, temperature)

    @property
    def best(self) -> int:
        """The least cost met since `start`."""
        return self._call("best")

    def back_to_best(self) -> int:
        """Take up the best solution met since `start`; return its cost."""
        return self._call("back_to_best")

    def solution(self) -> Solution:
        """Return the seats as they stand, the played rounds included."""
        seats = self._seated()
        courts = self._view("place_court")
        return self._arrays.solution_of(self._problem, seats.tolist(), courts.tolist())

    def _call(self, name: str, *args: int) -> int:
        function: wasmtime.Func = self._exports[name]  # type: ignore[assignment]
        return function(self._store, *args)  # type: ignore[no-any-return]

    def _load(self, arrays: Arrays) -> dict[str, int]:
        """Lay the arrays out in the kernel's memory and tell it where they are."""
        heap: wasmtime.Global = self._exports["__heap_base"]  # type: ignore[assignment]
        offset = -(-int(heap.value(self._store)) // 8) * 8
        offsets = {}
        for name, array in arrays.data.items():
            offsets[name] = offset
            offset += -(-array.nbytes // 8) * 8
        missing = offset - self._memory.data_len(self._store)
        if missing > 0:
            self._memory.grow(self._store, math.ceil(missing / PAGE))
        for name in arrays.data:
            self._bytes(offsets[name], arrays.data[name].dtype, arrays.data[name].size)[:] = (
                arrays.data[name].ravel()
            )
        words = [arrays.numbers[f] if f in arrays.numbers else offsets[f] for f in FIELDS]
        self._bytes(self._call("problem"), np.dtype(np.int32), len(words))[:] = words
        return offsets

    def _seated(self) -> npt.NDArray[np.int32]:
        """Return who sits where, one number a seat, to be read or written."""
        return self._view("seat").reshape(-1, len(SEAT))[:, SEAT.index("player")]

    def _view(self, name: str) -> npt.NDArray[Any]:
        array = self._arrays.data[name]
        return self._bytes(self._offsets[name], array.dtype, array.size)

    def _bytes(self, offset: int, dtype: np.dtype[Any], size: int) -> npt.NDArray[Any]:
        base = ctypes.addressof(self._memory.data_ptr(self._store).contents)
        buffer = (ctypes.c_char * (size * dtype.itemsize)).from_address(base + offset)
        return np.frombuffer(memoryview(buffer), dtype=dtype)
