"""Tiny evenings seated in every possible way, and judged by the words of the format.

Nothing of the engine is used here, so that what the constraint model calls
impossible, or kept, is checked from outside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, permutations, product

from scheduler.domain.event import Event, Kind, Wish, WishKind


@dataclass(frozen=True)
class Seated:
    """One round: who is on which court (team A first), who rests; the rest is absent."""

    kind: Kind
    on: tuple[tuple[str, tuple[str, ...]], ...]
    rest: frozenset[str]

    def court_of(self, name):
        """Return the court a person is on, None if on none."""
        return next((court for court, people in self.on if name in people), None)

    def takes_part(self, name):
        """Return whether a person is on a court or resting."""
        return name in self.rest or self.court_of(name) is not None

    def relation(self, one, other):
        """Return how two people stand to each other."""
        if one in self.rest and other in self.rest:
            return "both rest"
        for _, people in self.on:
            if one in people and other in people:
                if self.kind is Kind.DRILL:
                    return "one group"
                same = (people.index(one) < 2) == (people.index(other) < 2)
                return "partners" if same else "opponents"
        return "apart"


def seatings(event: Event, number: int) -> list[Seated]:
    """Return every seating of a round, up to what makes no difference inside a team or group."""
    asked = event.rounds[number]
    there = [p.name for p in event.players if p.is_present(asked.start, asked.end)]
    courts = [c.name for c in event.courts if c.is_open(asked.start, asked.end)]
    if asked.kind is Kind.DRILL:
        return list(_drills(there, courts, asked.group_size))
    return list(_matches(there, courts))


def _matches(there: list[str], courts: list[str]) -> Iterator[Seated]:
    matches = min(len(courts), len(there) // 4)
    for playing in combinations(there, 4 * matches):
        rest = frozenset(there) - set(playing)
        for used in combinations(courts, matches):
            for fours in _split(playing, [4] * matches):
                for teams in product(*(_teams(four) for four in fours)):
                    for order in permutations(teams):
                        yield Seated(Kind.DOUBLES, tuple(zip(used, order, strict=True)), rest)


def _drills(there: list[str], courts: list[str], target: int) -> Iterator[Seated]:
    counts = range(1, min(len(courts), len(there)) + 1)
    groups = min(counts, key=lambda k: (abs(Fraction(len(there), k) - target), -k))
    sizes = [len(there) // groups + (k < len(there) % groups) for k in range(groups)]
    for split in _split(tuple(there), sizes):
        for used in permutations(courts, groups):
            yield Seated(Kind.DRILL, tuple(zip(used, split, strict=True)), frozenset())


def _split(people: tuple[str, ...], sizes: list[int]) -> Iterator[tuple[tuple[str, ...], ...]]:
    if not sizes:
        yield ()
        return
    for group in combinations(people, sizes[0]):
        left = tuple(p for p in people if p not in group)
        alike = len(sizes) > 1 and sizes[1] == sizes[0]
        for others in _split(left, sizes[1:]):
            if not alike or group < others[0]:
                yield (group, *others)


def _teams(four: tuple[str, ...]) -> list[tuple[str, ...]]:
    a, b, c, d = four
    return [(a, b, c, d), (a, c, b, d), (a, d, b, c)]


def kept(event: Event, wish: Wish, evening: list[Seated]) -> bool:
    """Return whether an evening keeps a wish, by the words of the format."""
    spoken = [
        seated
        for position, seated in enumerate(evening, 1)
        if wish.round in (None, position) and seated.takes_part(wish.player)
    ]
    if wish.kind is WishKind.ROUNDS_RUNNING_AT_MOST:
        return _longest_run(evening, wish) <= wish.number
    if wish.kind is WishKind.RESTS:
        return all(wish.player in s.rest for s in spoken)
    if wish.kind is WishKind.PLAYS_AT_MOST:
        return sum(s.court_of(wish.player) is not None for s in spoken) <= wish.number
    if wish.kind is WishKind.ON_COURT:
        return all(s.court_of(wish.player) in (None, wish.other) for s in spoken)
    return _pair_kept(wish, [s for s in spoken if s.takes_part(wish.other)])


def _pair_kept(wish: Wish, both: list[Seated]) -> bool:
    drills = [s.relation(wish.player, wish.other) for s in both if s.kind is Kind.DRILL]
    matches = [s.relation(wish.player, wish.other) for s in both if s.kind is not Kind.DRILL]
    on_one_court = {"partners", "opponents", "one group"}
    return {
        WishKind.PARTNERS: set(matches) <= {"partners", "both rest"},
        WishKind.PARTNERS_ONCE: "partners" in matches or not matches,
        WishKind.AGAINST_ONCE: "opponents" in matches or not matches,
        WishKind.NOT_PARTNERS: "partners" not in matches,
        WishKind.NOT_SAME_COURT: not on_one_court.intersection(matches + drills),
        WishKind.SAME_COURT: set(drills) <= {"one group"},
    }[wish.kind]


def _longest_run(evening: list[Seated], wish: Wish) -> int:
    longest = running = 0
    for position, seated in enumerate(evening, 1):
        counts = wish.round in (None, position) and seated.court_of(wish.player) is not None
        running = running + 1 if counts else 0
        longest = max(longest, running)
    return longest


def is_fair(event: Event, evening: list[Seated]) -> bool:
    """Return whether everybody's rests are less than 1 away from the fair share."""
    for player in event.players:
        there = [s for s in evening if s.takes_part(player.name)]
        share = sum(Fraction(len(s.rest), len(s.rest) + _playing(s)) for s in there)
        if abs(sum(player.name in s.rest for s in there) - share) >= 1:
            return False
    return True


def _playing(seated: Seated) -> int:
    return sum(len(people) for _, people in seated.on)


def is_possible(event: Event, wishes: tuple[Wish, ...]) -> bool:
    """Return whether some seating of all rounds is fair and keeps the wishes, trying them all."""
    here = [[w for w in wishes if w.round == r + 1] for r in range(len(event.rounds))]
    choices = [
        [s for s in seatings(event, r) if all(_kept_alone(event, w, s, r) for w in here[r])]
        for r in range(len(event.rounds))
    ]
    return any(
        is_fair(event, list(evening)) and all(kept(event, w, list(evening)) for w in wishes)
        for evening in product(*choices)
    )


def _kept_alone(event: Event, wish: Wish, seated: Seated, position: int) -> bool:
    """Judge a wish about one round by that round alone."""
    nothing = Seated(seated.kind, (), frozenset())
    before = [nothing] * position
    return kept(event, wish, [*before, seated])
