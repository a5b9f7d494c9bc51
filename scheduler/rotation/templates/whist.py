"""Whist rounds: everybody partners everybody once and opposes everybody twice.

A whist tournament Wh(v) exists for every v = 0 or 1 mod 4 (Baker, Hanani and
Wilson in the 1970s; see I. Anderson, *Combinatorial Designs and Tournaments*,
Oxford University Press 1997). For v = 4n it has v - 1 rounds in which nobody
rests, for v = 4n + 1 it has v rounds in which everybody rests once.

Three sources, in this order: a closed form where -1 is a square in a ring of
order v; a first round developed modulo v (or v - 1 about a fixed label), found
by search; the rounds written out, built from smaller tournaments by product
and frame constructions. Orders 4 to 101 are covered.
"""

from __future__ import annotations

from itertools import product

from scheduler.rotation.templates.labels import round_of, rounds_of, table
from scheduler.rotation.templates.recount import Match, Rounds

_FILE = "whist.txt"
_Element = tuple[int, int, int]


def whist_rounds(players: int) -> Rounds | None:
    """Return all rounds of a whist tournament, or None where we have none."""
    if players % 4 > 1 or players < 4:
        return None
    parts = _gaussian_parts(players)
    if parts is not None:
        return _closed_form(*parts)
    stored = table(_FILE).get(str(players))
    if stored is None:
        return None
    kind, text = stored.split(" ", 1)
    return _developed(players, round_of(text)) if kind == "starter" else rounds_of(text)


def _developed(players: int, base: tuple[Match, ...]) -> Rounds:
    """Add 1, 2, ... to a first round; for v = 4n the last label stays where it is."""
    modulus = players - 1 if players % 4 == 0 else players

    def moved(label: int, by: int) -> int:
        return label if label == modulus else (label + by) % modulus

    return tuple(
        tuple((moved(a, k), moved(b, k), moved(c, k), moved(d, k)) for a, b, c, d in base)
        for k in range(modulus)
    )


# ---- the closed form -------------------------------------------------------------


def _gaussian_parts(order: int) -> tuple[int, int] | None:
    """Split an odd order into m * k * k, primes of m being 1 and of k being 3 modulo 4.

    The ring Z_m x Z_k[i] then has the order and holds a t with t * t = -1.
    """
    if order % 2 == 0:
        return None
    m, k, rest, prime = 1, 1, order, 3
    while rest > 1:
        while rest % prime:
            prime += 2
        rest //= prime
        if prime % 4 == 1:
            m *= prime
        elif rest % prime == 0:
            rest //= prime
            k *= prime
        else:
            return None
    return m, k


def _closed_form(m: int, k: int) -> Rounds:
    """Return the whist rounds over the ring Z_m x Z_k[i] with t = (root of -1, i).

    For one x of each orbit {x, -x, tx, -tx} of the nonzero elements, x and -x
    play tx and -tx in round 0; round y adds y to all. Partner differences are
    2x and 2tx up to sign, so each nonzero difference comes once; opponent
    differences are (1 - t) times the orbit, each twice; 2 and
    1 - t are units, as (1 - t)(1 + t) = 2 is one.
    """
    root = next(t for t in range(m) if (t * t + 1) % m == 0)
    elements: list[_Element] = list(product(range(m), range(k), range(k)))
    number = {element: label for label, element in enumerate(elements)}

    def turned(x: _Element) -> _Element:
        return root * x[0] % m, -x[2] % k, x[1]

    def total(x: _Element, y: _Element) -> _Element:
        return (x[0] + y[0]) % m, (x[1] + y[1]) % k, (x[2] + y[2]) % k

    base: list[tuple[_Element, _Element, _Element, _Element]] = []
    seen = {(0, 0, 0)}
    for x in elements:
        if x not in seen:
            tx = turned(x)
            minus = turned(tx)
            base.append((x, minus, tx, turned(minus)))
            seen.update(base[-1])
    return tuple(
        tuple(
            (number[total(a, y)], number[total(b, y)], number[total(c, y)], number[total(d, y)])
            for a, b, c, d in base
        )
        for y in elements
    )


# ---- fewer rounds -----------------------------------------------------------------


def fewest_repeats(rounds: Rounds, wanted: int) -> Rounds:
    """Choose some of the rounds so that few pairs oppose twice among them.

    Any choice is without partner repeats. Rounds that repeat most with those
    still there are left out one after another; then rounds are exchanged as
    long as that helps.
    """
    shared = _shared_oppositions(rounds)
    chosen = list(range(len(rounds)))
    with_chosen = [sum(row) for row in shared]
    while len(chosen) > wanted:
        out = max(chosen, key=lambda r: (with_chosen[r], r))
        _leave(chosen, with_chosen, shared[out], out)
    while (better := _exchange(chosen, with_chosen, shared)) is not None:
        out, into = better
        _leave(chosen, with_chosen, shared[out], out)
        chosen.append(into)
        for r, value in enumerate(shared[into]):
            with_chosen[r] += value
    return tuple(rounds[r] for r in sorted(chosen))


def _leave(chosen: list[int], with_chosen: list[int], row: list[int], out: int) -> None:
    chosen.remove(out)
    for r, value in enumerate(row):
        with_chosen[r] -= value


def _exchange(
    chosen: list[int], with_chosen: list[int], shared: list[list[int]]
) -> tuple[int, int] | None:
    """Return the exchange of a chosen round for another that saves most, if any saves."""
    there = set(chosen)
    best, found = 0, None
    for out in sorted(chosen):
        for into in range(len(shared)):
            if into not in there:
                change = with_chosen[into] - shared[into][out] - with_chosen[out]
                if change < best:
                    best, found = change, (out, into)
    return found


def _shared_oppositions(rounds: Rounds) -> list[list[int]]:
    """Count for every two rounds the pairs that oppose in both."""
    where: dict[tuple[int, int], list[int]] = {}
    for number, played in enumerate(rounds):
        for a1, a2, b1, b2 in played:
            for a, b in ((a1, b1), (a1, b2), (a2, b1), (a2, b2)):
                where.setdefault((min(a, b), max(a, b)), []).append(number)
    shared = [[0] * len(rounds) for _ in rounds]
    for numbers in where.values():
        for one in numbers:
            for other in numbers:
                if one != other:
                    shared[one][other] += 1
    return shared
