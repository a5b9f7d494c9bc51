"""Who moves between two versions of a plan, in words to read out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from scheduler.domain.plan import (
    Change,
    CourtEntry,
    Group,
    Match,
    Plan,
    PlannedRound,
    Singles,
    TwoAgainstOne,
)

NOT_HERE = "not here"
RESTING = "resting"
LATER = "seated from the results of the round before"


@dataclass(frozen=True, slots=True)
class Moved:
    """How many people have another place, in how many rounds, and how many only other company."""

    people: int
    places: int
    company: int

    @property
    def sentence(self) -> str:
        """The numbers in words, without a full stop."""
        who = {0: "nobody moves", 1: "1 person moves"}.get(
            self.people, f"{self.people} people move"
        )
        times = "" if self.places == self.people else f", {self.places} times in all"
        others = {0: "", 1: "; 1 more has other company"}.get(
            self.company, f"; {self.company} more have other company"
        )
        return f"{who}{times}{others}"


def changes_between(old: Plan, new: Plan, after: int) -> tuple[Change, ...]:
    """Return every change of place or company after a round, person by person.

    Parameters
    ----------
    old, new
        The plan people know, and the one that takes its place.
    after
        The last round played.
    """
    found = []
    for player in new.event.players:
        for was, now in _rounds(old, new, after):
            before, today = (_words(planned, player.name) for planned in (was, now))
            if before != today:
                found.append(Change(player.name, now.number, before, today))
    return tuple(found)


def moved_between(old: Plan, new: Plan, after: int) -> Moved:
    """Return how many people change court, or from court to rest or back.

    Whoever leaves or joins is not counted.
    """
    places = []
    company = []
    for player in new.event.players:
        for was, now in _rounds(old, new, after):
            before, today = (_place(planned, player.name) for planned in (was, now))
            if NOT_HERE in (before, today) or was.open or now.open:
                continue
            if before != today:
                places.append(player.name)
            elif _words(was, player.name) != _words(now, player.name):
                company.append(player.name)
    return Moved(len(set(places)), len(places), len(set(company) - set(places)))


def _rounds(old: Plan, new: Plan, after: int) -> Iterable[tuple[PlannedRound, PlannedRound]]:
    return zip(old.rounds[after:], new.rounds[after:], strict=True)


def _place(planned: PlannedRound, name: str) -> str:
    entry = _entry_of(planned, name)
    if entry is not None:
        return entry.court
    return "" if name in planned.resting else NOT_HERE


def _words(planned: PlannedRound, name: str) -> str:
    entry = _entry_of(planned, name)
    if entry is not None:
        return _on_court(entry, name)
    if name in planned.resting:
        return RESTING
    is_listed = name in planned.absent
    return LATER if planned.open and not is_listed else NOT_HERE


def _entry_of(planned: PlannedRound, name: str) -> CourtEntry | None:
    return next((entry for entry in planned.courts if name in entry.players), None)


def _on_court(entry: CourtEntry, name: str) -> str:
    match entry:
        case Group():
            return f"{entry.court}, drill"
        case Singles():
            return f"{entry.court}, singles against {_others(entry.players, name)}"
        case Match(team_a=one, team_b=other) | TwoAgainstOne(two=one, one=other):
            mine, theirs = (one, other) if name in one else (other, one)
            beside = f" with {_others(mine, name)}" if len(mine) > 1 else " alone"
            return f"{entry.court}{beside} against {' and '.join(sorted(theirs))}"


def _others(people: tuple[str, ...], name: str) -> str:
    return " and ".join(other for other in people if other != name)
