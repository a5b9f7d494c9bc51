"""A lower bound on the blend price that anybody can check with whole numbers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from scheduler.rotation.bounds.blend.pool import Ints, Matches, Pool


@dataclass(frozen=True)
class Multipliers:
    """Whole numbers that prove a bound; see `proven_price`.

    Parameters
    ----------
    turns
        Shape (players,): a, of any sign.
    opponents, partners
        Shape (pairs of players,): b for either role, not negative.
    odd
        Sets of players, as bits, each with its c, which is not negative.
    """

    turns: Ints
    opponents: Ints
    partners: Ints
    odd: tuple[tuple[int, int], ...] = ()


def reduced_gaps(matches: Matches, multipliers: Multipliers) -> Ints:
    """Return gap + b of its pairs - a of its players - c of the sets it meets oddly, a match.

    Returns
    -------
    ndarray, shape (matches,)
        In millionths of a level.
    """
    reduced: Ints = matches.gaps + multipliers.opponents[matches.opponents].sum(1)
    reduced += multipliers.partners[matches.partners].sum(1)
    reduced -= multipliers.turns[matches.players].sum(1)
    for some, price in multipliers.odd:
        reduced -= price * matches.meeting_oddly(some)
    return reduced


def odd_rounds(pool: Pool, some: int) -> int:
    """Return in how many rounds all play who are there and an odd number of them is in a set."""
    return sum(times for there, times in pool.whole if (there & some).bit_count() % 2)


def proven_price(matches: Matches, multipliers: Multipliers, reduced: Ints) -> int:
    """Return what gaps, opponent and partner repeats of any evening of a pool cost at least.

    Let an evening have matches m, T in all, everybody playing t of them,
    and pairs meet across the net O times. Write e for the exchange. For all
    numbers a (one a player), b >= 0 (one a pair) and c >= 0 (one a set S of
    players), partners being treated just like opponents, at their own price:

    (1) ``sum of gap(m) = sum of reduced(m) - sum of b O + sum of a t + sum of
    c odd(S)``, where odd(S) is the number of matches with an odd number of
    players from S: that is what `reduced_gaps` says, added up.
    (2) ``sum of reduced(m) >= T * least reduced``.
    (3) ``e O(O-1)/2 - b O`` is least, over whole O, at ``O = b // e + 1``.
    (4) ``a t`` is least at the fewest matches where a > 0, else at the most.
    (5) In a round where everybody there plays, and an odd number of them are
    in S, some match has an odd number of them: ``odd(S) >= odd_rounds(S)``.

    So the price is at least the sum of these least values, whatever a, b, c
    are; they only decide how good the bound is. All of it is whole numbers.
    It is the weak half of linear programming duality; (5) is the parity
    (blossom) inequality of Edmonds 1965 for foursomes in place of pairs.

    Returns
    -------
    int
        In millionths of a level.
    """
    pool = matches.pool
    repeats = _least_repeats(pool.exchange, multipliers.opponents)
    if pool.partner:
        repeats += _least_repeats(pool.partner, multipliers.partners)
    at = np.where(multipliers.turns > 0, pool.fewest, pool.most)
    odd = sum(price * odd_rounds(pool, some) for some, price in multipliers.odd)
    turns = int((multipliers.turns * at).sum())
    return pool.matches * int(reduced.min()) + turns + repeats + odd


def _least_repeats(price: int, pairs: Ints) -> int:
    """Return the least sum of ``price k(k-1)/2 - b k`` over the pairs and whole k."""
    times = pairs // price + 1
    return int((price * (times * (times - 1) // 2) - pairs * times).sum())
