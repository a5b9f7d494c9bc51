"""Base rounds developed under a group that turns blocks of labels."""

from __future__ import annotations

from collections.abc import Sequence
from math import lcm

from scheduler.rotation.templates.recount import Rounds


def turns(lengths: Sequence[int]) -> tuple[int, ...]:
    """Return the permutation that moves each label one on within its block.

    `lengths` are the lengths of the blocks of consecutive labels; a block of
    one stays where it is.
    """
    image: list[int] = []
    for length in lengths:
        first = len(image)
        image.extend(first + (k + 1) % length for k in range(length))
    return tuple(image)


def developed(bases: Rounds, lengths: Sequence[int]) -> Rounds:
    """Return the rounds that the powers of a permutation make of base rounds."""
    image = turns(lengths)
    result = list(bases)
    current = list(bases)
    for _ in range(lcm(*lengths) - 1):
        current = [
            tuple((image[a], image[b], image[c], image[d]) for a, b, c, d in played)
            for played in current
        ]
        result.extend(current)
    return tuple(result)
