"""A plan opened for reading: who is where, with whom and against whom, in each round."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import CourtEntry, Match, Plan, PlannedRound

Pair = tuple[str, str]


def pair(one: str, other: str) -> Pair:
    """Return two people as one unordered pair."""
    return (one, other) if one <= other else (other, one)


@dataclass(frozen=True)
class RoundView:
    """One seated round, by person. Where a faulty plan has somebody twice, the first place counts.

    `entry_of` is the court each person is on; `resting` and `absent` are the
    two lists as sets, for membership only.
    """

    planned: PlannedRound
    entry_of: dict[str, CourtEntry] = field(init=False)
    resting: frozenset[str] = field(init=False)
    absent: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        entry_of: dict[str, CourtEntry] = {}
        for entry in self.planned.courts:
            for name in entry.players:
                entry_of.setdefault(name, entry)
        object.__setattr__(self, "entry_of", entry_of)
        object.__setattr__(self, "resting", frozenset(self.planned.resting))
        object.__setattr__(self, "absent", frozenset(self.planned.absent))

    @property
    def is_drill(self) -> bool:
        """Whether the round is a drill."""
        return self.planned.kind is Kind.DRILL

    def takes_part(self, name: str) -> bool:
        """Return whether a person is on a court or resting."""
        return name in self.entry_of or name in self.resting

    def are_on_one_court(self, one: str, other: str) -> bool:
        """Return whether two people are on the same court."""
        entry = self.entry_of.get(one)
        return entry is not None and other in entry.players

    def are_partners(self, one: str, other: str) -> bool:
        """Return whether two people are partners on a court with two against two."""
        entry = self.entry_of.get(one)
        return isinstance(entry, Match) and any(
            one in team and other in team for team in (entry.team_a, entry.team_b)
        )

    def are_opponents(self, one: str, other: str) -> bool:
        """Return whether two people oppose on a court with two against two."""
        entry = self.entry_of.get(one)
        return (
            isinstance(entry, Match)
            and other in entry.players
            and not self.are_partners(one, other)
        )

    def whereabouts(self, name: str) -> str:
        """Return ``"on Court 1"``, ``"resting"``, ``"absent"`` or ``"nowhere"``."""
        if name in self.entry_of:
            return f"on {self.entry_of[name].court}"
        if name in self.resting:
            return "resting"
        return "absent" if name in self.absent else "nowhere"


@dataclass(frozen=True)
class Evening:
    """A plan beside the event it is judged by. Rounds not yet seated are left out of `rounds`.

    Rounds are as they were: without people who were planned for and never came.
    """

    plan: Plan
    event: Event

    @cached_property
    def rounds(self) -> tuple[RoundView, ...]:
        """The seated rounds in order."""
        return tuple(
            RoundView(planned.as_it_was) for planned in self.plan.rounds if not planned.open
        )

    @cached_property
    def fixed_partner(self) -> dict[str, str]:
        """Who partners whom in the ``pairs`` rounds, as the plan says or as first seen in it."""
        found: dict[str, str] = {}
        seen = (team for m in self._pairs_matches() for team in (m.team_a, m.team_b))
        for team in (*self.plan.pairs, *seen):
            if len(team) == 2 and not any(name in found for name in team):
                found[team[0]], found[team[1]] = team[1], team[0]
        return found

    @cached_property
    def group_of(self) -> dict[str, str]:
        """The event's group of each player."""
        return {player.name: player.group for player in self.event.players}

    def is_open(self, round_number: int | None) -> bool:
        """Return whether a round, or any round at all for None, is still to be seated."""
        return any(
            planned.open and round_number in (None, planned.number) for planned in self.plan.rounds
        )

    def in_scope(self, round_number: int | None) -> Iterable[RoundView]:
        """Return the seated rounds a wish is about."""
        return (
            view
            for view in self.rounds
            if round_number is None or view.planned.number == round_number
        )

    def _pairs_matches(self) -> Iterable[Match]:
        for view in self.rounds:
            if view.planned.kind is Kind.PAIRS:
                yield from view.planned.matches
