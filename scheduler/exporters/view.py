"""A plan as rows for people: order, labels, times and words settled once.

Workbook, cards, page, csv and calendar lay these rows out and decide nothing
more. Every text here is clean (see `scheduler.exporters.text`) and stands for
itself; people and courts go by labels, which are their names unless a name is
too long to show.

Keys are short and typed by nobody: ``P07`` is the seventh of the players list,
``C2`` the second court, ``R4C2`` what happens there in round 4. They stay the
same when later rounds are planned again or people are added at the end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from scheduler.domain.clock import format_time
from scheduler.domain.codec import plan_to_dict
from scheduler.domain.event import Event, Kind
from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import (
    CourtEntry,
    Group,
    Match,
    Plan,
    PlannedRound,
    Singles,
    TwoAgainstOne,
)
from scheduler.domain.suggest import fold
from scheduler.exporters.meetings import Meetings, count_meetings
from scheduler.exporters.text import clean, join, short_labels
from scheduler.exporters.wording import MeasureLine, measure_lines, play_words

KIND_WORDS = {
    Kind.DRILL: "Drill",
    Kind.DOUBLES: "Doubles",
    Kind.MIXED: "Mixed doubles",
    Kind.PAIRS: "Fixed pairs",
    Kind.GROUP_AGAINST_GROUP: "Group against group",
    Kind.UP_AND_DOWN: "Up and down",
}
_TO = "\u2013"  # en dash, as times from and to are set
_COACH = re.compile(r"^coach\s+", re.IGNORECASE)
_TURNS = ("1st", "2nd", "3rd", "4th")


class Use(StrEnum):
    """What a court is used for in a round."""

    MATCH = "match"
    DRILL = "drill"
    SINGLES = "singles"
    TWO_AGAINST_ONE = "two against one"


class Doing(StrEnum):
    """Where one person is in a round."""

    ON_COURT = "on court"
    RESTING = "resting"
    ABSENT = "not here"
    NOT_SEATED_YET = "not seated yet"


@dataclass(frozen=True, slots=True)
class Person:
    """One person: `name` in full, `label` as shown on sheets, `key` such as ``P07``."""

    key: str
    name: str
    label: str
    level: float
    group: str


@dataclass(frozen=True, slots=True)
class Seat:
    """One person on a court, with their turn to serve and their receiving side in a match.

    `serves` is ``"1st"`` to ``"4th"`` (game of the set) and `receives` is
    ``"deuce"`` or ``"ad"``; both are empty outside matches.
    """

    person: Person
    serves: str = ""
    receives: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """What happens on one court in one round.

    `sides` holds the two teams, or one group in a drill. `title` is the line
    over it (``"Doubles"``, ``"Drill: volleys"``), `topic` and `coach` are those
    of a station; a coach's name comes without the word coach in front. `note`
    says who of them never came.
    """

    key: str
    round: RoundHead
    court: str
    use: Use
    title: str
    sides: tuple[tuple[Seat, ...], ...]
    topic: str = ""
    coach: str = ""
    note: str = ""

    @property
    def seats(self) -> tuple[Seat, ...]:
        """Everybody on the court, the first team first."""
        return tuple(seat for side in self.sides for seat in side)


@dataclass(frozen=True, slots=True)
class RoundHead:
    """A round's number, start, times from and to, kind in words and topic."""

    number: int
    start: str
    times: str
    kind: str
    title: str
    minutes: int


@dataclass(frozen=True, slots=True)
class RoundRow:
    """A whole round; `places` has one entry a court, None where the court is not used."""

    head: RoundHead
    places: tuple[Place | None, ...]
    resting: tuple[Person, ...]
    absent: tuple[Person, ...]
    open: bool


@dataclass(frozen=True, slots=True)
class Stop:
    """One person's one round: on which court, with whom, against whom."""

    head: RoundHead
    doing: Doing
    place: Place | None = None
    seat: Seat | None = None
    beside: tuple[Person, ...] = ()
    against: tuple[Person, ...] = ()


@dataclass(frozen=True, slots=True)
class Evening:
    """One person's whole evening, a stop a round."""

    person: Person
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class View:
    """Everything the exporters lay out.

    `people` stand in the order of the players list, `evenings` alphabetically;
    `play` says in a sentence what a match is.
    """

    name: str
    date: str
    times: str
    plan_id: str
    revision: int
    notes: str
    set_format: SetFormat
    play: str
    people: tuple[Person, ...]
    courts: tuple[str, ...]
    rounds: tuple[RoundRow, ...]
    evenings: tuple[Evening, ...]
    measures: tuple[MeasureLine, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    meetings: Meetings
    person_of: dict[str, Person]

    @property
    def identity(self) -> str:
        """The plan's id and revision in one line."""
        return f"plan {self.plan_id}, revision {self.revision}"

    def places(self) -> Iterator[Place]:
        """Yield every used court of every round, in playing order."""
        for row in self.rounds:
            yield from (place for place in row.places if place is not None)

    def matches(self) -> Iterator[Place]:
        """Yield every court with two against two, in playing order."""
        return (place for place in self.places() if place.use is Use.MATCH)


CAUTIONS = (
    "Space: keep the run-off behind and beside the courts free; pass behind only between points.",
    "Loose balls: stop at once when a ball rolls near anybody's feet; clear it, then go on.",
    "Heat: drink at every change of ends, rest in the shade, stop when dizzy or unwell.",
    "Thunder or lightning: everybody leaves the courts; go back only when the club says so.",
    "Juniors: an adult in charge always in sight; balls, nets and partners to suit age and size.",
    "These are reminders only. The club's rules, local codes and qualified coaches come first.",
)


def make_view(plan: Plan) -> View:
    """Return the rows of a plan; the same plan always gives the same rows."""
    event = plan.event
    person_of = _people(event)
    keys = [f"C{number}" for number in range(1, len(event.courts) + 1)]
    courts = short_labels([court.name for court in event.courts], keys)
    rows = tuple(_round_row(planned, person_of, courts) for planned in plan.rounds)
    meetings = count_meetings(plan)
    return View(
        name=clean(event.name) or "Evening",
        date=clean(event.date),
        times=_span(plan.rounds),
        plan_id=str(plan_to_dict(plan)["id"]),
        revision=plan.revision,
        notes=clean(event.notes),
        set_format=event.set_format,
        play=play_words(event.set_format, event.game_format),
        people=tuple(person_of.values()),
        courts=tuple(courts.values()),
        rounds=rows,
        evenings=_evenings(person_of, rows),
        measures=measure_lines(plan, meetings),
        warnings=tuple(clean(warning) for warning in plan.warnings),
        cautions=CAUTIONS,
        meetings=meetings,
        person_of=person_of,
    )


def _people(event: Event) -> dict[str, Person]:
    digits = max(2, len(str(len(event.players))))
    keys = [f"P{number:0{digits}d}" for number in range(1, len(event.players) + 1)]
    labels = short_labels([player.name for player in event.players], keys)
    return {
        player.name: Person(
            key=key,
            name=clean(player.name),
            label=labels[player.name],
            level=player.level,
            group=clean(player.group),
        )
        for player, key in zip(event.players, keys, strict=True)
    }


def _span(rounds: tuple[PlannedRound, ...]) -> str:
    if not rounds:
        return ""
    return f"{format_time(rounds[0].start)}{_TO}{format_time(rounds[-1].end)}"


def _head(planned: PlannedRound) -> RoundHead:
    kind, topic = KIND_WORDS[planned.kind], clean(planned.topic)
    return RoundHead(
        number=planned.number,
        start=format_time(planned.start),
        times=f"{format_time(planned.start)}{_TO}{format_time(planned.end)}",
        kind=kind,
        title=_title(kind, topic),
        minutes=planned.minutes,
    )


def _title(kind: str, topic: str) -> str:
    """Return the kind with its topic, said once where the topic says the kind already."""
    if fold(kind) in fold(topic):
        return topic
    return f"{kind}: {topic}" if topic else kind


def _round_row(
    planned: PlannedRound, person_of: dict[str, Person], courts: dict[str, str]
) -> RoundRow:
    head = _head(planned)
    entries = {entry.court: entry for entry in planned.courts}
    missing = planned.missing
    places = tuple(
        _place(head, index, label, entries[name], person_of, missing) if name in entries else None
        for index, (name, label) in enumerate(courts.items(), start=1)
    )
    return RoundRow(
        head=head,
        places=places,
        resting=_in_order(tuple(n for n in planned.resting if n not in missing), person_of),
        absent=_in_order((*planned.absent, *missing), person_of),
        open=planned.open,
    )


def _in_order(names: tuple[str, ...], person_of: dict[str, Person]) -> tuple[Person, ...]:
    return tuple(sorted((person_of[name] for name in names), key=lambda person: person.key))


def _place(  # noqa: PLR0913, PLR0917  what a place is made of
    head: RoundHead,
    index: int,
    court: str,
    entry: CourtEntry,
    person_of: dict[str, Person],
    missing: tuple[str, ...],
) -> Place:
    station = entry if isinstance(entry, Group) else None
    topic = clean(station.topic) if station else ""
    use, title, teams = _content(head, entry)
    title = f"{head.kind}: {topic}" if topic else title
    note = _not_come(entry, person_of, missing)
    return Place(
        key=f"R{head.number}C{index}",
        round=head,
        court=court,
        use=use,
        title=f"{title} ({note})" if note else title,
        sides=tuple(tuple(_seat(name, entry, person_of) for name in team) for team in teams),
        topic=topic,
        coach=_COACH.sub("", clean(station.coach)) if station else "",
        note=note,
    )


def _not_come(entry: CourtEntry, person_of: dict[str, Person], missing: tuple[str, ...]) -> str:
    labels = [person_of[name].label for name in entry.players if name in missing]
    return f"{join(labels)} did not come" if labels else ""


def _content(head: RoundHead, entry: CourtEntry) -> tuple[Use, str, tuple[tuple[str, ...], ...]]:
    match entry:
        case Match():
            return Use.MATCH, head.title, (entry.team_a, entry.team_b)
        case Group():
            return Use.DRILL, head.title, (entry.players,)
        case Singles():
            return Use.SINGLES, "Singles", tuple((name,) for name in entry.players)
        case TwoAgainstOne():
            return Use.TWO_AGAINST_ONE, "Two against one", (entry.two, entry.one)


def _seat(name: str, entry: CourtEntry, person_of: dict[str, Person]) -> Seat:
    person = person_of[name]
    if not isinstance(entry, Match):
        return Seat(person)
    order, deuce = entry.serving_order, entry.deuce_receivers
    return Seat(
        person,
        serves=_TURNS[order.index(name)] if name in order[:4] else "",
        receives=("deuce" if name in deuce else "ad") if deuce else "",
    )


def alphabetical(person: Person) -> tuple[str, str, str]:
    """Return the key that sorts people by name, accents and case aside."""
    return (fold(person.name), person.name, person.key)


def _evenings(person_of: dict[str, Person], rows: tuple[RoundRow, ...]) -> tuple[Evening, ...]:
    stops: dict[str, list[Stop]] = {person.key: [] for person in person_of.values()}
    for row in rows:
        for key, stop in _stops(row, tuple(person_of.values())).items():
            stops[key].append(stop)
    return tuple(
        Evening(person, tuple(stops[person.key]))
        for person in sorted(person_of.values(), key=alphabetical)
    )


def _stops(row: RoundRow, people: tuple[Person, ...]) -> dict[str, Stop]:
    otherwise = Doing.NOT_SEATED_YET if row.open else Doing.ABSENT
    stops = {person.key: Stop(row.head, otherwise) for person in people}
    stops.update({person.key: Stop(row.head, Doing.RESTING) for person in row.resting})
    for place in row.places:
        for side in place.sides if place else ():
            stops.update({seat.person.key: _on_court(place, side, seat) for seat in side})
    stops.update({person.key: Stop(row.head, Doing.ABSENT) for person in row.absent})
    return stops


def _on_court(place: Place | None, side: tuple[Seat, ...], seat: Seat) -> Stop:
    assert place is not None
    others = (other for other in place.sides if other is not side)
    return Stop(
        head=place.round,
        doing=Doing.ON_COURT,
        place=place,
        seat=seat,
        beside=tuple(mate.person for mate in side if mate is not seat),
        against=tuple(rival.person for other in others for rival in other),
    )
