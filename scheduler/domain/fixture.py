"""A captain's season: the squad, the fixtures, the league's conditions, the line-ups.

Everything here is frozen; a changed season is a new one (`dataclasses.replace`).
A *pair* is two people who play doubles together, a *line* the place of a pair
in the order of play (line 1 first), a pair's *sum* the two levels added.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from scheduler.domain.event import Here, Player
from scheduler.domain.plan import Measure


class Aim(StrEnum):
    """What a captain wants most of a line-up."""

    EVEN = "even"
    STRONG = "strong"
    SETTLED = "settled"
    SHARE = "share"


class Partnering(StrEnum):
    """Whether people should keep their partner through the season, or have many."""

    KEEP = "keep"
    VARY = "vary"
    EITHER = "either"


class ConditionKind(StrEnum):
    """What a league or a captain can demand of every line-up."""

    PAIRS = "pairs"
    HIGHEST_SUM = "highest pair sum"
    LOWEST_SUM = "lowest pair sum"
    GREATEST_DIFFERENCE = "greatest difference in a pair"
    LEVEL_ORDER = "lines in level order"
    PLAYS_AT_MOST = "plays at most"
    PLAYS_AT_LEAST = "plays at least"
    LEFT_OUT_AT_MOST = "left out at most"
    GROUP_IN_TEAM = "at least in the team"
    GROUP_IN_PAIR = "at least in a pair"
    NOT_PARTNERS = "not partners"
    PARTNERS = "partners"


SEASON_KINDS = frozenset(
    {
        ConditionKind.PLAYS_AT_MOST,
        ConditionKind.PLAYS_AT_LEAST,
        ConditionKind.LEFT_OUT_AT_MOST,
    }
)


@dataclass(frozen=True, slots=True)
class Condition:
    """One demand; `where` is the cell it was read from, for messages.

    `player` is empty for everybody; `lines` is empty for all lines. Numbers of
    the season kinds count fixtures of the calendar, `left out` only fixtures
    the player was free for ("yes").
    """

    kind: ConditionKind
    number: float = 0
    player: str = ""
    other: str = ""
    group: str = ""
    lines: tuple[int, ...] = ()
    where: str = ""

    @property
    def sentence(self) -> str:
        """The demand in words, with its cell."""
        text = _SENTENCES[self.kind].format(
            n=f"{self.number:g}",
            who=self.player or "everyone",
            other=self.other,
            group=self.group,
            lines=f"on line {_listed(self.lines)}" if self.lines else "in every pair",
        )
        return f"{self.where}: {text}" if self.where else text


_SENTENCES = {
    ConditionKind.PAIRS: "{n} pairs play a fixture",
    ConditionKind.HIGHEST_SUM: "no pair's levels may add up to more than {n}",
    ConditionKind.LOWEST_SUM: "every pair's levels must add up to at least {n}",
    ConditionKind.GREATEST_DIFFERENCE: "partners' levels may differ by at most {n}",
    ConditionKind.LEVEL_ORDER: "lines must be in level order, the strongest pair first",
    ConditionKind.PLAYS_AT_MOST: "{who} may play at most {n} fixtures",
    ConditionKind.PLAYS_AT_LEAST: "{who} must play at least {n} fixtures",
    ConditionKind.LEFT_OUT_AT_MOST: "{who} may be left out of at most {n} fixtures when free",
    ConditionKind.GROUP_IN_TEAM: "at least {n} of group {group} must play",
    ConditionKind.GROUP_IN_PAIR: "at least {n} of group {group} must play {lines}",
    ConditionKind.NOT_PARTNERS: "{who} and {other} must not be partners",
    ConditionKind.PARTNERS: "{who} and {other} must be partners or both sit out",
}


def _listed(lines: tuple[int, ...]) -> str:
    return ", ".join(str(line) for line in lines)


@dataclass(frozen=True, slots=True)
class SquadMember:
    """One person of the squad.

    `matches` counts appearances before this calendar began; `likes` names the
    partners the person would like.
    """

    player: Player
    matches: int = 0
    likes: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The person's name."""
        return self.player.name

    @property
    def level(self) -> float:
        """The person's level, 1 to 10, higher is stronger."""
        return self.player.level


@dataclass(frozen=True, slots=True)
class Fixture:
    """One match against another team.

    `lines` is the number of pairs; `their_sums` holds the opposing pair's sum
    of levels on each line where it is known, else None; `availability` names
    everyone of the squad.
    """

    date: str
    lines: int
    venue: str = ""
    opponents: str = ""
    their_sums: tuple[float | None, ...] = ()
    availability: Mapping[str, Here] = field(default_factory=dict)
    unanswered: tuple[str, ...] = ()
    where: str = ""

    def answer(self, name: str) -> Here:
        """Return whether a person can play."""
        return self.availability.get(name, Here.YES)


@dataclass(frozen=True, slots=True)
class LinePair:
    """Two partners on one line and the sum of their levels.

    `chance` is the range of the chance to win the line, or None if not worked out.
    """

    line: int
    players: tuple[str, str]
    sum: float
    chance: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class PlayedPair:
    """What happened on one line of a fixture that is over (or was announced).

    `their_sum` and `won` are None where nobody wrote them down.
    """

    date: str
    line: int
    players: tuple[str, str]
    their_sum: float | None = None
    won: bool | None = None
    where: str = ""


@dataclass(frozen=True, slots=True)
class LineUp:
    """The pairs of one fixture in line order, with those who stand by.

    `why` says in one sentence what the line-up gains and gives up; `proven`
    is True when no better one exists under the captain's price list.
    """

    date: str
    pairs: tuple[LinePair, ...]
    reserves: tuple[str, ...] = ()
    why: str = ""
    proven: bool = False

    @property
    def players(self) -> tuple[str, ...]:
        """Everyone who plays, line by line."""
        return tuple(name for pair in self.pairs for name in pair.players)


@dataclass(frozen=True, slots=True)
class FixtureAnswer:
    """The chosen line-up of one fixture first, then the alternatives.

    `played` marks a fixture that is over; its one line-up is what happened.
    On the day `withdrawn` names who cannot play after all and `moved` whom
    that puts in another place.
    """

    fixture: Fixture
    lineups: tuple[LineUp, ...]
    played: bool = False
    withdrawn: tuple[str, ...] = ()
    moved: tuple[str, ...] = ()

    @property
    def chosen(self) -> LineUp:
        """The line-up to announce."""
        return self.lineups[0]


@dataclass(frozen=True)
class TeamSeason:
    """Everything a captain wrote down; the only input of the line-up search.

    `their_low` and `their_high` are the spread assumed for a pair of the other
    team whose levels nobody knows; None leaves it to the squad's own middle.
    `scale` is the win curve's scale in levels; None leaves it to the results.
    """

    name: str
    squad: tuple[SquadMember, ...]
    fixtures: tuple[Fixture, ...]
    conditions: tuple[Condition, ...] = ()
    played: tuple[PlayedPair, ...] = ()
    aim: Aim = Aim.EVEN
    partnering: Partnering = Partnering.EITHER
    their_low: float | None = None
    their_high: float | None = None
    scale: float | None = None

    @cached_property
    def member_by_name(self) -> dict[str, SquadMember]:
        """Squad members by their name."""
        return {member.name: member for member in self.squad}

    @cached_property
    def played_dates(self) -> frozenset[str]:
        """Dates of the fixtures of which at least one line is written down."""
        return frozenset(pair.date for pair in self.played)

    @property
    def to_come(self) -> tuple[Fixture, ...]:
        """Fixtures of which nothing has been played, in the calendar's order."""
        return tuple(f for f in self.fixtures if f.date not in self.played_dates)

    @cached_property
    def appearances(self) -> dict[str, int]:
        """Matches so far of everyone: those before the calendar and those played since."""
        count = Counter(name for pair in self.played for name in pair.players)
        return {member.name: member.matches + count[member.name] for member in self.squad}

    @cached_property
    def together(self) -> dict[frozenset[str], int]:
        """How often two people have been partners in played fixtures."""
        return dict(Counter(frozenset(pair.players) for pair in self.played))

    def conditions_of(self, kind: ConditionKind) -> tuple[Condition, ...]:
        """Return the conditions of one kind, in the sheet's order."""
        return tuple(condition for condition in self.conditions if condition.kind is kind)


@dataclass(frozen=True, slots=True)
class SeasonAnswer:
    """Line-ups for the fixtures asked for, with the season's figures.

    `appearances` counts everyone's matches when all of it has been played.
    """

    season: TeamSeason
    fixtures: tuple[FixtureAnswer, ...]
    appearances: Mapping[str, int]
    measures: Mapping[str, Measure] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()
