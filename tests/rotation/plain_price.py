"""The price of a seating, written out by hand from what each price is said to be for.

Shares no code with the kernel's tables (``rotation/kernel/wishes.py``, ``arrays.py``):
everything is counted here seat by seat. ``Prices`` and the problem's own facts
(shapes, demands, fair ranges of rests) are taken as given.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import combinations, pairwise

from scheduler.domain.event import WishKind
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import BlockKind, Demand, Problem, Solution

REST = "rest"


@dataclass(frozen=True)
class Place:
    """Where one person is in one round: the block's number and kind, the court, the seat."""

    block: int
    kind: BlockKind
    court: int
    seat: int


def places_of(problem: Problem, solution: Solution) -> list[dict[int, Place]]:
    """Return for each round where everybody is; the court of resting is the number of courts."""
    result = []
    for shape, seating in zip(problem.shapes, solution, strict=True):
        here = {p: Place(-1, BlockKind.REST, problem.courts, 0) for p in seating.rest}
        for number, (block, people) in enumerate(zip(shape.blocks, seating.blocks, strict=True)):
            for seat, player in enumerate(people):
                here[player] = Place(number, block.kind, seating.courts[number], seat)
        result.append(here)
    return result


def relation(here: dict[int, Place], one: int, other: int) -> str:
    """Return what two people are to each other in one round."""
    if one not in here or other not in here:
        return "not there"
    a, b = here[one], here[other]
    if a.block != b.block:
        return "apart"
    if a.kind is BlockKind.REST:
        return "both rest"
    if a.kind is BlockKind.MATCH:
        return "partners" if a.seat // 2 == b.seat // 2 else "opponents"
    return "group" if a.kind is BlockKind.GROUP else "spare court"


def twice(times: int) -> int:
    """Return how many pairs of times there are."""
    return times * (times - 1) // 2


def plain_price(
    problem: Problem, prices: Prices, solution: Solution, *, courts: bool = True
) -> int:
    """Return the price of a solution, constants for kept wishes (negative) included."""
    places = places_of(problem, solution)
    return (
        _pairs(problem, prices, places)
        + _past(problem, prices, places)
        + sum(_wish(problem, prices, places, demand) for demand in problem.demands)
        + _levels(problem, prices, solution)
        + _rests(problem, prices, places)
        + _printed(problem, prices, places)
        + (_visits(problem, prices, places) if courts else 0)
    )


def _weight(prices: Prices, demand: Demand) -> int:
    return prices.must if demand.must else prices.should


def _pairs(problem: Problem, prices: Prices, places: list[dict[int, Place]]) -> int:
    total = 0
    for one, other in combinations(range(problem.players), 2):
        seen = Counter()
        for shape, here in zip(problem.shapes, places, strict=True):
            seen[relation(here, one, other), shape.keeps_teams] += 1
        partners = seen["partners", False] + ((one, other) in problem.all_teams)
        opponents = seen["opponents", False] + seen["opponents", True]
        drills = seen["group", False]
        counted = 0 if (one, other) in problem.uncounted_partners else partners
        total += prices.partner * twice(counted) + prices.opponent * twice(opponents)
        total += prices.meeting * twice(counted + opponents) + prices.drill * twice(drills)
        total += prices.together * twice(counted + opponents + drills)
        total += _never(problem, prices, (one, other), partners, opponents)
    return total


def _never(
    problem: Problem, prices: Prices, both: tuple[int, int], partners: int, opponents: int
) -> int:
    """Price two people who should meet once and never do; of several such wishes the last holds."""
    price = {WishKind.PARTNERS_ONCE: 0, WishKind.AGAINST_ONCE: 0}
    for demand in problem.demands:
        of_both = {demand.player, demand.other} == set(both)
        if demand.kind in price and demand.wish.round is None and of_both:
            price[demand.kind] = _weight(prices, demand)
    never_partners = price[WishKind.PARTNERS_ONCE] * (partners == 0)
    return never_partners + price[WishKind.AGAINST_ONCE] * (opponents == 0)


def _past(problem: Problem, prices: Prices, places: list[dict[int, Place]]) -> int:
    """Price meetings by the faded meetings of earlier evenings, in rounds not yet played."""
    index = {player.name: i for i, player in enumerate(problem.event.players)}
    total = 0
    for past in problem.event.earlier:
        met = round(prices.meeting * (past.faded_partners + past.faded_opponents))
        price = {
            "partners": round(prices.earlier_partner * past.faded_partners) + met,
            "opponents": round(prices.earlier_opponent * past.faded_opponents) + met,
            "group": round(prices.drill * past.faded_drills),
        }
        for number in problem.free:
            total += price.get(relation(places[number], index[past.player], index[past.other]), 0)
    return total


def _wish(problem: Problem, prices: Prices, places: list[dict[int, Place]], demand: Demand) -> int:
    """Price one wish round by round (those asked for once over the evening are in the pairs)."""
    price = _weight(prices, demand)
    total = 0
    for number in demand.rounds:
        if number in problem.free and demand.player in places[number]:
            total += price * _kept_or_broken(problem, places[number], demand)
    return total


def _kept_or_broken(problem: Problem, here: dict[int, Place], demand: Demand) -> int:
    """Return 1 where a round breaks a wish, -1 where it keeps one that rewards, else 0."""
    on_court = here[demand.player].court < problem.courts
    now = relation(here, demand.player, demand.other)
    this_round = demand.wish.round is not None
    meaning = {
        WishKind.RESTS: on_court,
        WishKind.ON_COURT: on_court and here[demand.player].court != demand.other,
        WishKind.PLAYS_AT_MOST: this_round and demand.number == 0 and on_court,
        WishKind.ROUNDS_RUNNING_AT_MOST: False,
        WishKind.NOT_PARTNERS: now == "partners",
        WishKind.NOT_SAME_COURT: now in {"partners", "opponents", "group", "spare court"},
        WishKind.SAME_COURT: -(now == "group"),
        WishKind.PARTNERS: -(now in {"partners", "both rest"}),
        WishKind.PARTNERS_ONCE: -(this_round and now == "partners"),
        WishKind.AGAINST_ONCE: -(this_round and now == "opponents"),
    }
    return int(meaning[demand.kind])


def _levels(problem: Problem, prices: Prices, solution: Solution) -> int:
    total = 0
    for shape, seating in zip(problem.shapes, solution, strict=True):
        there = [problem.levels[player] for player in shape.players]
        mean = round(sum(there) / len(there)) if there else 0
        for block, people in zip(shape.blocks, seating.blocks, strict=True):
            levels = [problem.levels[player] for player in people]
            if block.kind is BlockKind.MATCH:
                gap = abs(levels[0] + levels[1] - levels[2] - levels[3])
                total += prices.gap * gap + prices.wide_gap * max(0, gap - prices.wide_from)
            if block.kind in {BlockKind.MATCH, BlockKind.GROUP}:
                if shape.levels == "alike":
                    total += prices.spread * (max(levels) - min(levels))
                if shape.levels == "mixed":
                    total += prices.mix * abs(sum(levels) - len(levels) * mean)
    return total


def _rests(problem: Problem, prices: Prices, places: list[dict[int, Place]]) -> int:
    total = 0
    for player in range(problem.players):
        doing = [here[player].kind.name if player in here else "ABSENT" for here in places]
        rests = doing.count("REST")
        fewest, most = problem.rest_ranges[player]
        off = max(fewest - rests, rests - most, 0)
        back_to_back = sum(a == b == "REST" for a, b in pairwise(doing))
        total += prices.rest_unfair * off**2 + prices.back_to_back * back_to_back
        total += prices.spare * doing.count("SPARE") ** 2
        total += _limits(problem, prices, player, [what in PLAYING for what in doing])
    return total


PLAYING = {"MATCH", "GROUP", "SPARE"}


def _limits(problem: Problem, prices: Prices, player: int, plays: list[bool]) -> int:
    """Price rounds over a limit; of several limits a must counts, then the smallest."""
    total = 0
    for kind in (WishKind.PLAYS_AT_MOST, WishKind.ROUNDS_RUNNING_AT_MOST):
        asked = [
            d
            for d in problem.demands
            if d.kind is kind and d.player == player and d.wish.round is None
        ]
        if asked:
            demand = max(asked, key=lambda d: (d.must, -d.number))
            over = sum(plays) - demand.number
            if kind is WishKind.ROUNDS_RUNNING_AT_MOST:
                over = sum(
                    n >= demand.number and all(plays[n - demand.number : n + 1])
                    for n in range(len(plays))
                )
            total += _weight(prices, demand) * max(0, over)
    return total


def _printed(problem: Problem, prices: Prices, places: list[dict[int, Place]]) -> int:
    total = 0
    for number, printed in problem.printed.items():
        here = places[number]
        total += prices.moved * sum(here[p].court != court for p, court in printed.places)
        kept = [both for both in printed.partners if relation(here, *both) == "partners"]
        total -= prices.parted * len(kept)
    return total


def _visits(problem: Problem, prices: Prices, places: list[dict[int, Place]]) -> int:
    stationed = {station.court for station in problem.event.stations}
    visits, stations = Counter(), Counter()
    for here in places:
        for player, place in here.items():
            if place.court < problem.courts:
                visits[player, place.court] += 1
                name = problem.event.courts[place.court].name
                stations[player, place.court] += place.kind is BlockKind.GROUP and name in stationed
    return prices.court * sum(map(twice, visits.values())) + prices.station * sum(
        map(twice, stations.values())
    )
