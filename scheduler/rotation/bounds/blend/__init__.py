"""What nobody can beat in opponent repeats and level gaps together."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from math import floor, gcd

from scheduler.domain.event import Emphasis
from scheduler.rotation.bounds.blend.pool import UNITS, Pool, pool_of, with_fair_rests
from scheduler.rotation.bounds.pigeonhole import Bound
from scheduler.rotation.price import LEVEL
from scheduler.rotation.problem import Problem

MOST_PLAYERS = 32
"""Above so many players the programs are left out: matches grow with the fourth power."""


def blend_bound(problem: Problem, opponents: Bound, gap_sum: Bound) -> Bound:
    """Bound the exchange times the opponent repeats plus the sum of the gaps.

    (1) The least repeats and the least gaps added up. (2) Where the emphasis
    is on the blend, the price of the best mix of matches that ignores which
    round is which (`blend.certificate`). The larger of the two is moved up to
    the next price there can be (`_next_possible`).

    The more people and the fewer rounds, the less (2) can say: where whole
    rounds without any gap can be mixed, in fractions, so that no pair opposes
    more than once, it is 0, though nobody may be able to seat such an evening.
    """
    exchange = Fraction(str(problem.event.exchange)) * LEVEL
    apart = floor(exchange * opponents.value + round(gap_sum.value * LEVEL))
    pool = pool_of(problem, floor(exchange))
    mixed = _least_price(pool) if _is_worth_it(problem, pool) else 0
    best = max(apart, mixed)
    if exchange == pool.exchange:
        best = _next_possible(pool, best)
    proof = _MIX if mixed > apart else "exchange times the opponents' bound plus the gaps' bound"
    return Bound(round(best / LEVEL, 6), proof)


_MIX = "linear programming dual of the best mix of matches, checked in whole numbers"


def _is_worth_it(problem: Problem, pool: Pool) -> bool:
    return (
        problem.event.emphasis is Emphasis.BLEND
        and pool.exchange > 0
        and len(set(pool.levels)) > 1
        and pool.players <= MOST_PLAYERS
    )


def blend_beside(problem: Problem, partner_repeats: int, unfairness: float) -> float | None:
    """Bound the blend price for plans with so many partner repeats and rests no less fair.

    With any price on a partner repeat, gaps and all repeats cost at least
    what the best mix costs; a plan with so many partner repeats pays so
    many times that price for them, and the rest is its blend price. Where
    nothing but rests keeps people from matches, the distance from fair shares
    says how many matches everybody plays.

    Returns
    -------
    float or None
        In levels; None where partners are not all counted alike.
    """
    alike = not problem.uncounted_partners and not any(s.keeps_teams for s in problem.shapes)
    exchange = Fraction(str(problem.event.exchange)) * LEVEL
    pool = pool_of(problem, floor(exchange))
    if not alike or not _is_worth_it(problem, pool):
        return None
    pool = replace(with_fair_rests(pool, problem, unfairness), partner=_PARTNER)
    best = _least_price(pool) - _PARTNER * partner_repeats
    if exchange == pool.exchange:
        best = _next_possible(pool, best)
    return round(best / LEVEL, 6)


_PARTNER = 20 * LEVEL
"""Price of a partner repeat where they are given: more than any gap."""


@lru_cache(maxsize=16)
def _least_price(pool: Pool) -> int:
    from scheduler.rotation.bounds.blend.fractional import least_price  # noqa: PLC0415  slow
    from scheduler.rotation.bounds.blend.pool import Matches  # noqa: PLC0415

    return least_price(Matches(pool))


def _next_possible(pool: Pool, least: int) -> int:
    """Return the least blend price there can be from a bound on.

    With all levels multiples of a unit u, every gap is one. Where all who are
    there play in every round, the gaps' sum is also even or odd, in units,
    as the sum of everybody's levels over the rounds they are there. Repeats
    come in steps of the exchange.
    """
    unit = gcd(*pool.levels) * UNITS
    if not unit:
        return least
    first = 0
    if pool.fewest == pool.most:
        played = sum(level * turns for level, turns in zip(pool.levels, pool.most, strict=True))
        first, unit = played * UNITS % (2 * unit), 2 * unit
    step = gcd(unit, pool.exchange)
    return least + (first - least) % step
