"""Wishes and earlier evenings in the kernel's three forms of price.

*Linear* prices hang on two people standing in a relation in a round, *unary*
prices on one person being on a court (or resting), and *pair classes* choose
the table by which a pair's counts over the evening are priced.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from scheduler.domain.event import WishKind
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import Demand, Problem, pair

PARTNER, OPPONENT, TOGETHER, BOTH_REST = range(4)
NO_LIMIT = 2**15
Counts = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class LinearTerm:
    """A price on two people standing in a relation."""

    relation: int
    one: int
    other: int
    price: int


@dataclass(frozen=True, slots=True)
class UnaryTerm:
    """A price on one person being on a court; the court after the last one means resting."""

    player: int
    court: int
    price: int


@dataclass(frozen=True, slots=True)
class PairClass:
    """How a pair's counts are priced.

    `head_start` partnerships count as had already (fixed teams), `uncounted`
    partnerships do not count (a must makes them), and the two prices are what
    a pair pays that never partners or never opposes although it should.
    """

    head_start: int = 0
    uncounted: bool = False
    partners_once: int = 0
    against_once: int = 0

    def table(self, prices: Prices, partners: Counts, opponents: Counts, drills: Counts) -> Counts:
        """Return the price for each triple of counts (arrays of one shape)."""
        counted = 0 * partners if self.uncounted else partners + self.head_start
        met = counted + opponents
        table: Counts = (
            prices.partner * times(counted)
            + prices.opponent * times(opponents)
            + prices.meeting * times(met)
            + prices.drill * times(drills)
            + prices.together * times(met + drills)
            + self.partners_once * (partners + self.head_start == 0)
            + self.against_once * (opponents == 0)
        )
        return table


def times(count: Counts) -> Counts:
    """Return the number of pairs of times, k(k-1)/2, of each count."""
    return count * (count - 1) // 2


def pair_classes(problem: Problem, prices: Prices) -> dict[tuple[int, int], PairClass]:
    """Return the class of every pair that is not priced in the plain way."""
    classes: dict[tuple[int, int], PairClass] = {}

    def change(one: int, other: int, **what: Any) -> None:
        key = pair(one, other)
        classes[key] = replace(classes.get(key, PairClass()), **what)

    for one, other in problem.all_teams:
        change(one, other, head_start=1)
    for one, other in sorted(problem.uncounted_partners):
        change(one, other, uncounted=True)
    for demand in problem.demands:
        if demand.wish.round is not None:
            continue
        if demand.kind is WishKind.PARTNERS_ONCE:
            change(demand.player, demand.other, partners_once=_price(demand, prices))
        if demand.kind is WishKind.AGAINST_ONCE:
            change(demand.player, demand.other, against_once=_price(demand, prices))
    return classes


def linear_terms(problem: Problem, prices: Prices, number: int) -> tuple[LinearTerm, ...]:
    """Return the linear prices that hold in one round."""
    shape = problem.shapes[number]
    present = set(shape.players)
    terms = list(_earlier_terms(problem, prices, drill=shape.is_drill))
    if number in problem.printed:
        for one, other in problem.printed[number].partners:
            terms.append(LinearTerm(PARTNER, one, other, -prices.parted))
    for demand in problem.demands:
        if number in demand.rounds and {demand.player, demand.other} <= present:
            terms.extend(_demand_terms(demand, prices, drill=shape.is_drill))
    return tuple(terms)


def _demand_terms(demand: Demand, prices: Prices, *, drill: bool) -> Iterator[LinearTerm]:
    price = _price(demand, prices)
    relations: dict[int, int] = {}
    match demand.kind:
        case WishKind.NOT_PARTNERS:
            relations = {PARTNER: price}
        case WishKind.NOT_SAME_COURT:
            relations = {TOGETHER: price} if drill else _sharing(price)
        case WishKind.SAME_COURT:
            relations = {TOGETHER: -price}
        case WishKind.PARTNERS:
            relations = {PARTNER: -price, BOTH_REST: -price}
        case WishKind.PARTNERS_ONCE if demand.wish.round is not None:
            relations = {PARTNER: -price}
        case WishKind.AGAINST_ONCE if demand.wish.round is not None:
            relations = {OPPONENT: -price}
    for relation, amount in relations.items():
        yield LinearTerm(relation, demand.player, demand.other, amount)


def _sharing(price: int) -> dict[int, int]:
    return dict.fromkeys((PARTNER, OPPONENT, TOGETHER), price)


def _earlier_terms(problem: Problem, prices: Prices, *, drill: bool) -> Iterator[LinearTerm]:
    """Price a meeting by how often the two met in that role on earlier evenings, faded."""
    index = {player.name: i for i, player in enumerate(problem.event.players)}
    for earlier in problem.event.earlier:
        one, other = index[earlier.player], index[earlier.other]
        if drill:
            yield LinearTerm(TOGETHER, one, other, round(prices.drill * earlier.faded_drills))
            continue
        met = earlier.faded_partners + earlier.faded_opponents
        meeting = round(prices.meeting * met)
        partner = round(prices.earlier_partner * earlier.faded_partners) + meeting
        opponent = round(prices.earlier_opponent * earlier.faded_opponents) + meeting
        yield LinearTerm(PARTNER, one, other, partner)
        yield LinearTerm(OPPONENT, one, other, opponent)


def unary_terms(problem: Problem, prices: Prices, number: int) -> tuple[UnaryTerm, ...]:
    """Return the unary prices that hold in one round."""
    present = set(problem.shapes[number].players)
    terms: list[UnaryTerm] = list(_moved_terms(problem, prices, number))
    for demand in problem.demands:
        if number not in demand.rounds or demand.player not in present:
            continue
        price = _price(demand, prices)
        at_most = demand.wish.round is not None and demand.kind is WishKind.PLAYS_AT_MOST
        if demand.kind is WishKind.ON_COURT:
            barred = [court for court in range(problem.courts) if court != demand.other]
        elif demand.kind is WishKind.RESTS or (at_most and demand.number == 0):
            barred = list(range(problem.courts))
        else:
            continue
        terms.extend(UnaryTerm(demand.player, court, price) for court in barred)
    return tuple(terms)


def _moved_terms(problem: Problem, prices: Prices, number: int) -> Iterator[UnaryTerm]:
    """Price every place but the printed one, resting included."""
    if number not in problem.printed:
        return
    for player, place in problem.printed[number].places:
        for other in range(problem.courts + 1):
            if other != place:
                yield UnaryTerm(player, other, prices.moved)


@dataclass(frozen=True, slots=True)
class Limits:
    """Each player's limits on rounds played, in all and running, and what one over costs."""

    most_plays: list[int] = field(default_factory=list)
    most_running: list[int] = field(default_factory=list)
    plays_price: list[int] = field(default_factory=list)
    running_price: list[int] = field(default_factory=list)


def limits_of(problem: Problem, prices: Prices) -> Limits:
    """Return every player's limits; a must goes before a should."""
    people = range(problem.players)
    limits = Limits(
        [NO_LIMIT for _ in people],
        [NO_LIMIT for _ in people],
        [0 for _ in people],
        [0 for _ in people],
    )
    for demand in sorted(problem.demands, key=lambda d: (d.must, -d.number)):
        if demand.wish.round is not None:
            continue
        if demand.kind is WishKind.PLAYS_AT_MOST:
            limits.most_plays[demand.player] = demand.number
            limits.plays_price[demand.player] = _price(demand, prices)
        if demand.kind is WishKind.ROUNDS_RUNNING_AT_MOST:
            limits.most_running[demand.player] = demand.number
            limits.running_price[demand.player] = _price(demand, prices)
    return limits


def _price(demand: Demand, prices: Prices) -> int:
    return prices.must if demand.must else prices.should
