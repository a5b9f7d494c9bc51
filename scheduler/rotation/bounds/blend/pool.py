"""All matches of an evening thrown together, whichever round they are played in."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import combinations
from math import ceil, floor
from operator import sub

import numpy as np
import numpy.typing as npt

from scheduler.domain.event import Kind
from scheduler.rotation.bounds.reach import is_pure, matches_of
from scheduler.rotation.price import LEVEL
from scheduler.rotation.problem import LEVEL_UNITS, BlockKind, Problem, Shape

Ints = npt.NDArray[np.int64]

UNITS = LEVEL // LEVEL_UNITS
"""Prices are whole millionths of a level; levels are whole thousandths."""


@dataclass(frozen=True, slots=True)
class Pool:
    """What is left of an evening when it is forgotten which round a match is in.

    Parameters
    ----------
    levels
        Level of everybody who is in a round with matches, in thousandths.
    groups
        Number of the group each of them belongs to.
    kinds
        What sorts of matches there are: ``mixed``, ``group against group``,
        or ``doubles`` for anything.
    fewest, most
        Matches that everybody plays at least and at most.
    matches
        How many matches there are in all.
    whole
        Rounds in which everybody there plays a match, as (bit set of
        players, number of such rounds).
    exchange
        Price of an opponent repeat in millionths of a level, rounded down.
    partner
        Price of a partner repeat likewise; 0 where partners play no part.
    """

    levels: tuple[int, ...]
    groups: tuple[int, ...]
    kinds: tuple[Kind, ...]
    fewest: tuple[int, ...]
    most: tuple[int, ...]
    matches: int
    whole: tuple[tuple[int, int], ...]
    exchange: int
    partner: int = 0

    @property
    def players(self) -> int:
        """How many people are in it."""
        return len(self.levels)


def pool_of(problem: Problem, exchange: int) -> Pool:
    """Return the pool of an evening's matches."""
    rounds = [shape for shape in problem.shapes if matches_of(shape)]
    people = sorted({player for shape in rounds for player in shape.players})
    place = {player: i for i, player in enumerate(people)}
    there = Counter(player for shape in rounds for player in shape.players)
    playing = Counter(player for shape in rounds if _is_whole(shape) for player in shape.players)
    whole = Counter(
        sum(1 << place[player] for player in shape.players) for shape in rounds if _is_whole(shape)
    )
    groups = sorted({problem.event.players[player].group for player in people})
    return Pool(
        levels=tuple(problem.levels[player] for player in people),
        groups=tuple(groups.index(problem.event.players[player].group) for player in people),
        kinds=tuple(sorted({_kind_of_match(shape) for shape in rounds})),
        fewest=tuple(playing[player] for player in people),
        most=tuple(there[player] for player in people),
        matches=sum(matches_of(shape) for shape in rounds),
        whole=tuple(sorted(whole.items(), key=lambda item: (-item[1], item[0]))),
        exchange=exchange,
    )


def with_fair_rests(pool: Pool, problem: Problem, unfairness: float) -> Pool:
    """Return the pool with matches narrowed to rests so far from the fair shares at most.

    Only where whoever is in no match of a round rests; else the pool as it is.
    """
    rounds = [shape for shape in problem.shapes if shape.players]
    if not all(_rests_or_plays(shape) for shape in rounds):
        return pool
    off = Fraction(unfairness) + Fraction(1, LEVEL)  # the figure is rounded to millionths
    people = sorted({player for shape in rounds if matches_of(shape) for player in shape.players})
    there = Counter(player for shape in rounds if not shape.is_drill for player in shape.players)
    most_rests = [floor(problem.shares[player] + off) for player in people]
    fewest_rests = [ceil(problem.shares[player] - off) for player in people]
    turns = [there[player] for player in people]
    return replace(
        pool,
        fewest=tuple(map(max, pool.fewest, map(sub, turns, most_rests))),
        most=tuple(map(min, pool.most, map(sub, turns, fewest_rests))),
    )


def _rests_or_plays(shape: Shape) -> bool:
    if shape.is_drill:
        return not shape.rest
    return all(block.kind is BlockKind.MATCH for block in shape.blocks)


def _is_whole(shape: Shape) -> bool:
    """Return whether everybody there plays a match."""
    return 4 * matches_of(shape) == len(shape.players)


def _kind_of_match(shape: Shape) -> Kind:
    of_two_groups = shape.kind in {Kind.MIXED, Kind.GROUP_AGAINST_GROUP}
    return shape.kind if of_two_groups and is_pure(shape) else Kind.DOUBLES


class Matches:
    """Every match that people of a pool could play, one row each.

    Attributes
    ----------
    players
        Shape (matches, 4): two partners, then the other two.
    opponents
        Shape (matches, 4): the numbers of the four pairs across the net.
    partners
        Shape (matches, 2): the numbers of the two pairs of partners.
    gaps
        Shape (matches,): level gaps in millionths of a level.
    """

    def __init__(self, pool: Pool) -> None:
        self.pool = pool
        players = _all_splits(pool.players)
        self.players: Ints = players[_allowed(pool, players)]
        levels = np.asarray(pool.levels, dtype=np.int64)[self.players]
        self.gaps: Ints = np.abs(levels[:, :2].sum(1) - levels[:, 2:].sum(1)) * UNITS
        number = np.zeros((pool.players, pool.players), dtype=np.int64)
        for i, (one, other) in enumerate(combinations(range(pool.players), 2)):
            number[one, other] = number[other, one] = i
        a, b, c, d = self.players.T
        self.opponents: Ints = np.stack([number[a, c], number[a, d], number[b, c], number[b, d]], 1)
        self.partners: Ints = np.stack([number[a, b], number[c, d]], 1)

    @cached_property
    def pairs(self) -> int:
        """How many pairs of people there are."""
        return self.pool.players * (self.pool.players - 1) // 2

    def meeting_oddly(self, some: int) -> npt.NDArray[np.bool_]:
        """Return which matches have an odd number of people from a bit set, as bits."""
        member = np.asarray([some >> i & 1 for i in range(self.pool.players)], dtype=bool)
        odd: npt.NDArray[np.bool_] = np.logical_xor.reduce(member[self.players], axis=1)
        return odd


def _all_splits(people: int) -> Ints:
    """Return every foursome split into two teams in each of three ways."""
    flat = (player for four in combinations(range(people), 4) for player in four)
    fours = np.fromiter(flat, dtype=np.int64).reshape(-1, 4)
    ways = ([0, 1, 2, 3], [0, 2, 1, 3], [0, 3, 1, 2])
    return np.concatenate([fours[:, way] for way in ways])


def _allowed(pool: Pool, players: Ints) -> npt.NDArray[np.bool_]:
    """Return which matches some round has a place for."""
    if Kind.DOUBLES in pool.kinds:
        return np.ones(len(players), dtype=bool)
    a, b, c, d = np.asarray(pool.groups, dtype=np.int64)[players].T
    mixed = (a != b) & (c != d)
    against = (a == b) & (c == d) & (a != c)
    kinds = pool.kinds
    allowed: npt.NDArray[np.bool_] = mixed & (Kind.MIXED in kinds)
    allowed |= against & (Kind.GROUP_AGAINST_GROUP in kinds)
    return allowed
