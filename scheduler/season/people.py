"""Who is who: spellings, names, and people recorded twice and merged."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from scheduler.domain.errors import BadInput, Fault
from scheduler.season.likeness import closest, same_letters


@dataclass(frozen=True)
class People:
    """Everybody the season knows, at one moment.

    Parameters
    ----------
    name_of
        The name of each person, merged ones left out.
    merged_into
        For a person merged into another, who that is by now.
    by_spelling
        Whose a spelling is, the last one who was given it.
    short_of
        The short name a person was given for public pages.
    """

    name_of: Mapping[int, str]
    merged_into: Mapping[int, int] = field(default_factory=dict)
    by_spelling: Mapping[str, int] = field(default_factory=dict)
    short_of: Mapping[int, str] = field(default_factory=dict)

    def now(self, person: int) -> int:
        """Return who a recorded person is by now."""
        return self.merged_into.get(person, person)

    def called(self, name: str) -> int | None:
        """Return whose name or spelling this is, case and blanks aside, or None."""
        found = self.by_spelling.get(name)
        if found is not None:
            return found
        alike = {
            person
            for spelling, person in self.by_spelling.items()
            if same_letters(spelling) == same_letters(name)
        }
        return alike.pop() if len(alike) == 1 else None

    def named(self, name: str, where: str = "") -> int:
        """Return whose name this is.

        Raises
        ------
        BadInput
            If it is nobody's, with the nearest name there is.
        """
        found = self.called(name)
        if found is None:
            near = closest(name, self.name_of.values())
            advice = f"; did you mean '{near}'?" if near else ""
            raise BadInput.one(where, f'nobody in the season is called "{name}"{advice}')
        return found


def load_people(connection: sqlite3.Connection) -> People:
    """Return everybody as the file has them."""
    merges = dict(connection.execute("SELECT person, into_person FROM merges").fetchall())
    ids = [row["id"] for row in connection.execute("SELECT id FROM people ORDER BY id")]
    into = {person: _followed(person, merges) for person in ids if person in merges}
    name_of, by_spelling = dict[int, str](), dict[str, int]()
    for row in connection.execute("SELECT person, name, shown FROM spellings ORDER BY id"):
        by_spelling[row["name"]] = into.get(row["person"], row["person"])
        if row["shown"] and row["person"] not in into:
            name_of[row["person"]] = row["name"]
    shorts = connection.execute("SELECT person, name FROM short_names ORDER BY id").fetchall()
    short_of = {into.get(row["person"], row["person"]): row["name"] for row in shorts}
    return People(name_of, into, by_spelling, {p: name for p, name in short_of.items() if name})


def _followed(person: int, merges: Mapping[int, int]) -> int:
    while person in merges:
        person = merges[person]
    return person


@dataclass(frozen=True, slots=True)
class Known:
    """What the names of a list mean: `person_of` those known, `new` those who are not yet."""

    person_of: Mapping[str, int]
    new: tuple[str, ...]
    remarks: tuple[str, ...] = ()


def recognise(  # noqa: PLR0913  one parameter a thing that is known beforehand
    people: People,
    names: Sequence[str],
    *,
    new: Sequence[str] = (),
    same: Mapping[str, str] | None = None,
    source: str = "",
    recorded: bool = False,
) -> Known:
    """Find out who the people of a list are.

    Parameters
    ----------
    people
        Everybody the season knows.
    names
        The list.
    new
        Names said to be new people, however close to a known name.
    same
        For a spelling of the list, the known name it stands for.
    source
        The file the list comes from, for messages.
    recorded
        Whether the list is in the season already. Two people of it who were
        merged since, because only one of them took part, are no fault then.

    Raises
    ------
    BadInput
        For every name that is close to a known one of somebody not on the
        list, so that it may be the same person; and for two names that are
        the same person.
    """
    same = dict(same or {})
    faults = [
        *_not_on_the_list(names, new, "--new", source),
        *_not_on_the_list(names, list(same), "--same", source),
        *_taken(people, new),
    ]
    person_of, remarks = dict[str, int](), list[str]()
    for name in (name for name in names if name not in new):
        try:
            found = people.named(same[name], "--same") if name in same else people.called(name)
        except BadInput as error:
            faults.extend(error.faults)
            continue
        if found is not None:
            person_of[name] = found
            if name not in people.by_spelling and name not in same:
                remarks.append(f"{name} is taken for {people.name_of[found]}.")
    strangers = [name for name in names if name not in person_of and name not in same]
    asked = [name for name in strangers if name not in new]
    if not recorded:
        faults += _twice(people, person_of, source)
    faults += _questions(people, asked, person_of, source)
    if faults:
        raise BadInput(faults)
    return Known(person_of, tuple(strangers), tuple(remarks))


def _questions(
    people: People, asked: Sequence[str], person_of: Mapping[str, int], source: str
) -> list[Fault]:
    """Ask about every unknown name that is close to that of somebody who is not on the list."""
    there = set(person_of.values())
    away = [called for person, called in people.name_of.items() if person not in there]
    found = [(name, closest(name, away)) for name in asked]
    return [Fault(_place(source, name), _question(name, near)) for name, near in found if near]


def close_to_known(people: People, names: Sequence[str]) -> tuple[str, ...]:
    """Return a sentence for every name that may be another spelling of a known person."""
    try:
        recognise(people, names)
    except BadInput as error:
        return tuple(fault.what for fault in error.faults)
    return ()


def _question(name: str, near: str) -> str:
    return (
        f"\"{name}\" is not in the season; did you mean '{near}'? If so give "
        f'--same "{name}={near}", and if this is a new person --new "{name}"'
    )


def _not_on_the_list(
    names: Sequence[str], given: Sequence[str], option: str, source: str
) -> list[Fault]:
    faults = []
    for name in given:
        if name not in names:
            near = closest(name, names)
            advice = f"; did you mean '{near}'?" if near else ""
            faults.append(Fault(option, f'"{name}" is not in the list of {source}{advice}'))
    return faults


def _taken(people: People, new: Sequence[str]) -> list[Fault]:
    """Refuse a second person of the very same name: no table could tell them apart."""
    shown = {same_letters(name): name for name in people.name_of.values()}
    return [
        Fault("--new", f'there is a "{shown[same_letters(name)]}" already; give one another name')
        for name in new
        if same_letters(name) in shown
    ]


def _twice(people: People, person_of: Mapping[str, int], source: str) -> list[Fault]:
    seen: dict[int, str] = {}
    faults = []
    for name, person in person_of.items():
        if person in seen:
            who = people.name_of[person]
            what = f'"{seen[person]}" and "{name}" are both {who} in the season'
            faults.append(Fault(_place(source, name), f"{what}; say who is new with --new"))
        seen.setdefault(person, name)
    return faults


def _place(source: str, name: str) -> str:
    return f"{source} players" if source else name


def new_person(connection: sqlite3.Connection, name: str, recording: int) -> int:
    """Add a person with a name and return their number."""
    added = connection.execute("INSERT INTO people (recording) VALUES (?)", (recording,))
    person = int(added.lastrowid or 0)
    add_spelling(connection, person, name, recording, shown=True)
    return person


def add_spelling(
    connection: sqlite3.Connection, person: int, name: str, recording: int, *, shown: bool
) -> None:
    """Add a spelling of a person; one that is shown becomes the name."""
    connection.execute(
        "INSERT INTO spellings (person, name, shown, recording) VALUES (?, ?, ?, ?)",
        (person, name, int(shown), recording),
    )
