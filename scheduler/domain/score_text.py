"""One match's score on one line of text, as it travels from a phone to ``rota scores``.

A line looks like this; team A, the one the plan names first, comes first::

    rota 3f2a9c1b7d4e R4C2 6-4 3-6 10-7 # Court 2, round 4: Ada & Bruno / Chiara & Dmitri

- ``rota`` opens the line, so that it is found among other words of a message;
- the plan's id, and the match's key: round 4, second court of the plan;
- a score for each set: games, ``7-6(5)`` where the loser's points of the
  tie-break are known, and points where the set is nothing but a tie-break;
- ``unfinished``, ``A retired`` or ``B retired`` where the match was cut short;
- after ``#``, words for people only.

Scores are in games and points as they stood; whether they can occur in the
event's format is for the reader of the plan to judge.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

OPENING = "rota"
COMMENT = "#"
MOST = 999  # far beyond any set ever played


class Mark(StrEnum):
    """How a match ended that did not come to its end."""

    UNFINISHED = "unfinished"
    A_RETIRED = "A retired"
    B_RETIRED = "B retired"


@dataclass(frozen=True, slots=True)
class SetScore:
    """One set, team A first; `lost_with` are the points of the side that lost its tie-break."""

    a: int
    b: int
    lost_with: int | None = None

    def __str__(self) -> str:
        tail = "" if self.lost_with is None else f"({self.lost_with})"
        return f"{self.a}-{self.b}{tail}"


@dataclass(frozen=True, slots=True)
class ScoreLine:
    """The score of one match of one plan; `match` is a key such as ``R4C2``."""

    plan_id: str
    match: str
    sets: tuple[SetScore, ...]
    mark: Mark | None = None
    comment: str = ""

    def __str__(self) -> str:
        scores = (str(score) for score in self.sets)
        words = [OPENING, self.plan_id, self.match, *scores, *filter(None, [self.mark])]
        return " ".join(words) + (f" {COMMENT} {self.comment}" if self.comment else "")


_MARKS = "|".join(re.escape(mark) for mark in Mark)
_SET = r"\d{1,4}-\d{1,4}(?:\(\d{1,4}\))?"
_LINE = re.compile(
    rf"{OPENING}\s+(?P<plan>[0-9a-f]{{12}})\s+(?P<match>R\d+C\d+)"
    rf"(?P<sets>(?:\s+{_SET})+)(?:\s+(?P<mark>{_MARKS}))?\s*(?:{COMMENT}\s*(?P<comment>.*))?",
    re.IGNORECASE,
)


def read_score_line(text: str) -> ScoreLine | None:
    """Return the score a line of text holds, or None where it does not start as one.

    Parameters
    ----------
    text
        One line; blanks around it do not matter.

    Raises
    ------
    ValueError
        If the line starts as a score line but cannot be read; the message
        says how one looks.
    """
    text = text.strip()
    if text.casefold().split(maxsplit=1)[:1] != [OPENING]:
        return None
    found = _LINE.fullmatch(text)
    sets = _sets(found["sets"]) if found else ()
    if found is None or max(max(score.a, score.b) for score in sets) > MOST:
        raise ValueError(f"must look like '{OPENING} 3f2a9c1b7d4e R4C2 6-4', got \"{text}\"")
    mark = next(
        (mark for mark in Mark if mark.casefold() == (found["mark"] or "").casefold()), None
    )
    return ScoreLine(
        plan_id=found["plan"].lower(),
        match=found["match"].upper(),
        sets=sets,
        mark=mark,
        comment=(found["comment"] or "").strip(),
    )


def _sets(text: str) -> tuple[SetScore, ...]:
    return tuple(
        SetScore(int(a), int(b), int(lost) if lost else None)
        for a, b, lost in re.findall(r"(\d+)-(\d+)(?:\((\d+)\))?", text)
    )


def read_sets(text: str) -> tuple[SetScore, ...]:
    """Return the sets of a text such as ``"6-4 3-6 10-7"``; none of an empty text.

    Raises
    ------
    ValueError
        If the text is anything else.
    """
    words = text.split()
    if any(re.fullmatch(_SET, word) is None for word in words):
        raise ValueError(f'a score looks like 6-4 or 7-6(5), got "{text}"')
    return _sets(text)
