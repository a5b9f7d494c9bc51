"""Plans with random seats and scores for them; no engine is needed."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import CourtEntry, Group, Match, Plan, PlannedRound
from scheduler.domain.score_text import SetScore
from scheduler.domain.typed_score import TypedScore

PEOPLE = (
    "Ada Birch", "Bruno Cole", "Chiara Dune", "Dmitri Elm", "Elif Frost", "Farid Glen",
    "Greta Holm", "Hugo Iver", "Inês Jade", "Jón Kelp",
)  # fmt: skip


def plan_of(
    number: int = 1, *, seed: int = 1, names: Sequence[str] = PEOPLE, date: bool = True
) -> Plan:
    """Return the plan of the club's evening of that number: a drill and three doubles rounds."""
    rng = random.Random(f"{number} {seed}")
    asked = tuple(
        Round(Kind.DRILL if index == 0 else Kind.DOUBLES, 1110 + 25 * index, 25)
        for index in range(4)
    )
    event = Event(
        name="Club evening",
        date=f"2026-{1 + number // 28:02d}-{1 + number % 28:02d}" if date else "",
        start=1110,
        players=tuple(Player(name, 3 + index / 2) for index, name in enumerate(names)),
        courts=tuple(Court(f"Court {index}") for index in (1, 2)),
        rounds=asked,
    )
    rounds = tuple(
        _seated(list(names), index, one, rng) for index, one in enumerate(asked, start=1)
    )
    return Plan(event, rounds)


def _seated(names: list[str], number: int, asked: Round, rng: random.Random) -> PlannedRound:
    rng.shuffle(names)
    courts: list[CourtEntry] = []
    if asked.kind is Kind.DRILL:
        half = len(names) // 2
        courts = [Group("Court 1", tuple(names[:half])), Group("Court 2", tuple(names[half:]))]
        resting: list[str] = []
    else:
        for at in (0, 4):
            a1, a2, b1, b2 = names[at : at + 4]
            order = (a1, b1, a2, b2)
            courts.append(Match(f"Court {at // 4 + 1}", (a1, a2), (b1, b2), order, (a1, b1)))
        resting = names[8:]
    return PlannedRound(
        number, asked.kind, asked.start, asked.minutes, tuple(courts), tuple(resting)
    )


def replanned(plan: Plan, after: int, seed: int = 9) -> Plan:
    """Return a later revision that keeps the first rounds and seats the rest anew."""
    other = plan_of(seed=seed, names=[player.name for player in plan.event.players])
    return replace(
        plan, rounds=plan.rounds[:after] + other.rounds[after:], revision=plan.revision + 1
    )


def scores_for(plan: Plan, seed: int = 1) -> list[TypedScore]:
    """Return a finished score for every match."""
    rng = random.Random(seed)
    return [
        TypedScore(key, (SetScore(6, rng.randint(0, 4)),), None, f"Scores!F{row}")
        for row, key in enumerate(matches_by_key(plan), start=6)
    ]


def rows(path: Path, query: str) -> list[tuple[object, ...]]:
    """Return the rows of a query, past the program, straight from the file."""
    with closing(sqlite3.connect(path)) as connection:
        return [tuple(row) for row in connection.execute(query).fetchall()]


def everything(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Return every row of every table."""
    tables = rows(path, "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
    return {str(name): rows(path, f"SELECT * FROM {name} ORDER BY id") for (name,) in tables}
