"""A problem and its prices as the flat arrays the kernel reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from scheduler.domain.event import WishKind
from scheduler.rotation.kernel.wishes import (
    LinearTerm,
    PairClass,
    UnaryTerm,
    limits_of,
    linear_terms,
    pair_classes,
    times,
    unary_terms,
)
from scheduler.rotation.price import Prices
from scheduler.rotation.problem import BlockKind, Problem, Seating, Solution

Ints = npt.NDArray[np.int32]
Longs = npt.NDArray[np.int64]
Data = dict[str, npt.NDArray[Any]]
Term = TypeVar("Term", LinearTerm, UnaryTerm)

FROZEN, KEEPS_TEAMS, DRILL = 1, 2, 4
RELATIONS = 4
NUMBERS = (
    "players",
    "rounds",
    "courts",
    "codes",
    "opponent_step",
    "group_step",
    "station_step",
    "classes",
    "free_seats",
    "free_rests",
    "free_rounds",
    "gap_price",
    "wide_gap_price",
    "wide_from",
    "visits_count",
)
FIELDS = (
    *NUMBERS,
    "round_seat",
    "round_block",
    "round_place",
    "round_flags",
    "round_unary",
    "round_linear",
    "round_spread",
    "round_mix",
    "round_mean",
    "seat",
    "block_kind",
    "block_seat",
    "block_size",
    "seat_mask",
    "place_court",
    "free_seat",
    "free_rest",
    "free_round",
    "level",
    "mate",
    "twin",
    "kin",
    "by_level",
    "rank",
    "fewest_rests",
    "most_rests",
    "most_plays",
    "most_running",
    "at_station",
    "bit",
    "code",
    "class_of",
    "pair_price",
    "step_price",
    "turns",
    "dearer_drill",
    "cheaper_drill",
    "linear",
    "unary",
    "visits",
    "visit_price",
    "rest_price",
    "rests_cost",
    "plays_price",
    "running_price",
    "doing",
    "where",
    "best_player",
    "best_court",
    "minus_log",
)
"""The fields of ``struct problem`` in kernel.c, in order."""

SEAT = ("block", "round", "match", "mate", "left", "player", "level", "gap")
"""The fields of ``struct seat`` there."""


@dataclass(frozen=True)
class Arrays:
    """Numbers and arrays by the kernel's names for them, and the way in and out."""

    numbers: dict[str, int]
    data: Data

    def seats_of(self, solution: Solution) -> tuple[list[int], list[int]]:
        """Return a solution as the player of each seat and the court of each place."""
        seats: list[int] = []
        courts: list[int] = []
        first = self.data["round_place"].tolist()
        usual = self.data["place_court"].tolist()
        for number, seating in enumerate(solution):
            for block in seating.blocks:
                seats.extend(block)
            seats.extend(self._resting(number, seating.rest))
            idle = [c for c in usual[first[number] : first[number + 1]] if c not in seating.courts]
            courts.extend([*seating.courts, *sorted(idle)])
        return seats, courts

    def _resting(self, number: int, resting: tuple[int, ...]) -> list[int]:
        """Return who rests, each in a rest seat that lets them in; solutions list them by index."""
        last = int(self.data["round_seat"][number + 1])
        masks = self.data["seat_mask"][last - len(resting) : last].tolist()
        bit = self.data["bit"][number].tolist()
        left = list(resting)
        seats = []
        for mask in masks:
            player = next(player for player in left if bit[player] & mask)
            left.remove(player)
            seats.append(player)
        return seats

    def solution_of(self, problem: Problem, seats: list[int], courts: list[int]) -> Solution:
        """Return the solution that seats and places describe."""
        result = []
        at = 0
        first = self.data["round_place"].tolist()
        for number, shape in enumerate(problem.shapes):
            blocks = []
            for block in shape.blocks:
                blocks.append(tuple(seats[at : at + block.size]))
                at += block.size
            rest = tuple(sorted(seats[at : at + len(shape.rest)]))
            at += len(shape.rest)
            place = first[number]
            result.append(
                Seating(tuple(blocks), tuple(courts[place : place + len(shape.blocks)]), rest)
            )
        return tuple(result)


def arrays_of(problem: Problem, prices: Prices) -> Arrays:
    """Return everything the kernel needs to know of a problem at these prices."""
    data: Data = {}
    numbers = {
        "players": problem.players,
        "rounds": len(problem.shapes),
        "courts": problem.courts,
        "gap_price": prices.gap,
        "wide_gap_price": prices.wide_gap,
        "wide_from": prices.wide_from,
    }
    _layout(problem, data)
    _rounds(problem, prices, data)
    _draws(problem, data, numbers)
    _people(problem, prices, data)
    _pairs(problem, prices, data, numbers)
    _tables(problem, prices, data)
    _places(problem, prices, data, numbers)
    data["minus_log"] = _whole(np.round(-1024 * np.log((np.arange(4096) + 0.5) / 4096)))
    data["best_player"] = np.zeros(len(data["seat"]), dtype=np.int32)
    data["best_court"] = np.zeros_like(data["place_court"])
    return Arrays(numbers, data)


def _whole(values: object) -> Ints:
    return np.asarray(values, dtype=np.int32)


def _layout(problem: Problem, data: Data) -> None:
    """Seats of all rounds in a row: those of each block, then the rests."""
    seats: dict[str, list[int]] = {"block": [], "round": []}
    masks: list[int] = []
    blocks: dict[str, list[int]] = {"kind": [], "seat": [], "size": []}
    starts: dict[str, list[int]] = {"seat": [0], "block": [0], "place": [0]}
    courts: list[int] = []
    for number, shape in enumerate(problem.shapes):
        every = [(block.kind, block.masks) for block in shape.blocks]
        for kind, let_in in [*every, (BlockKind.REST, shape.rest)]:
            blocks["kind"].append(kind)
            blocks["seat"].append(len(masks))
            blocks["size"].append(len(let_in))
            seats["block"].extend([len(blocks["kind"]) - 1] * len(let_in))
            seats["round"].extend([number] * len(let_in))
            masks.extend(let_in)
        courts.extend(shape.courts)
        starts["seat"].append(len(masks))
        starts["block"].append(len(blocks["kind"]))
        starts["place"].append(len(courts))
    data["seat"] = _seats(seats, blocks)
    for name, values in blocks.items():
        data[f"block_{name}"] = _whole(values)
    for name, values in starts.items():
        data[f"round_{name}"] = _whole(values)
    data["seat_mask"] = _whole(masks)
    data["place_court"] = _whole(courts)


def _seats(seats: dict[str, list[int]], blocks: dict[str, list[int]]) -> Ints:
    """Return the records of the seats, `SEAT` columns each, nobody sitting there yet."""
    table = np.zeros((len(seats["block"]), len(SEAT)), dtype=np.int32)
    for name, values in seats.items():
        table[:, SEAT.index(name)] = values
    number = np.arange(len(table), dtype=np.int32)
    first = _whole(blocks["seat"])[seats["block"]] if len(table) else number
    place = number - first
    table[:, SEAT.index("mate")] = first + (place ^ 1)
    table[:, SEAT.index("left")] = first + (~place & 2)
    return table


def _rounds(problem: Problem, prices: Prices, data: Data) -> None:
    """Set each round's flags and what levels cost in it."""
    flags, spread, mix, mean = [], [], [], []
    for number, shape in enumerate(problem.shapes):
        frozen = number < len(problem.played)
        flags.append(FROZEN * frozen + KEEPS_TEAMS * shape.keeps_teams + DRILL * shape.is_drill)
        spread.append(prices.spread if shape.levels == "alike" else 0)
        mix.append(prices.mix if shape.levels == "mixed" else 0)
        total = sum(problem.levels[player] for player in shape.players)
        mean.append(round(total / len(shape.players)) if shape.players else 0)
    data["round_flags"] = _whole(flags)
    data["round_spread"] = _whole(spread)
    data["round_mix"] = _whole(mix)
    data["round_mean"] = _whole(mean)


def _draws(problem: Problem, data: Data, numbers: dict[str, int]) -> None:
    """List what the search draws from: seats and rounds not yet played."""
    free = set(problem.free)
    seat_round = data["seat"][:, SEAT.index("round")].tolist()
    kinds = data["block_kind"][data["seat"][:, SEAT.index("block")]].tolist()
    seats = [s for s, r in enumerate(seat_round) if r in free]
    lists = {
        "free_seat": seats,
        "free_rest": [s for s in seats if kinds[s] == BlockKind.REST],
        "free_round": list(problem.free),
    }
    for name, values in lists.items():
        data[name] = _whole(values)
        numbers[f"{name}s"] = len(values)


def _people(problem: Problem, prices: Prices, data: Data) -> None:
    limits = limits_of(problem, prices)
    data["level"] = _whole(problem.levels)
    data["mate"] = _whole(_mates(problem))
    data["twin"] = _whole(_twins(problem))
    data["kin"] = _whole(problem.kin)
    data["by_level"] = _whole(np.argsort(data["level"], kind="stable"))
    data["rank"] = _whole(np.argsort(data["by_level"], kind="stable"))
    data["fewest_rests"] = _whole([fewest for fewest, _ in problem.rest_ranges])
    data["most_rests"] = _whole([most for _, most in problem.rest_ranges])
    data["most_plays"] = _whole(limits.most_plays)
    data["most_running"] = _whole(limits.most_running)
    data["plays_price"] = np.asarray(limits.plays_price, dtype=np.int64)
    data["running_price"] = np.asarray(limits.running_price, dtype=np.int64)
    data["rests_cost"] = np.zeros(problem.players, dtype=np.int64)
    data["rest_price"] = np.asarray(
        [prices.rest_unfair, prices.back_to_back, prices.spare], dtype=np.int64
    )
    data["doing"] = np.zeros(problem.players * len(problem.shapes), dtype=np.uint8)
    data["where"] = np.zeros(problem.players * len(problem.shapes), dtype=np.int32)
    bits = np.zeros((len(problem.shapes), problem.players), dtype=np.uint8)
    for number, shape in enumerate(problem.shapes):
        bits[number, list(shape.players)] = shape.bits
    data["bit"] = bits


def _mates(problem: Problem) -> list[int]:
    """Return who moves along with whom: the fixed teams, or where there are none, must-partners.

    In rounds of fixed teams whoever has a mate may take a team's seats, so
    people who must be partners elsewhere but are no team have none.
    """
    mates = [-1] * problem.players
    for one, other in problem.teams or sorted(problem.uncounted_partners):
        mates[one], mates[other] = other, one
    return mates


def _twins(problem: Problem) -> list[int]:
    """Return for everybody kept apart from just one other, who is so too, that other; else -1."""
    apart: dict[int, set[int]] = {}
    for demand in problem.demands:
        if demand.kind is WishKind.NOT_SAME_COURT and demand.must and demand.wish.round is None:
            apart.setdefault(demand.player, set()).add(demand.other)
            apart.setdefault(demand.other, set()).add(demand.player)
    twins = [-1] * problem.players
    for player, others in apart.items():
        other = next(iter(others))
        if len(others) == 1 and len(apart[other]) == 1:
            twins[player] = other
    return twins


def _pairs(
    problem: Problem,
    prices: Prices,
    data: Data,
    numbers: dict[str, int],
) -> None:
    """Codes of pairs and the price tables of their classes."""
    matches = 1 + sum(not shape.is_drill for shape in problem.shapes)
    drills = 1 + sum(shape.is_drill for shape in problem.shapes)
    numbers["opponent_step"] = matches
    numbers["group_step"] = matches * matches
    numbers["codes"] = matches * matches * drills
    classes = pair_classes(problem, prices)
    tables = list(dict.fromkeys([PairClass(), *classes.values()]))
    class_of = np.zeros((problem.players, problem.players), dtype=np.uint8)
    for (one, other), kind in classes.items():
        class_of[one, other] = class_of[other, one] = tables.index(kind)
    data["class_of"] = class_of
    numbers["classes"] = len(tables)
    code = np.arange(numbers["codes"], dtype=np.int64)
    counts = code % matches, code // matches % matches, code // (matches * matches)
    priced = [kind.table(prices, *counts) for kind in tables]
    data["pair_price"] = np.concatenate(priced)
    steps = (1, matches, matches * matches)
    data["step_price"] = np.concatenate([_steps(table, counts, steps) for table in priced])
    data["code"] = np.zeros((problem.players, problem.players), dtype=np.int32)
    for name, words in {"turns": 4, "dearer_drill": 1, "cheaper_drill": 1}.items():
        data[name] = np.zeros((problem.players, problem.players, words), dtype=np.int64)


def _steps(table: Longs, counts: tuple[Longs, Longs, Longs], steps: tuple[int, ...]) -> Longs:
    """Return for each code what one more and one less of each relation change in the price.

    Zero where a count cannot go further up or down.
    """
    more, less = [], []
    for step, count in zip(steps, counts, strict=True):
        above = np.append(table[step:], [0] * step) - table
        below = np.append([0] * step, table[:-step]) - table
        more.append(np.where(count < count.max(), above, 0))
        less.append(np.where(count > 0, below, 0))
    return np.stack([*more, *less], axis=1)


def _tables(problem: Problem, prices: Prices, data: Data) -> None:
    """Linear and unary prices; rounds with the same ones share a table."""
    rounds = range(len(problem.shapes))
    free = set(problem.free)
    linear = [linear_terms(problem, prices, r) if r in free else () for r in rounds]
    unary = [unary_terms(problem, prices, r) if r in free else () for r in rounds]
    data["round_linear"], terms = _shared(linear)
    people = problem.players
    tables = np.zeros((len(terms), RELATIONS, people, people), dtype=np.int64)
    for number, group in enumerate(terms):
        for term in group:
            tables[number, term.relation, term.one, term.other] += term.price
            tables[number, term.relation, term.other, term.one] += term.price
    data["linear"] = tables
    data["round_unary"], places = _shared(unary)
    costs = np.zeros((len(places), people, problem.courts + 1), dtype=np.int64)
    for number, where in enumerate(places):
        for place in where:
            costs[number, place.player, place.court] += place.price
    data["unary"] = costs


def _shared(terms: list[tuple[Term, ...]]) -> tuple[Ints, list[tuple[Term, ...]]]:
    """Return for each round the index of its table (-1 for none) and the distinct tables."""
    distinct = list(dict.fromkeys(group for group in terms if group))
    return _whole([distinct.index(group) if group else -1 for group in terms]), distinct


def _places(problem: Problem, prices: Prices, data: Data, numbers: dict[str, int]) -> None:
    """Visits to courts, and what coming back costs."""
    step = len(problem.shapes) + 1
    numbers["station_step"] = step
    drills = 1 + sum(shape.is_drill for shape in problem.shapes)
    code = np.arange(step * drills, dtype=np.int64)
    visits, stations = code % step, code // step
    data["visit_price"] = prices.court * times(visits) + prices.station * times(stations)
    stationed = problem.event.station_by_court
    data["at_station"] = np.asarray(
        [court.name in stationed for court in problem.event.courts], dtype=np.uint8
    )
    numbers["visits_count"] = 1
    data["visits"] = np.zeros((problem.players, problem.courts), dtype=np.uint16)
