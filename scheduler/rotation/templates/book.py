"""The book: best known schedules by size, found by the project's own long search.

``data/book.zip`` holds a text for every aim and number of players, with a
line ``courts rounds: partner-repeats repeats source words`` a schedule. How it was
made is in `scheduler.rotation.templates.search`, what it holds in ``data/COVERAGE.md``.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import as_file, files

from scheduler.rotation.templates.labels import rounds_of
from scheduler.rotation.templates.recount import Rounds

COUPLES, STRANGERS, AGAINST = "couples", "strangers", "against"

_SOURCES = {
    "a": "annealing",
    "w": "whist rounds",
    "m": "meet-once rounds",
    "s": "self-orthogonal square",
}


@dataclass(frozen=True, slots=True)
class Entry:
    """A schedule of the book.

    `partner` counts its partner repeats, `second` its opponent repeats (its
    meetings under the aim ``meetings``).
    """

    courts: int
    rounds: int
    partner: int
    second: int
    letter: str
    words: str

    @property
    def source(self) -> str:
        """How it was found."""
        if self.letter.startswith("g"):
            return f"annealing begun under a cyclic group of order {self.letter[1:]}"
        return _SOURCES[self.letter]

    def schedule(self) -> Rounds:
        """Return its rounds."""
        return rounds_of(self.words)


def entry(chapter: str, size: str, courts: int, rounds: int) -> Entry | None:
    """Return the schedule of a size, or None if the book has none.

    Parameters
    ----------
    chapter
        ``opponents``, ``meetings``, ``couples``, ``strangers`` or ``against``.
    size
        The number of players (of couples, of men), or ``5-6`` for a group of five
        against one of six.
    courts, rounds
        How many.
    """
    line = _page(f"{chapter}/{size}.txt").get(f"{courts} {rounds}")
    return None if line is None else _entry(f"{courts} {rounds}", line)


def entries() -> Iterator[tuple[str, str, Entry]]:
    """Yield (chapter, size, entry) for the whole book."""
    for name in _names():
        chapter, size = name.removesuffix(".txt").split("/")
        for key, line in _page(name).items():
            yield chapter, size, _entry(key, line)


def _entry(key: str, line: str) -> Entry:
    courts, rounds = key.split()
    partner, second, letter, words = line.split(" ", 3)
    return Entry(int(courts), int(rounds), int(partner), int(second), letter, words)


@cache
def _names() -> tuple[str, ...]:
    source = files(__package__).joinpath("data", "book.zip")
    with as_file(source) as path, zipfile.ZipFile(path) as book:
        return tuple(sorted(book.namelist()))


@cache
def _page(name: str) -> dict[str, str]:
    source = files(__package__).joinpath("data", "book.zip")
    with as_file(source) as path, zipfile.ZipFile(path) as book:
        if name not in book.NameToInfo:
            return {}
        text = book.read(name).decode("utf-8")
    return {key: line.strip() for key, line in (line.split(":", 1) for line in text.splitlines())}
