"""What nobody can beat in rests."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil, floor

from scheduler.rotation.bounds.pigeonhole import TRIVIAL, Bound
from scheduler.rotation.problem import Problem


def rest_unfairness_bound(problem: Problem) -> Bound:
    """Bound how far somebody is from their share of rests.

    With everybody within d of their share, each has at least
    ``ceil(share - d)`` and at most ``floor(share + d)`` rests, and the sums of
    these must enclose the number of rests there are. The least d for which
    they do is one of the distances from a share to a whole number beside it.
    """
    shares = problem.shares
    rests = sum(len(shape.rest) for shape in problem.shapes)
    steps = {share % 1 for share in shares} | {1 - share % 1 for share in shares} | {Fraction(0)}
    for d in sorted(steps):
        low = [ceil(share - d) for share in shares]
        high = [floor(share + d) for share in shares]
        fits = all(a <= b for a, b in zip(low, high, strict=True))
        if fits and sum(low) <= rests <= sum(high):
            return Bound(round(float(d), 6), "whole rests beside a fractional share")
    return TRIVIAL


def back_to_back_bound(problem: Problem) -> Bound:
    """Bound rests in two rounds running: more rests than people means some rest in both."""
    value = sum(
        max(0, len(a.rest) + len(b.rest) - len(set(a.players) | set(b.players)))
        for a, b in pairwise(problem.shapes)
    )
    return Bound(value, "more rests than people in two rounds") if value else TRIVIAL
