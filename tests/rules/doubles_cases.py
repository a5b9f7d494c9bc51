"""The rule cases as data, and the set they all start from.

Every case names its rule and how far it is known: ``verified`` (rule text
seen), ``secondary`` (commentary seen), ``from memory``, ``derived`` (worked
out from the rules) or ``common practice, no source``.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.rules.position import after_games, after_points
from scheduler.rules.state import SetState, Team, rules_of, start_set

FOLDER = Path(__file__).parent / "cases"
STATUSES = {"verified", "secondary", "from memory", "derived", "common practice, no source"}


def cases(name: str) -> list[dict[str, Any]]:
    """Return the rows of one file of cases."""
    document = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    rows: list[dict[str, Any]] = document["cases"]
    return rows


def title(case: dict[str, Any]) -> str:
    """Return a name for a case in the test report."""
    words = [str(case[key]) for key in ("rule", "title", "set", "score", "points") if key in case]
    return " ".join(words)[:90]


def start(
    set_format: str = "tie-break set", game: str = "ad", end_changes: str = "six"
) -> SetState:
    """Return the set-up of the worked tables: A serves first from N, A1 and B1 receive deuce."""
    rules = rules_of(SetFormat(set_format), GameFormat(game), EndChanges(end_changes))
    return start_set(rules, ("A1", "A2"), ("B1", "B2"), ends=("N", "S"))


def at(case: dict[str, Any]) -> SetState:
    """Return the state at a case's games and points."""
    begun = start(case.get("set", "tie-break set"), case.get("game", "ad"))
    games = tuple(case.get("games", (0, 0)))
    return after_points(after_games(begun, games), tuple(case.get("points", (0, 0))))


def team(letter: str) -> Team:
    """Return the team of a letter."""
    return Team[letter]
