"""Putting names right: a new name, two people who are one, short names for the public."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from enum import StrEnum
from pathlib import Path

from scheduler.domain.errors import BadInput, Fault
from scheduler.readers.fields import as_name
from scheduler.season.people import People, add_spelling, load_people
from scheduler.season.recordings import begin_recording
from scheduler.season.store import reading, writing

_PUBLIC = "public names"


class PublicNames(StrEnum):
    """How names are shown where anybody may read them."""

    FULL = "full"
    SHORT = "short"


def rename(path: Path, old: str, new: str) -> str:
    """Give a person another name and return the old one; every spelling stays known.

    Raises
    ------
    BadInput
        If nobody has the old name, or somebody else has the new one.
    """
    new = _sound(new)
    with writing(path) as connection:
        people = load_people(connection)
        person = people.named(old)
        owner = people.called(new)
        if owner is not None and owner != person:
            what = f'"{new}" is already {people.name_of[owner]}; if they are one person, use merge'
            raise BadInput.one("", what)
        was = people.name_of[person]
        if was != new:
            log = begin_recording(connection, "rename", "")
            add_spelling(connection, person, new, log, shown=True)
        return was


def merge(path: Path, gone: str, kept: str) -> tuple[str, str]:
    """Make two recorded people one, under the second name; return both names.

    Raises
    ------
    BadInput
        If either is unknown, they are one already, or both took part in one evening.
    """
    with writing(path) as connection:
        people = load_people(connection)
        faults: list[Fault] = []
        found: list[int] = []
        for name in (gone, kept):
            try:
                found.append(people.named(name))
            except BadInput as error:
                faults.extend(error.faults)
        if faults:
            raise BadInput(faults)
        if found[0] == found[1]:
            raise BadInput.one("", f'"{gone}" and "{kept}" are one person already')
        _refuse_together(connection, people, found[0], found[1])
        log = begin_recording(connection, "merge", "")
        connection.execute(
            "INSERT INTO merges (person, into_person, recording) VALUES (?, ?, ?)", (*found, log)
        )
        return people.name_of[found[0]], people.name_of[found[1]]


def _sound(name: str) -> str:
    """Return a name as lists have it, or raise what is wrong with it."""
    try:
        return as_name(name)
    except ValueError as error:
        raise BadInput.one(name, f"the name {error}") from None


def _refuse_together(connection: sqlite3.Connection, people: People, one: int, other: int) -> None:
    rows = connection.execute(
        "SELECT e.name, e.date, r.person, p.evening FROM presence r JOIN plans p ON p.id = r.plan "
        "JOIN evenings e ON e.id = p.evening WHERE r.rounds > 0 AND p.id IN "
        "(SELECT max(id) FROM plans GROUP BY evening) ORDER BY e.id"
    ).fetchall()
    there: dict[int, set[int]] = {}
    faults = []
    for row in rows:
        persons = there.setdefault(row["evening"], set())
        person = people.now(row["person"])
        both = {one, other}
        if person in both and person not in persons and persons & both:
            when = f"{row['date']} {row['name']}".strip()
            names = f"{people.name_of[one]} and {people.name_of[other]}"
            faults.append(Fault("", f"{names} both took part on {when}, so they are two people"))
        persons.add(person)
    if faults:
        raise BadInput(faults)


def set_public_names(path: Path, style: PublicNames | None, given: Mapping[str, str]) -> None:
    """Choose how names are shown in public, and give people short names ("" takes one back).

    Raises
    ------
    BadInput
        If one of the names is nobody's.
    """
    with writing(path) as connection:
        people = load_people(connection)
        faults: list[Fault] = []
        rows: list[tuple[int, str]] = []
        for name, short in given.items():
            try:
                rows.append((people.named(name), _sound(short) if short.strip() else ""))
            except BadInput as error:
                faults.extend(error.faults)
        if faults:
            raise BadInput(faults)
        log = begin_recording(connection, "public names", "")
        for person, short in rows:
            connection.execute(
                "INSERT INTO short_names (person, name, recording) VALUES (?, ?, ?)",
                (person, short, log),
            )
        if style is not None:
            connection.execute(
                "INSERT INTO settings (name, value, recording) VALUES (?, ?, ?)",
                (_PUBLIC, str(style), log),
            )


def public_names(path: Path) -> tuple[PublicNames, dict[str, str]]:
    """Return the season's choice, and the short name of everybody, all of them different."""
    with reading(path) as connection:
        people = load_people(connection)
        row = connection.execute(
            "SELECT value FROM settings WHERE name = ? ORDER BY id DESC LIMIT 1", (_PUBLIC,)
        ).fetchone()
    style = PublicNames(row["value"]) if row else PublicNames.FULL
    given = {people.name_of[person]: short for person, short in people.short_of.items()}
    return style, short_names(list(people.name_of.values()), given)


def short_names(names: list[str], given: Mapping[str, str]) -> dict[str, str]:
    """Return a short name for each name: the given one, or first name and as few letters as needed.

    ``Ada Birch`` is ``Ada B.``, and ``Ada Bi.`` beside an ``Ada Boyd``; a name
    of one word stays. What would still be alike gets a number.
    """
    shorts = {name: given.get(name) or _initialled(name, 1) for name in names}
    longest = max(map(len, names), default=1)
    for letters in range(2, longest + 1):
        alike = _alike(shorts)
        if not alike:
            break
        for name in alike:
            if name not in given:
                shorts[name] = _initialled(name, letters)
    for number, name in enumerate(_alike(shorts), start=1):
        shorts[name] = f"{shorts[name]} {number}"
    return shorts


def _alike(shorts: Mapping[str, str]) -> list[str]:
    taken: dict[str, int] = {}
    for short in shorts.values():
        taken[short.casefold()] = taken.get(short.casefold(), 0) + 1
    return [name for name, short in shorts.items() if taken[short.casefold()] > 1]


def _initialled(name: str, letters: int) -> str:
    words = name.split()
    if len(words) < 2:
        return name
    rest = words[-1]
    return f"{words[0]} {rest[:letters]}." if letters < len(rest) else f"{words[0]} {rest}"
