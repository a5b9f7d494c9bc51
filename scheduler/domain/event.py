"""An event: who comes, which courts, which rounds, what people wish.

Everything here is frozen; a changed event is a new one (`dataclasses.replace`).
Times are minutes after midnight (`scheduler.domain.clock`), levels run from 1
to 10 and a higher one is stronger.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from scheduler.domain.formats import EndChanges, GameFormat, SetFormat


class Kind(StrEnum):
    """Kinds of round."""

    DRILL = "drill"
    DOUBLES = "doubles"
    MIXED = "mixed"
    PAIRS = "pairs"
    GROUP_AGAINST_GROUP = "group against group"
    UP_AND_DOWN = "up and down"


class Emphasis(StrEnum):
    """What a plan favours once musts, rests, partners and wishes are served."""

    BLEND = "blend"
    VARIETY = "variety"
    BALANCE = "balance"
    MEET_EVERYONE = "meet everyone"


class SpareCourt(StrEnum):
    """What two or three players left over do while a court is free."""

    REST = "rest"
    SINGLES = "singles"


class Here(StrEnum):
    """Whether a listed player comes tonight."""

    YES = "yes"
    NO = "no"
    IF_NEEDED = "if needed"


class Side(StrEnum):
    """The receiving side a player likes."""

    DEUCE = "deuce"
    AD = "ad"
    EITHER = "either"


class Hand(StrEnum):
    """The hand a player holds the racket in."""

    RIGHT = "right"
    LEFT = "left"


class Mixing(StrEnum):
    """Who shares a court: people of mixed levels, or of levels alike."""

    MIXED = "mixed"
    ALIKE = "alike"


class Strength(StrEnum):
    """A must is kept by every plan; a should is kept where it costs nothing above it."""

    MUST = "must"
    SHOULD = "should"


class WishKind(StrEnum):
    """What a wish asks for."""

    PARTNERS = "partners"
    PARTNERS_ONCE = "partners once"
    NOT_PARTNERS = "not partners"
    AGAINST_ONCE = "against once"
    NOT_SAME_COURT = "not same court"
    SAME_COURT = "same court"
    ON_COURT = "on court"
    RESTS = "rests"
    PLAYS_AT_MOST = "plays at most"
    ROUNDS_RUNNING_AT_MOST = "rounds running at most"


PAIR_WISHES = frozenset(
    {
        WishKind.PARTNERS,
        WishKind.PARTNERS_ONCE,
        WishKind.NOT_PARTNERS,
        WishKind.AGAINST_ONCE,
        WishKind.NOT_SAME_COURT,
        WishKind.SAME_COURT,
    }
)
NUMBER_WISHES = frozenset({WishKind.PLAYS_AT_MOST, WishKind.ROUNDS_RUNNING_AT_MOST})


@dataclass(frozen=True, slots=True)
class Player:
    """One person on the players list; levels are kept to three decimals.

    `away` are the times, from and to, between leaving and coming back.
    """

    name: str
    level: float
    group: str = ""
    hand: Hand = Hand.RIGHT
    side: Side = Side.EITHER
    arrives: int | None = None
    leaves: int | None = None
    here: Here = Here.YES
    note: str = ""
    level_given: bool = True
    away: tuple[tuple[int, int], ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "level", round(float(self.level), 3))

    def is_present(self, start: int, end: int) -> bool:
        """Return whether the player is there for all of the time given."""
        return (
            self.here is not Here.NO
            and (self.arrives is None or self.arrives <= start)
            and (self.leaves is None or self.leaves >= end)
            and all(end <= since or start >= until for since, until in self.away)
        )


@dataclass(frozen=True, slots=True)
class Court:
    """One court and the hours it can be used."""

    name: str
    opens: int | None = None
    closes: int | None = None

    def is_open(self, start: int, end: int) -> bool:
        """Return whether the court can be used for all of the time given."""
        return (self.opens is None or self.opens <= start) and (
            self.closes is None or self.closes >= end
        )


@dataclass(frozen=True, slots=True)
class Round:
    """One round as the organiser asks for it.

    `courts` is a number of courts, a tuple of court names, or None for all
    that are open.
    """

    kind: Kind
    start: int
    minutes: int
    topic: str = ""
    group_size: int = 4
    levels: Mixing | None = None
    courts: int | tuple[str, ...] | None = None

    @property
    def end(self) -> int:
        """The minute at which the round is over."""
        return self.start + self.minutes


@dataclass(frozen=True, slots=True)
class Wish:
    """One wish; `where` is the cell it was read from, for messages.

    `other` is a player or, for ``on court``, a court; `number` is the limit
    of the two limiting kinds; `round` is a round's number or None for all.
    """

    kind: WishKind
    player: str
    other: str = ""
    number: int | None = None
    strength: Strength = Strength.MUST
    round: int | None = None
    where: str = ""

    @property
    def sentence(self) -> str:
        """The wish in words, with its cell."""
        text = _SENTENCES[self.kind].format(a=self.player, b=self.other, n=self.number)
        if self.round is not None:
            text += f" in round {self.round}"
        return f"{self.where}: {text}" if self.where else text


_SENTENCES = {
    WishKind.PARTNERS: "{a} and {b} must be partners",
    WishKind.PARTNERS_ONCE: "{a} and {b} must be partners at least once",
    WishKind.NOT_PARTNERS: "{a} and {b} must not be partners",
    WishKind.AGAINST_ONCE: "{a} and {b} must oppose at least once",
    WishKind.NOT_SAME_COURT: "{a} and {b} must not share a court",
    WishKind.SAME_COURT: "{a} and {b} must share a court in drills",
    WishKind.ON_COURT: "{a} must be on {b}",
    WishKind.RESTS: "{a} must rest",
    WishKind.PLAYS_AT_MOST: "{a} must play at most {n} rounds",
    WishKind.ROUNDS_RUNNING_AT_MOST: "{a} must play at most {n} rounds running",
}


@dataclass(frozen=True, slots=True)
class Station:
    """What happens on one court in every drill round, and who coaches it."""

    court: str
    topic: str = ""
    coach: str = ""


@dataclass(frozen=True, slots=True)
class Earlier:
    """What two people did together on earlier evenings.

    Whole counts, and the same counts faded with the evenings since.
    """

    player: str
    other: str
    partners: int = 0
    opponents: int = 0
    drills: int = 0
    faded_partners: float = 0.0
    faded_opponents: float = 0.0
    faded_drills: float = 0.0


@dataclass(frozen=True)
class Event:
    """Everything the organiser asked for; the engine's only input."""

    name: str
    start: int
    players: tuple[Player, ...]
    courts: tuple[Court, ...]
    rounds: tuple[Round, ...]
    date: str = ""
    wishes: tuple[Wish, ...] = ()
    stations: tuple[Station, ...] = ()
    earlier: tuple[Earlier, ...] = ()
    emphasis: Emphasis = Emphasis.BLEND
    exchange: float = 2.0
    spare_court: SpareCourt = SpareCourt.REST
    set_format: SetFormat = SetFormat.TIE_BREAK
    game_format: GameFormat = GameFormat.AD
    end_changes: EndChanges = EndChanges.SIX
    changeover: int = 0
    until: int | None = None
    notes: str = ""
    changes: tuple[str, ...] = ()

    @cached_property
    def player_by_name(self) -> dict[str, Player]:
        """Players by their name."""
        return {player.name: player for player in self.players}

    @cached_property
    def station_by_court(self) -> dict[str, Station]:
        """Stations by their court's name."""
        return {station.court: station for station in self.stations}
