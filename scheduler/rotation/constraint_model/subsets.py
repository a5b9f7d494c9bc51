"""Smallest sets of things that cannot be kept together, whatever the things are.

The caller says whether a set is impossible; here it is only a matter of
asking in a good order.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from itertools import combinations

IsImpossible = Callable[[Sequence[int]], bool]
Spared = Callable[[Sequence[int]], Sequence[int] | None]


def irreducible(
    items: Sequence[int],
    is_impossible: IsImpossible,
    portions: Sequence[Collection[int]] = (),
) -> tuple[int, ...]:
    """Return a part of an impossible set from which nothing can be left out.

    Deletion filter: leave out one after another, for good where what is left
    stays impossible (Chinneck and Dravnieks 1991, Locating minimal infeasible
    constraint sets in linear programs, ORSA J. Computing 3(2), 157-168).

    Parameters
    ----------
    items
        An impossible set; those in front are left out first.
    is_impossible
        Says whether a set is known to be impossible.
    portions
        Items to leave out together first, which saves questions.
    """
    kept = list(items)
    for portion in [*portions, *([item] for item in items)]:
        rest = [item for item in kept if item not in portion]
        if len(rest) < len(kept) and is_impossible(rest):
            kept = rest
    return tuple(kept)


def smallest(
    known: Sequence[int], everything: Sequence[int], left_out: Spared, *, tries: int
) -> tuple[int, ...]:
    """Return an impossible set with as few members as there is, if it is found in time.

    Every way to make all things possible leaves something of every impossible
    set out; so a smallest set that meets all known ways is either impossible,
    hence smallest, or shows a new way (Ignatiev, Previti, Liffiton and
    Marques-Silva 2015, Smallest MUS extraction with minimal hitting set
    dualization, CP 2015).

    Parameters
    ----------
    known
        An impossible set.
    everything
        All things.
    left_out
        Given a set, says what else has to be left out to make it possible:
        None if it is impossible, and () if it could not tell.
    tries
        How often to ask at most; `known` is the answer after that.
    """
    ways: list[frozenset[int]] = []
    for _ in range(tries):
        candidate = _hitting(ways, everything, len(known) - 1)
        if candidate is None:
            return tuple(known)
        more = left_out(candidate)
        if more is None:
            return candidate
        if not more:
            return tuple(known)
        ways.append(frozenset(more))
    return tuple(known)


def _hitting(
    ways: Iterable[frozenset[int]], everything: Sequence[int], most: int
) -> tuple[int, ...] | None:
    """Return a smallest set with a member in each way, None if it needs more than `most`."""
    sought = list(ways)
    useful = [item for item in everything if any(item in way for way in sought)]
    for size in range(most + 1):
        for chosen in combinations(useful, size):
            if all(way.intersection(chosen) for way in sought):
                return chosen
    return None
