"""What earlier evenings mean for one that is being planned."""

from __future__ import annotations

import sqlite3
from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from scheduler.checker.evening import Pair, pair
from scheduler.domain.event import Earlier, Event
from scheduler.season.counting import Turns
from scheduler.season.evenings import HeldEvening, before, held
from scheduler.season.people import People, close_to_known, load_people
from scheduler.season.store import reading

HALF_LIFE = 4.0
"""Evenings after which a meeting counts half, unless the user says otherwise."""


@dataclass(frozen=True, slots=True)
class Met:
    """What two people did together: whole counts, and the same faded."""

    partners: int = 0
    opponents: int = 0
    drills: int = 0
    faded_partners: float = 0.0
    faded_opponents: float = 0.0
    faded_drills: float = 0.0

    def plus(self, partners: int, opponents: int, drills: int, weight: float) -> Met:
        """Return the counts with one evening more that weighs so much."""
        return Met(
            self.partners + partners,
            self.opponents + opponents,
            self.drills + drills,
            self.faded_partners + weight * partners,
            self.faded_opponents + weight * opponents,
            self.faded_drills + weight * drills,
        )


@dataclass(frozen=True)
class History:
    """Earlier evenings added up, by name as tonight's list spells it.

    Parameters
    ----------
    evenings
        How many there were.
    half_life
        Evenings after which a meeting counts half.
    met
        What each pair did together, people who are not on tonight's list included.
    turns
        Everybody's rounds, rests, matches and first serves.
    visits, station_visits
        Times a person was on a court of that name.
    figures
        Sums over the evenings, and the greatest level gap.
    """

    evenings: int = 0
    half_life: float = HALF_LIFE
    met: Mapping[Pair, Met] = field(default_factory=dict)
    turns: Mapping[str, Turns] = field(default_factory=dict)
    visits: Mapping[tuple[str, str], int] = field(default_factory=dict)
    station_visits: Mapping[tuple[str, str], int] = field(default_factory=dict)
    figures: Mapping[str, float] = field(default_factory=dict)


def earlier_of(path: Path, event: Event, half_life: float = HALF_LIFE) -> tuple[Earlier, ...]:
    """Return what every two people of an event did together on earlier evenings.

    An evening `n` evenings ago (the last one is 1) weighs ``0.5 ** (n / half_life)``
    in the faded counts. Evenings on or after the event's own date and start do
    not count; without a date all do.

    Parameters
    ----------
    path
        The season file.
    event
        The event about to be planned.
    half_life
        Evenings after which a meeting counts half.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    return earlier_from(history_of(path, event, half_life), event)


def earlier_from(history: History, event: Event) -> tuple[Earlier, ...]:
    """Return the part of a history that is about two people of an event, in the list's order."""
    names = [player.name for player in event.players]
    result = []
    for at, one in enumerate(names):
        for other in names[at + 1 :]:
            met = history.met.get(pair(one, other))
            if met is not None:
                result.append(
                    Earlier(
                        one,
                        other,
                        met.partners,
                        met.opponents,
                        met.drills,
                        round(met.faded_partners, 6),
                        round(met.faded_opponents, 6),
                        round(met.faded_drills, 6),
                    )
                )
    return tuple(result)


def history_of(path: Path, event: Event, half_life: float = HALF_LIFE) -> History:
    """Return the evenings before an event, added up.

    Raises
    ------
    BadInput
        If the season cannot be read.
    ValueError
        If the half-life is not above 0.
    """
    if not half_life > 0:
        raise ValueError(f"the half-life must be above 0 evenings, got {half_life}")
    with reading(path) as connection:
        people = load_people(connection)
        evenings = before(held(connection), event)
        return _added_up(connection, people, evenings, event, half_life)


@dataclass(frozen=True)
class Remembering:
    """An event that knows its season: the event to plan, its history, doubts about names."""

    event: Event
    history: History
    remarks: tuple[str, ...] = ()


def remembering(path: Path, event: Event, half_life: float = HALF_LIFE) -> Remembering:
    """Return an event with what the season knows of its people, ready to be planned.

    Raises
    ------
    BadInput
        If the season cannot be read.
    ValueError
        If the half-life is not above 0.
    """
    history = history_of(path, event, half_life)
    known = replace(event, earlier=earlier_from(history, event))
    return Remembering(known, history, spelling_questions(path, event))


def spelling_questions(path: Path, event: Event) -> tuple[str, ...]:
    """Return a sentence for every name of an event that may be another spelling of a known one.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    with reading(path) as connection:
        people = load_people(connection)
    return close_to_known(people, [player.name for player in event.players])


def names_tonight(people: People, event: Event) -> dict[int, str]:
    """Return what to call every known person: as the event spells them, else by their name."""
    called = dict(people.name_of)
    for player in event.players:
        person = people.called(player.name)
        if person is not None:
            called[person] = player.name
    return called


def _added_up(
    connection: sqlite3.Connection,
    people: People,
    evenings: tuple[HeldEvening, ...],
    event: Event,
    half_life: float,
) -> History:
    weights = {
        evening.plan: 0.5 ** (ago / half_life)
        for ago, evening in enumerate(reversed(evenings), start=1)
    }
    called = names_tonight(people, event)

    def name(person: int) -> str:
        return called[people.now(person)]

    visits: Counter[tuple[str, str]] = Counter()
    at_stations: Counter[tuple[str, str]] = Counter()
    for row in _rows(connection, "visits", weights):
        visits[name(row["person"]), row["court"]] += row["times"]
        at_stations[name(row["person"]), row["court"]] += row["at_station"]
    met: dict[Pair, Met] = defaultdict(Met)
    for row in _rows(connection, "meetings", weights):
        both = pair(name(row["person"]), name(row["other"]))
        times = (row["partners"], row["opponents"], row["drills"])
        met[both] = met[both].plus(*times, weights[row["plan"]])
    turns: dict[str, Turns] = defaultdict(Turns)
    for row in _rows(connection, "presence", weights):
        turns[name(row["person"])] = _more(turns[name(row["person"])], row)
    return History(
        evenings=len(evenings),
        half_life=half_life,
        met=dict(met),
        turns=dict(turns),
        visits=visits,
        station_visits=+at_stations,
        figures=_figures(connection, weights),
    )


def _rows(
    connection: sqlite3.Connection, table: str, plans: Mapping[int, float]
) -> list[sqlite3.Row]:
    rows = connection.execute(f"SELECT * FROM {table} ORDER BY id")  # noqa: S608  our own names
    return [row for row in rows if row["plan"] in plans]


def _more(turns: Turns, row: sqlite3.Row) -> Turns:
    return Turns(
        turns.rounds + row["rounds"],
        turns.rests + row["rests"],
        turns.fair_rests + row["fair_rests"],
        turns.matches + row["matches"],
        turns.first_serves + row["first_serves"],
    )


def _figures(connection: sqlite3.Connection, plans: Mapping[int, float]) -> dict[str, float]:
    figures: dict[str, float] = {}
    for row in _rows(connection, "figures", plans):
        name, value = row["name"], row["value"]
        if name.endswith("_max"):
            figures[name] = max(figures.get(name, value), value)
        else:
            figures[name] = figures.get(name, 0) + value
    return figures
