"""A plan: who is where in every round. What ``plan.json`` holds, in memory.

Everything downstream of the engine reads a plan and knows nothing of how it
was found. People and courts go by their names.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from scheduler.domain.event import Event, Kind


@dataclass(frozen=True, slots=True)
class Match:
    """Two against two on one court.

    `serving_order` lists the four in the order they serve games 1 to 4, the
    first team to serve being `team_a` (ITF Rule 14); `deuce_receivers` names
    the one of each team who receives on the deuce side (ITF Rule 15).
    `unfinished` marks a match that was broken off; it stands and counts.
    """

    court: str
    team_a: tuple[str, str]
    team_b: tuple[str, str]
    serving_order: tuple[str, ...] = ()
    deuce_receivers: tuple[str, ...] = ()
    unfinished: bool = False

    @property
    def players(self) -> tuple[str, ...]:
        """The four players, team A first."""
        return self.team_a + self.team_b


@dataclass(frozen=True, slots=True)
class Group:
    """A drill group on one court, with the court's topic and coach where stations are given."""

    court: str
    players: tuple[str, ...]
    topic: str = ""
    coach: str = ""


@dataclass(frozen=True, slots=True)
class Singles:
    """Two left-over players on a spare court."""

    court: str
    players: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TwoAgainstOne:
    """Three left-over players on a spare court."""

    court: str
    two: tuple[str, ...]
    one: tuple[str, ...]

    @property
    def players(self) -> tuple[str, ...]:
        """The three players, the two first."""
        return self.two + self.one


CourtEntry = Match | Group | Singles | TwoAgainstOne


@dataclass(frozen=True, slots=True)
class PlannedRound:
    """One round of a plan; every player is on a court, resting or absent.

    `open` marks a round whose seats depend on results still to come.
    `missing` are people the round was planned with who never came, which was
    noticed when it was under way: the round stands as printed, and
    `as_it_was` is what counts.
    """

    number: int
    kind: Kind
    start: int
    minutes: int
    courts: tuple[CourtEntry, ...]
    resting: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()
    topic: str = ""
    open: bool = False
    missing: tuple[str, ...] = ()

    @property
    def as_it_was(self) -> PlannedRound:
        """The round without the people who never came, for everything that counts.

        Three of a match are two against one, two have singles; somebody left
        alone on a court rested, and so did everybody of a match of fixed pairs.
        """
        if not self.missing:
            return self
        gone = frozenset(self.missing)
        least = _FOUR if self.kind is Kind.PAIRS else _TWO
        entries = [(entry, _without(entry, gone, least)) for entry in self.courts]
        alone = [
            name
            for entry, left in entries
            if left is None
            for name in entry.players
            if name not in gone
        ]
        return replace(
            self,
            courts=tuple(left for _, left in entries if left is not None),
            resting=(*(name for name in self.resting if name not in gone), *alone),
            absent=(*self.absent, *self.missing),
            missing=(),
        )

    @property
    def matches(self) -> tuple[Match, ...]:
        """The courts with two against two."""
        return tuple(entry for entry in self.courts if isinstance(entry, Match))

    @property
    def end(self) -> int:
        """The minute at which the round is over."""
        return self.start + self.minutes


def _without(entry: CourtEntry, gone: frozenset[str], least: int) -> CourtEntry | None:
    """Return what is left of a court without some people; None where too few are to play."""
    if gone.isdisjoint(entry.players):
        return entry
    left = tuple(name for name in entry.players if name not in gone)
    if isinstance(entry, Group):
        return replace(entry, players=left) if left else None
    if len(left) < least:
        return None
    if len(left) == _TWO:
        return Singles(entry.court, left)
    assert isinstance(entry, Match)
    two, other = (
        tuple(name for name in team if name in left) for team in (entry.team_a, entry.team_b)
    )
    return TwoAgainstOne(entry.court, *sorted((two, other), key=len, reverse=True))


_TWO, _FOUR = 2, 4


@dataclass(frozen=True, slots=True)
class Measure:
    """One figure of a plan beside the best that any plan could have.

    Parameters
    ----------
    value
        The figure, recounted from the plan.
    bound
        A value no plan of this event can go below, whatever the other
        measures; None where no bound makes sense.
    proven
        True when the value equals the bound.
    best_given_above
        True when it was proved that no plan is better here without being
        worse in a measure that comes before.
    proof
        The theorem or the solver run the bound rests on.
    """

    value: float
    bound: float | None = None
    proven: bool = False
    best_given_above: bool = False
    proof: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One person's change of place between two revisions of a plan."""

    player: str
    round: int
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole evening, seated.

    Rounds 1 to `settled` stand as they are, because they were played or
    because people's seats were settled by hand or by results; what they leave
    of unfair rests cannot be held against the rounds that follow.
    `pairs` are the fixed pairs of the ``pairs`` rounds, those who rest in all
    of them included, which the rounds alone would not show.
    `season_measures` are the measures with whole earlier evenings added and
    `weighted` the fading cost the engine used; both empty without a season.
    """

    event: Event
    rounds: tuple[PlannedRound, ...]
    seed: int = 1
    effort: str = "normal"
    version: str = ""
    revision: int = 1
    measures: Mapping[str, Measure] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    season_measures: Mapping[str, float] = field(default_factory=dict)
    weighted: Mapping[str, float] = field(default_factory=dict)
    settled: int = 0
    pairs: tuple[tuple[str, str], ...] = ()

    def matches(self) -> Iterator[tuple[PlannedRound, Match]]:
        """Yield every doubles match with its round, in playing order."""
        for planned in self.rounds:
            for match in planned.matches:
                yield planned, match
