"""Who moves between two versions of a plan, in words to read out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

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


RESTS = "rests"


class Why(StrEnum):
    """What sort of change one round brings to one person."""

    GONE = "not here any more"
    COMES = "here after all"
    MOVES = "another court, or rest and play exchanged"
    COMPANY = "same court, other people"
    SEATED = "seated now, from results"


@dataclass(frozen=True, slots=True)
class Step:
    """One round of one person that is another now.

    `place` is the court, `RESTS` or, for somebody gone, nothing; `with_whom`
    tells partner and opponents where there are any.
    """

    player: str
    round: int
    why: Why
    place: str
    with_whom: str = ""


@dataclass(frozen=True, slots=True)
class Moved:
    """How many people have another place, in how many rounds, and how many only other company.

    `steps` tells all changes, in the order of the players list and of the
    rounds, those of people who leave, join or are seated from results included.
    """

    people: int
    places: int
    company: int
    steps: tuple[Step, ...] = ()

    @property
    def sentence(self) -> str:
        """The numbers in words, without a full stop."""
        who = {0: "nobody moves", 1: "1 person moves"}.get(
            self.people, f"{self.people} people move"
        )
        times = "" if self.places == self.people else f", {self.places} times in all"
        if not self.company:
            return f"{who}{times}"
        more = " more" if self.people else ""
        has = "has" if self.company == 1 else "have"
        return f"{who}{times}; {self.company}{more} {has} other company"


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
    """Return who changes court, or from court to rest or back, and how many that are.

    Whoever leaves or joins is not counted.
    """
    found = tuple(
        step
        for player in new.event.players
        for was, now in _rounds(old, new, after)
        if (step := _step(was, now, player.name)) is not None
    )
    moves = [step.player for step in found if step.why is Why.MOVES]
    company = {step.player for step in found if step.why is Why.COMPANY}
    return Moved(len(set(moves)), len(moves), len(company - set(moves)), found)


def _step(was: PlannedRound, now: PlannedRound, name: str) -> Step | None:
    """Return what a round brings to a person, None where it is as it was."""
    words, place = _words(now, name), _place(now, name)
    if _words(was, name) == words or words == LATER:
        return None
    why = Why.COMPANY if place == _place(was, name) else Why.MOVES
    if place == NOT_HERE:
        why = Why.GONE
    elif was.open:
        why = Why.SEATED
    elif _place(was, name) == NOT_HERE:
        why = Why.COMES
    return Step(
        player=name,
        round=now.number,
        why=why,
        place="" if why is Why.GONE else place or RESTS,
        with_whom=words.removeprefix(place).strip() if place else "",
    )


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
