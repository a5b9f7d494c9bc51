"""Plain evenings settled by looking at every one of them, one of each sort.

Everybody is there all evening, all rounds are alike, nobody partners twice.
The opponent repeats, sum of O(O-1)/2 over pairs of people, are the sum over
pairs of *rounds* of how many pairs of people oppose in both. So an evening
with at most v repeats is a set of rounds whose overlaps add up to at most v.

Two rounds whose overlap is least come first. The first of them is any round,
since people can be renamed; the second is one of each orbit under the
renamings that leave the first as it is. What is left is a search for a few
rounds among those that fit both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
import numpy.typing as npt

Matrix = npt.NDArray[np.uint8]
Indices = npt.NDArray[np.int64]
Keys = npt.NDArray[np.uint64]
Match = tuple[int, int, int, int]
Round = tuple[Match, ...]

_NEVER = 200
"""The overlap of two rounds that cannot be in one evening; more than any that can."""


@dataclass(frozen=True)
class Rounds:
    """Every round of a number of people on a number of courts.

    Parameters
    ----------
    people, courts
        How many; those without a seat rest.
    """

    people: int
    courts: int

    @cached_property
    def all(self) -> list[Round]:
        """The rounds; the first of them seats people in order."""
        everyone = tuple(range(self.people))
        return [
            found
            for playing in combinations(everyone, 4 * self.courts)
            for found in _matches(playing)
        ]

    @cached_property
    def _pair_at(self) -> dict[tuple[int, int], int]:
        return {both: at for at, both in enumerate(combinations(range(self.people), 2))}

    @cached_property
    def opponents(self) -> Matrix:
        """For each round and pair of people whether they oppose."""
        return self._table(lambda a, b, c, d: ((a, c), (a, d), (b, c), (b, d)))

    @cached_property
    def partners(self) -> Matrix:
        """For each round and pair of people whether they are partners."""
        return self._table(lambda a, b, c, d: ((a, b), (c, d)))

    @cached_property
    def resting(self) -> Matrix:
        """For each round and person whether they rest."""
        table = np.ones((len(self.all), self.people), dtype=np.uint8)
        for row, found in zip(table, self.all, strict=True):
            row[[player for match in found for player in match]] = 0
        return table

    @cached_property
    def orbits(self) -> Indices:
        """For each round the first round it becomes by a renaming that keeps round 0."""
        rng = np.random.default_rng(1)
        weights = rng.integers(1, 2**62, size=(2, len(self._pair_at)), dtype=np.uint64)
        keys = self._keys(weights, tuple(range(self.people)))
        order = np.argsort(keys)
        if len(np.unique(keys)) != len(keys):
            raise ArithmeticError("two rounds have one key; take other weights")
        images = [
            order[np.searchsorted(keys, self._keys(weights, renamed), sorter=order)]
            for renamed in self._renamings()
        ]
        label = np.arange(len(keys))
        while True:
            before = label
            for image in images:
                least = np.minimum(label, label[image])
                np.minimum.at(least, image, label)
                label = least
            if np.array_equal(before, label):
                return label

    def _keys(self, weights: Keys, renamed: tuple[int, ...]) -> Keys:
        """Return a number for each round renamed, the same for the same round."""
        moved = [
            self._pair_at[min(renamed[a], renamed[b]), max(renamed[a], renamed[b])]
            for a, b in self._pair_at
        ]
        opponents: Keys = self.opponents.astype(np.uint64) @ weights[0][moved]
        partners: Keys = self.partners.astype(np.uint64) @ weights[1][moved]
        return opponents + partners

    def _renamings(self) -> Iterator[tuple[int, ...]]:
        """Yield renamings that generate all those that keep round 0 as it is."""
        for first in range(0, 4 * self.courts, 4):
            yield self._exchanged([(first, first + 1)])
            yield self._exchanged([(first, first + 2), (first + 1, first + 3)])
            if first:
                yield self._exchanged([(first - 4 + k, first + k) for k in range(4)])
        for player in range(4 * self.courts + 1, self.people):
            yield self._exchanged([(player - 1, player)])

    def _exchanged(self, pairs: list[tuple[int, int]]) -> tuple[int, ...]:
        names = list(range(self.people))
        for one, other in pairs:
            names[one], names[other] = other, one
        return tuple(names)

    def _table(self, pairs_of: Callable[..., Iterable[tuple[int, int]]]) -> Matrix:
        """Return for each round and pair of people whether they are among a match's pairs."""
        table = np.zeros((len(self.all), len(self._pair_at)), dtype=np.uint8)
        for row, found in zip(table, self.all, strict=True):
            for match in found:
                for one, other in pairs_of(*match):
                    row[self._pair_at[min(one, other), max(one, other)]] = 1
        return table


def _matches(people: tuple[int, ...]) -> Iterator[Round]:
    """Yield every way to seat people on courts, the first of them always on the first court."""
    if not people:
        yield ()
        return
    first = people[0]
    for others in combinations(people[1:], 3):
        left = tuple(p for p in people[1:] if p not in others)
        x, y, z = others
        for rest in _matches(left):
            for match in ((first, x, y, z), (first, y, x, z), (first, z, x, y)):
                yield (match, *rest)


class Search:
    """The search for an evening with at most so many opponent repeats and no partner twice.

    Parameters
    ----------
    rounds
        All rounds of the people and courts.
    length
        How many rounds the evening has, two at least.
    at_most
        The repeats asked about.
    """

    def __init__(self, rounds: Rounds, length: int, at_most: int) -> None:
        self._rounds = rounds
        self._length = length
        self._at_most = at_most
        rests = length * (rounds.people - 4 * rounds.courts)
        self._fewest, self._most = rests // rounds.people, -(-rests // rounds.people)

    def second_rounds(self) -> list[tuple[int, int]]:
        """Return one second round of each sort that may overlap least, with its overlap."""
        overlap = self._overlaps(np.array([0]), np.arange(len(self._rounds.all)))[0]
        most = self._at_most // (self._length * (self._length - 1) // 2)
        return [
            (int(second), int(overlap[second]))
            for second in np.unique(self._rounds.orbits)
            if overlap[second] <= most and self._may_rest(np.array([0, second]))
        ]

    def run(self) -> tuple[Round, ...] | None:
        """Return an evening, None if there is none."""
        for second, least in self.second_rounds():
            found = self.after(second, least)
            if found is not None:
                return tuple(self._rounds.all[index] for index in found)
        return None

    def after(self, second: int, least: int) -> list[int] | None:
        """Return an evening that begins with round 0 and a second one, by index.

        All other overlaps are at least as large as that of these two. Where
        that is none, leaving out one round of each two that do overlap leaves
        at least `length - at_most` rounds of which no two do: these are looked
        for first, the others then added in every way.
        """
        apart = self._length - self._at_most if least == 0 else 2
        start = np.array([0, second])
        overlap = self._overlaps(start, np.arange(len(self._rounds.all)))
        fits = (overlap >= least).all(axis=0) & self._are_rested(start)
        cost = overlap.sum(axis=0, dtype=np.int16)
        fits &= cost + least <= self._at_most
        chosen = Chosen([0, second], np.flatnonzero(fits), cost[fits], least)
        return self._apart(chosen, chosen.left[chosen.cost == 0], max(0, apart - 2), least)

    def _apart(self, chosen: Chosen, free: Indices, need: int, least: int) -> list[int] | None:
        """Add so many of the free rounds, none overlapping another, and then any others."""
        if need == 0:
            return self._others(chosen, least)
        overlap = self._overlaps(free, chosen.left)
        places = np.searchsorted(chosen.left, free)
        for at, taken in enumerate(free.tolist()):
            fits = self._are_rested(np.array([*chosen.rounds, taken]))[chosen.left]
            fits &= chosen.total + chosen.cost + overlap[at] <= self._at_most
            then = Chosen(
                [*chosen.rounds, taken],
                chosen.left[fits],
                (chosen.cost + overlap[at])[fits],
                chosen.total,
            )
            still = fits[places] & (overlap[at][places] == 0)
            still[: at + 1] = False
            found = self._apart(then, free[still], need - 1, least)
            if found is not None:
                return found
        return None

    def _others(self, chosen: Chosen, least: int) -> list[int] | None:
        overlap = self._overlaps(chosen.left, chosen.left)
        branch = Branch(
            overlap=np.where(overlap < least, np.uint8(_NEVER), overlap),
            resting=self._rounds.resting[chosen.left],
            rests=(self._fewest, self._most),
            at_most=self._at_most,
        )
        found = branch.find(
            np.arange(len(chosen.left)),
            chosen.cost,
            chosen.total,
            self._rounds.resting[chosen.rounds].sum(axis=0, dtype=np.uint8),
            self._length - len(chosen.rounds),
        )
        return None if found is None else [*chosen.rounds, *chosen.left[found].tolist()]

    def _are_rested(self, chosen: Indices) -> npt.NDArray[np.bool_]:
        """Return for each round whether nobody rests too often with it and some others."""
        resting = self._rounds.resting
        free = resting[chosen].sum(axis=0) >= self._most
        return np.asarray(resting[:, free].sum(axis=1) == 0)

    def _overlaps(self, some: Indices, others: Indices) -> Matrix:
        """Return how many pairs oppose in both of two rounds, `_NEVER` if any partners twice."""
        opponents, partners = self._rounds.opponents, self._rounds.partners
        result = _shared(opponents[some], opponents[others])
        result[_shared(partners[some], partners[others]) > 0] = _NEVER
        return result

    def _may_rest(self, chosen: Indices) -> bool:
        return bool((self._rounds.resting[chosen].sum(axis=0) <= self._most).all())


@dataclass(frozen=True)
class Chosen:
    """Some rounds of an evening, what their overlaps add up to, and which others still fit.

    `cost` is the overlap of each of the rounds `left` with all the chosen ones.
    """

    rounds: list[int]
    left: Indices
    cost: npt.NDArray[np.int16]
    total: int


@dataclass(frozen=True)
class Branch:
    """The search for rounds to add to two chosen ones.

    Parameters
    ----------
    overlap
        Overlap of each two of the rounds that fit the chosen ones.
    resting
        For each of them and each person whether they rest.
    rests
        Fewest and most rests of a person over the evening.
    at_most
        What all overlaps may add up to.
    """

    overlap: Matrix
    resting: Matrix
    rests: tuple[int, int]
    at_most: int

    def find(
        self, left: Indices, cost: npt.NDArray[np.int16], total: int, rested: Matrix, need: int
    ) -> list[int] | None:
        """Return so many of the rounds left, None if no choice of them will do.

        Parameters
        ----------
        left
            The rounds that may be taken, rising.
        cost
            The overlap of each of them with all chosen so far.
        total
            What the overlaps of those chosen add up to.
        rested
            How often each person rests in those chosen.
        need
            How many rounds are wanting.
        """
        if need == 0:
            return [] if (rested >= self.rests[0]).all() else None
        if need == 2:
            return self._last_two(left, cost, total, rested)
        for at, (taken, more) in enumerate(zip(left.tolist(), cost.tolist(), strict=True), 1):
            if total + more > self.at_most:
                continue
            now = rested + self.resting[taken]
            then = cost[at:] + self.overlap[taken, left[at:]]
            fits = total + more + then <= self.at_most
            fits &= (now + self.resting[left[at:]] <= self.rests[1]).all(axis=1)
            found = self.find(left[at:][fits], then[fits], total + more, now, need - 1)
            if found is not None:
                return [taken, *found]
        return None

    def _last_two(
        self, left: Indices, cost: npt.NDArray[np.int16], total: int, rested: Matrix
    ) -> list[int] | None:
        """Look at all pairs of the rounds left at once."""
        both = cost[:, None] + cost[None, :] + self.overlap[np.ix_(left, left)]
        for one, other in np.argwhere(np.triu(both + total <= self.at_most, 1)):
            rests = rested + self.resting[left[one]] + self.resting[left[other]]
            if (rests >= self.rests[0]).all() and (rests <= self.rests[1]).all():
                return [int(left[one]), int(left[other])]
        return None


def _shared(some: Matrix, others: Matrix) -> Matrix:
    """Return how many pairs are in both of two rounds."""
    return (some.astype(np.float32) @ others.astype(np.float32).T).astype(np.uint8)
