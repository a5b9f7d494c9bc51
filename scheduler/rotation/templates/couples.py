"""Mixed doubles of couples who never share a court, from self-orthogonal squares.

A self-orthogonal latin square L of order n with L(i, i) = i gives a spouse-avoiding
mixed doubles round robin (Brayton, Coppersmith and Hoffman 1974; such squares
exist for all n but 2, 3 and 6): for i < j the men i and j play
with the women L(i, j) and L(j, i). Every two of one sex oppose once, and every
man and woman who are not a couple partner once and oppose once.

Over a field of order q > 3 the square L(i, j) = a i + (1 - a) j will do, with a
other than 0, 1 and 1/2, and the games fall into rounds by i + j (q odd:
q rounds, one couple rests in each) or by i - j (q even: q - 1 rounds, nobody rests).
"""

from __future__ import annotations

from scheduler.rotation.templates.fields import Field, field_of
from scheduler.rotation.templates.recount import Match, Rounds


def couples_rounds(couples: int) -> Rounds | None:
    """Return all rounds for a prime power of couples, man i and woman couples + i being one.

    None for other numbers.
    """
    field = field_of(couples)
    if field is None or couples <= 3:
        return None
    one, two = field.one, field.add(field.one, field.one)
    a = next(x for x in range(couples) if x not in {0, one} and field.multiply(two, x) != one)
    b = field.add(one, field.minus(a))

    def square(i: int, j: int) -> int:
        return field.add(field.multiply(a, i), field.multiply(b, j))

    def game(i: int, j: int) -> Match:
        return i, couples + square(i, j), j, couples + square(j, i)

    return tuple(tuple(game(i, j) for i, j in pairs) for pairs in _rounds_of_pairs(field))


def _rounds_of_pairs(field: Field) -> list[list[tuple[int, int]]]:
    """Split the pairs of field elements into rounds by their sum."""
    rounds: dict[int, list[tuple[int, int]]] = {}
    for i in range(field.order):
        for j in range(i + 1, field.order):
            rounds.setdefault(field.add(i, j), []).append((i, j))
    return [rounds[key] for key in sorted(rounds)]
