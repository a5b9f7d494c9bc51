"""The cells of the book: what is asked for in each, and how good an answer is."""

from __future__ import annotations

import random
from dataclasses import dataclass

from scheduler.rotation.templates.limits import (
    group_limits,
    least_repeats,
    mixed_limits,
    opponent_limit,
    partner_limit,
)
from scheduler.rotation.templates.recount import Rounds, score
from scheduler.rotation.templates.search.annealer import (
    Annealer,
    Group,
    Pattern,
    Round,
    Weights,
    cycles,
)

OPPONENTS, MEETINGS = "opponents", "meetings"
COUPLES, STRANGERS, AGAINST = "couples", "strangers", "against"
_WEIGHTS = {
    OPPONENTS: Weights(3, 1, 0, 8),
    MEETINGS: Weights(6, 1, 5, 40),
    COUPLES: Weights(3, 1, 0, 8),
    STRANGERS: Weights(3, 1, 0, 8),
    AGAINST: Weights(3, 1, 0, 8),
}

Rating = tuple[int, int, int, int]
"""Barred meetings and unfair rests together, then repeats in the order of the aim."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of the book.

    `aim` is ``opponents`` or ``meetings`` for free pairing; ``couples`` and
    ``strangers`` for mixed doubles of labels 0 to first - 1 with the others,
    couples being (i, first + i); ``against`` for the first labels against the others.
    """

    players: int
    courts: int
    rounds: int
    aim: str
    first: int = 0

    @property
    def scale(self) -> float:
        """Temperatures of the aim in units of those for opponents."""
        return 4.0 if self.aim == MEETINGS else 1.0

    @property
    def limits(self) -> tuple[int, int]:
        """The bounds on partner repeats and on what the aim counts next."""
        size = self.players, self.courts, self.rounds
        if self.aim in {COUPLES, STRANGERS}:
            return mixed_limits(self.first, self.courts, self.rounds, couples=self.aim == COUPLES)
        if self.aim == AGAINST:
            return group_limits(self.first, self.players - self.first, self.courts, self.rounds)
        return partner_limit(*size), least_repeats(*size, self.aim)

    @property
    def goal(self) -> int:
        """The price of a schedule that stands at every bound."""
        weights = _WEIGHTS[self.aim]
        partner, second = self.limits
        if self.aim != MEETINGS:
            return weights.partner * partner + weights.opponent * second
        opponent = opponent_limit(self.players, self.courts, self.rounds)
        return weights.partner * partner + weights.meeting * second + weights.opponent * opponent

    @property
    def kinds(self) -> tuple[int, ...]:
        """The kind of each label."""
        return tuple(int(label >= self.first > 0) for label in range(self.players))

    def rate(self, rounds: Rounds) -> Rating:
        """Count a schedule in the order of the aim."""
        found = score(self.players, rounds, self.kinds)
        barred = 0
        if self.aim == COUPLES:
            barred = sum(
                {label, label + self.first} <= set(match)
                for played in rounds
                for match in played
                for label in range(self.first)
            )
        if self.aim == MEETINGS:
            return barred + found.unfair, found.partner, found.meeting, found.opponent
        return barred + found.unfair, found.partner, found.opponent, found.meeting

    def is_settled_by(self, rating: Rating) -> bool:
        """Return whether nothing can be better in the measures of the aim."""
        return rating[0] == 0 and rating[1:3] == self.limits

    def annealer(self, bases: int, lengths: tuple[int, ...], seed: int) -> Annealer:
        """Return a search over base rounds developed under a group, sized for the cell.

        `lengths` are those of the group's cycles on the labels, or for two
        groups of labels those on the first (they act alike on both).
        """
        couples = [(k, k + self.first) for k in range(self.first)] * (self.aim == COUPLES)
        pattern = Pattern(self.players, self.courts, bases, self.kinds, frozenset(couples))
        return Annealer(pattern, self._group(lengths), _WEIGHTS[self.aim], seed)

    def _group(self, lengths: tuple[int, ...]) -> Group:
        one = cycles(lengths)
        if self.first == 0:
            return one
        if max(lengths) == 1:
            return cycles([1] * self.players)
        shifted = tuple(x + self.first for x in one.generator)
        return Group((*one.generator, *shifted), one.order)

    def shuffled(self, rounds: int, rng: random.Random) -> list[Round]:
        """Return random rounds of seats, who rests left to chance."""
        return [self._shuffled_round(rng) for _ in range(rounds)]

    def _shuffled_round(self, rng: random.Random) -> Round:
        if self.first == 0:
            seats = list(range(self.players))
            rng.shuffle(seats)
            return tuple(seats)
        one, other = list(range(self.first)), list(range(self.first, self.players))
        rng.shuffle(one)
        rng.shuffle(other)
        seats = []
        for _ in range(self.courts):
            a, b, c, d = one.pop(), one.pop(), other.pop(), other.pop()
            seats.extend((a, b, c, d) if self.aim == AGAINST else (a, c, b, d))
        return (*seats, *one, *other)

    def symmetric_labels(self) -> int:
        """Return how many labels a group has to turn: all, or those of the first group."""
        return self.first or self.players
