"""Why no line-up is possible: a smallest set of conditions that cannot be kept together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations
from typing import TypeVar

T = TypeVar("T")


def smallest_conflict(
    items: Sequence[T], possible: Callable[[tuple[T, ...]], bool]
) -> tuple[T, ...]:
    """Return a smallest set of items that cannot be kept together.

    Every conflict meets every set whose removal makes things possible, so a
    smallest set meeting all such sets known so far either is a conflict or
    shows one more of them (A. Ignatiev, A. Previti, M. Liffiton,
    J. Marques-Silva, "Smallest MUS extraction with minimal hitting set
    dualization", CP 2015).

    Parameters
    ----------
    items
        The demands; all of them together must be impossible.
    possible
        Whether some of them can be kept together; with fewer demands it may
        not turn from possible to impossible.
    """
    corrections: list[frozenset[int]] = []
    while True:
        chosen = _smallest_hitting(corrections, len(items))
        if not possible(tuple(items[i] for i in chosen)):
            return tuple(items[i] for i in chosen)
        kept = list(chosen)
        for i in range(len(items)):
            if i not in kept and possible(tuple(items[j] for j in sorted([*kept, i]))):
                kept.append(i)
        correction = frozenset(range(len(items))) - set(kept)
        if not correction:
            raise ValueError("the items can all be kept together")
        corrections.append(correction)


def _smallest_hitting(sets: Sequence[frozenset[int]], count: int) -> tuple[int, ...]:
    """Return the first of the smallest sets of numbers below `count` that meet every set."""
    useful = [i for i in range(count) if any(i in group for group in sets)]
    for size in range(len(useful) + 1):
        for chosen in combinations(useful, size):
            if all(group.intersection(chosen) for group in sets):
                return chosen
    return tuple(useful)
