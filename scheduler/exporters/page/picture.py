"""Who met whom: a picture of small squares drawn as a few paths, and the same in lists."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from scheduler.exporters.meetings import Pair
from scheduler.exporters.view import Person, View

_CELL = 10  # units of the drawing for each square
_ROOM, _LONGEST = 80, 15  # units and letters for the name that ends the lowest row
_SHADES = (
    ("never", "not in a match"),
    ("once", "once"),
    ("twice", "twice"),
    ("more", "three times or more"),
)


@dataclass(frozen=True, slots=True)
class Shade:
    """All squares of one kind as a single SVG path; `what` says what they mean."""

    name: str
    what: str
    path: str
    pairs: int


@dataclass(frozen=True, slots=True)
class Picture:
    """A triangle of squares: a row and, under each name, a column for every person.

    `width` and `height` are in units of the drawing; `labels` are short names,
    each with the corner where its row ends and its column begins.
    """

    width: int
    height: int
    labels: tuple[tuple[str, int, int], ...]
    shades: tuple[Shade, ...]


@dataclass(frozen=True, slots=True)
class Met:
    """One person's meetings with how often each; `missed` are those never met in a match."""

    person: Person
    partners: tuple[tuple[Person, int], ...]
    opponents: tuple[tuple[Person, int], ...]
    drills: tuple[tuple[Person, int], ...]
    missed: tuple[Person, ...]


def draw(view: View) -> Picture:
    """Return the picture of how often each two people met in matches, as partners or opponents."""
    people = tuple(evening.person for evening in view.evenings)
    times = _either_way(view, view.meetings.partners + view.meetings.opponents)
    squares: list[list[str]] = [[] for _ in _SHADES]
    for row, person in enumerate(people):
        for column, other in enumerate(people[:row]):
            shade = min(times[person.key, other.key], len(_SHADES) - 1)
            squares[shade].append(f"M{column * _CELL} {row * _CELL}h9v9h-9z")
    shades = tuple(
        Shade(name, what, "".join(paths), len(paths))
        for (name, what), paths in zip(_SHADES, squares, strict=True)
    )
    labels = tuple(
        (short, row * _CELL, row * _CELL + _CELL - 2) for row, short in enumerate(_shorts(people))
    )
    size = len(people) * _CELL
    return Picture(size + _ROOM, size, labels, shades)


def _shorts(people: tuple[Person, ...]) -> list[str]:
    """Return as much of each name as fits beside the picture, no two alike."""
    shorts = [_short(person) for person in people]
    times = Counter(shorts)
    return [
        short if times[short] == 1 else _keyed(person)
        for person, short in zip(people, shorts, strict=True)
    ]


def _short(person: Person) -> str:
    """Return the name, or its first word and the initial of its last where it is long."""
    if len(person.label) <= _LONGEST:
        return person.label
    first, *_, last = person.label.split() * 2
    initials = f"{first} {last[0]}."
    return initials if len(initials) <= _LONGEST and last != first else _keyed(person)


def _keyed(person: Person) -> str:
    first = person.label.split()[0]
    return f"{first[: _LONGEST - len(person.key) - 1]} {person.key}"


def meetings_of(view: View) -> tuple[Met, ...]:
    """Return everybody's meetings, people and lists in alphabetical order."""
    people = tuple(evening.person for evening in view.evenings)
    partners, opponents, drills = (
        _either_way(view, counts)
        for counts in (view.meetings.partners, view.meetings.opponents, view.meetings.drills)
    )
    in_matches = partners + opponents
    return tuple(
        Met(
            person,
            partners=_with(person, people, partners),
            opponents=_with(person, people, opponents),
            drills=_with(person, people, drills),
            missed=tuple(
                other
                for other in people
                if other is not person and not in_matches[person.key, other.key]
            ),
        )
        for person in people
    )


def _with(
    person: Person, people: tuple[Person, ...], times: Counter[Pair]
) -> tuple[tuple[Person, int], ...]:
    met = ((other, times[person.key, other.key]) for other in people)
    return tuple((other, count) for other, count in met if count)


def _either_way(view: View, counts: Counter[Pair]) -> Counter[Pair]:
    """Return counts by the keys of two people, looked up either way round."""
    times: Counter[Pair] = Counter()
    for (one, other), count in counts.items():
        keys = view.person_of[one].key, view.person_of[other].key
        times[keys] += count
        times[keys[1], keys[0]] += count
    return times
