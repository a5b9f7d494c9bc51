"""Solutions that care for musts, rests and one thing more, or a few things at chosen prices."""

from __future__ import annotations

from dataclasses import fields, replace

from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import Problem, Solution

DRIVERS = ("partner", "opponent", "meeting", "drill", "court", "station", "back_to_back", "gap")
FREE = Prices(**{f.name: 0 for f in fields(Prices)})
MIX = Moves(teams=100, courts=200, rests=100, people=60)


def driven(problem: Problem, start: Solution, **prices: int) -> Solution:
    """Return where a search ends that looks at musts, rests and the things priced only."""
    kernel = Kernel(problem, replace(FREE, must=10**9, rest_unfair=10**8, **prices), seed=1)
    kernel.start(start)
    for temperature in (3000, 1500, 800, 400, 1):
        kernel.anneal(4000, temperature, MIX)
    kernel.back_to_best()
    return kernel.solution()
