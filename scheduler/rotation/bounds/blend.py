"""What nobody can beat in opponent repeats and level gaps together."""

from __future__ import annotations

from scheduler.rotation.bounds.pigeonhole import Bound
from scheduler.rotation.problem import Problem


def blend_bound(problem: Problem, opponents: Bound, gap_sum: Bound) -> Bound:
    """Bound the blend price by the least repeats and the least gaps added."""
    value = problem.event.exchange * opponents.value + gap_sum.value
    return Bound(round(value, 6), "exchange times the opponents' bound plus the gaps' bound")
