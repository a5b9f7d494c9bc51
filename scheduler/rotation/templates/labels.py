"""Schedules as text: one letter a label, one word a round, four letters a match."""

from __future__ import annotations

import string
from collections.abc import Iterable, Sequence
from functools import cache
from importlib.resources import files

from scheduler.rotation.templates.recount import Match, Rounds

LETTERS = string.digits + string.ascii_letters + "".join(map(chr, range(0xC0, 0xC0 + 66)))
"""The letter of each label from 0 to 127."""

_LABEL = {letter: label for label, letter in enumerate(LETTERS)}


def word_of(played: Iterable[Sequence[int]]) -> str:
    """Return the word of a round."""
    return "".join(LETTERS[label] for match in played for label in match)


def text_of(rounds: Iterable[Iterable[Sequence[int]]]) -> str:
    """Return the words of a schedule, with a space between rounds."""
    return " ".join(word_of(played) for played in rounds)


def games_of(word: str) -> tuple[tuple[int, int], ...]:
    """Return the games of a word of two letters a game."""
    labels = [_LABEL[letter] for letter in word]
    return tuple((labels[k], labels[k + 1]) for k in range(0, len(labels), 2))


def round_of(word: str) -> tuple[Match, ...]:
    """Return the matches of a word."""
    labels = [_LABEL[letter] for letter in word]
    return tuple(
        (labels[k], labels[k + 1], labels[k + 2], labels[k + 3]) for k in range(0, len(labels), 4)
    )


def rounds_of(text: str) -> Rounds:
    """Return the rounds of words with spaces between."""
    return tuple(round_of(word) for word in text.split())


@cache
def table(name: str) -> dict[str, str]:
    """Return the lines ``key: text`` of a file in the data folder by key; # begins a remark."""
    content = files(__package__).joinpath("data", name).read_text(encoding="utf-8")
    lines = (line for line in content.splitlines() if line and not line.startswith("#"))
    return {key: text.strip() for key, text in (line.split(":", 1) for line in lines)}
