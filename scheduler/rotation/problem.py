"""The event as small arrays of indices, which is all the engine works on.

A *shape* says how many seats of which sort a round has; it follows from the
event alone. A *seating* says who sits where; it is what the engine searches
for. Players and courts are indices into the event's lists; levels are whole
thousandths, so that every sum is exact.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from fractions import Fraction
from functools import cached_property

from scheduler.domain.event import NUMBER_WISHES, Event, Kind, Mixing, Wish, WishKind
from scheduler.domain.plan import PlannedRound
from scheduler.rotation.rest_ranges import fair_ranges

LEVEL_UNITS = 1000
"""Units in one level: levels are kept as whole thousandths."""

ANYONE = -1
"""The seat mask that lets everybody in (all bits set)."""


class BlockKind(IntEnum):
    """What happens on a court; the values are those of the kernel."""

    REST = 0
    MATCH = 1
    GROUP = 2
    SPARE = 3


@dataclass(frozen=True, slots=True)
class Block:
    """The seats of one court in one round.

    `masks` has one number a seat: the sets of players (bits) that may sit
    there. In a match seats 0, 1 are team A and seats 2, 3 team B.
    """

    kind: BlockKind
    masks: tuple[int, ...]

    @property
    def size(self) -> int:
        """How many people it seats."""
        return len(self.masks)


@dataclass(frozen=True, slots=True)
class Shape:
    """How one round is laid out.

    Parameters
    ----------
    kind
        The round's kind.
    players
        Who takes part, on a court or resting.
    courts
        The courts that may be used; there are at least as many as blocks.
    blocks
        What is played; each block takes one court.
    rest
        Masks of the rest seats.
    bits
        For each of `players` the set of players (one bit) it belongs to, for
        the masks.
    levels
        Whether people of mixed or of like levels should share a court.
    open
        Whether the round is seated later, from results; it then has no seats.
    """

    kind: Kind
    players: tuple[int, ...]
    courts: tuple[int, ...]
    blocks: tuple[Block, ...]
    rest: tuple[int, ...]
    bits: tuple[int, ...]
    levels: Mixing | None = None
    open: bool = False

    @property
    def is_drill(self) -> bool:
        """Whether this is a drill round."""
        return self.kind is Kind.DRILL

    @property
    def keeps_teams(self) -> bool:
        """Whether partners stay together, so that only whole teams may move."""
        return self.kind is Kind.PAIRS


@dataclass(frozen=True, slots=True)
class Seating:
    """Who sits where in one round.

    `blocks` runs parallel to the shape's blocks, `courts` gives the court of
    each block, `rest` lists the resting players.
    """

    blocks: tuple[tuple[int, ...], ...]
    courts: tuple[int, ...]
    rest: tuple[int, ...]


Solution = tuple[Seating, ...]
"""A seating for every round of the problem, the played ones included."""


@dataclass(frozen=True, slots=True)
class Demand:
    """A wish in indices. `rounds` are the positions of the rounds it speaks of."""

    kind: WishKind
    player: int
    other: int
    number: int
    must: bool
    rounds: tuple[int, ...]
    wish: Wish


@dataclass(frozen=True, slots=True)
class Printed:
    """Where people were told to be in a round that is seated again, and with whom.

    Parameters
    ----------
    places
        Players with their court; the number after the last court is resting.
    partners
        Pairs of partners, the smaller index first.
    """

    places: tuple[tuple[int, int], ...]
    partners: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Problem:
    """What the engine has to solve.

    Parameters
    ----------
    event
        The event it was made from.
    levels
        Level of each player in thousandths.
    shapes
        One a round.
    demands
        The wishes that have any round to speak of.
    played
        Seatings of the rounds that already happened; they come first and
        stay as they are.
    teams
        The fixed teams of the ``pairs`` rounds, empty without such rounds.
    printed
        By the positions of rounds, where people should stay if they can.
    known_ranges
        Everybody's fewest and most rests, where they were worked out elsewhere.
    """

    event: Event
    levels: tuple[int, ...]
    shapes: tuple[Shape, ...]
    demands: tuple[Demand, ...]
    played: Solution = ()
    teams: tuple[tuple[int, int], ...] = ()
    printed: Mapping[int, Printed] = field(default_factory=dict)
    known_ranges: tuple[tuple[int, int], ...] = ()

    @property
    def players(self) -> int:
        """Number of players in the event."""
        return len(self.levels)

    @property
    def courts(self) -> int:
        """Number of courts in the event."""
        return len(self.event.courts)

    @property
    def free(self) -> range:
        """Positions of the rounds still to be seated."""
        return range(len(self.played), len(self.shapes))

    @cached_property
    def is_plain(self) -> bool:
        """Whether people differ in nothing but their levels.

        Then a pattern of meetings stays as good whoever takes which place in
        it: the same people in every round, no wishes, no past, no groups.
        """
        event = self.event
        special = event.wishes or event.earlier or event.stations or self.played or self.teams
        seats = (mask for shape in self.shapes for block in shape.blocks for mask in block.masks)
        return (
            not special
            and not self.printed
            and len({shape.players for shape in self.shapes}) == 1
            and all(mask == ANYONE for mask in seats)
            and all(mask == ANYONE for shape in self.shapes for mask in shape.rest)
        )

    @cached_property
    def kin(self) -> tuple[int, ...]:
        """Return a number for everybody, the same for people who may change places everywhere.

        They are there in the same rounds, may take the same seats, and have
        the same limits, so that in exchanging the two no count of repeats, rests
        or courts changes, only whose it is. -1 where something was played already,
        or where fixed teams are to be kept.
        """
        if self.played or any(shape.keeps_teams for shape in self.shapes):
            return (-1,) * self.players
        facts: list[list[object]] = [[rests] for rests in self.rest_ranges]
        for at, shape in enumerate(self.shapes):
            for player, bit in zip(shape.players, shape.bits, strict=True):
                facts[player].append((at, bit))
        for demand in self.demands:
            if demand.kind in NUMBER_WISHES:
                facts[demand.player].append(("limit", demand.player))
        keys = [tuple(fact) for fact in facts]
        first = {key: player for player, key in reversed(list(enumerate(keys)))}
        return tuple(first[key] for key in keys)

    @cached_property
    def rest_ranges(self) -> tuple[tuple[int, int], ...]:
        """Fewest and most rests of each player that count as fair over the whole evening."""
        return self.known_ranges or fair_ranges(self)

    @cached_property
    def shares(self) -> tuple[Fraction, ...]:
        """Each player's fair share of rests over the whole evening."""
        shares = [Fraction(0)] * self.players
        for shape in self.shapes:
            by_player = self._team_shares(shape) if shape.keeps_teams else _round_shares(shape)
            for player, share in by_player:
                shares[player] += share
        return tuple(shares)

    def _team_shares(self, shape: Shape) -> Sequence[tuple[int, Fraction]]:
        """Share the rests of a ``pairs`` round by team; without a team one can only rest."""
        present = set(shape.players)
        teams = [team for team in self.all_teams if present.issuperset(team)]
        playing = 2 * sum(block.kind is BlockKind.MATCH for block in shape.blocks)
        share = Fraction(len(teams) - playing, len(teams)) if teams else Fraction(1)
        in_a_team = {player for team in teams for player in team}
        return [(p, share if p in in_a_team else Fraction(1)) for p in shape.players]

    @cached_property
    def all_teams(self) -> tuple[tuple[int, int], ...]:
        """The fixed teams of the rounds to come and of those played."""
        played = [
            pair(*team)
            for shape, seating in zip(self.shapes, self.played, strict=False)
            if shape.keeps_teams
            for block in seating.blocks
            for team in (block[:2], block[2:])
        ]
        return tuple(dict.fromkeys([*(pair(*team) for team in self.teams), *played]))

    @cached_property
    def uncounted_partners(self) -> frozenset[tuple[int, int]]:
        """Pairs whose partnerships are not counted, because a must makes them partners."""
        return frozenset(
            pair(demand.player, demand.other)
            for demand in self.demands
            if demand.kind is WishKind.PARTNERS and demand.must
        )


def pair(one: int, other: int) -> tuple[int, int]:
    """Return two indices with the smaller first."""
    return (one, other) if one < other else (other, one)


def _round_shares(shape: Shape) -> Sequence[tuple[int, Fraction]]:
    """Give each player of a round their share of its rests, by set of players."""
    resting: dict[int, int] = {}
    present: dict[int, int] = {}
    only = shape.bits[0] if len(set(shape.bits)) == 1 else None
    for bit in shape.bits:
        present[bit] = present.get(bit, 0) + 1
    for mask in shape.rest:
        bit = only if only is not None else mask
        resting[bit] = resting.get(bit, 0) + 1
    return [
        (player, Fraction(resting.get(bit, 0), present[bit]))
        for player, bit in zip(shape.players, shape.bits, strict=True)
    ]


def seating_of(planned: PlannedRound, event: Event) -> Seating:
    """Return a planned round as a seating, its courts in the plan's order."""
    index = {player.name: i for i, player in enumerate(event.players)}
    court = {court.name: i for i, court in enumerate(event.courts)}
    return Seating(
        blocks=tuple(tuple(index[name] for name in entry.players) for entry in planned.courts),
        courts=tuple(court[entry.court] for entry in planned.courts),
        rest=tuple(index[name] for name in planned.resting),
    )
