"""Scores in the file: which of them count, and how a new one joins them."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.domain.score_text import Mark, SetScore, read_sets
from scheduler.domain.typed_score import TypedScore
from scheduler.season.evenings import HeldEvening
from scheduler.season.people import People

Teams = tuple[tuple[int, int], tuple[int, int]]


@dataclass(frozen=True, slots=True)
class RecordedMatch:
    """One match of the plan that counts; `teams` are people as they are by now."""

    key: str
    round: int
    court: str
    teams: Teams

    @property
    def sides(self) -> tuple[frozenset[int], frozenset[int]]:
        """The two teams whatever the order within each."""
        return frozenset(self.teams[0]), frozenset(self.teams[1])


@dataclass(frozen=True, slots=True)
class RecordedScore:
    """The last row of a match's score; no sets where the score was taken back."""

    row: int
    key: str
    sets: tuple[SetScore, ...]
    mark: Mark | None

    @property
    def text(self) -> str:
        """The score in words."""
        return TypedScore(self.key, self.sets, self.mark).text


def matches_of(
    connection: sqlite3.Connection, plan: int, people: People
) -> dict[str, RecordedMatch]:
    """Return the matches of a recorded plan by key, in playing order."""
    rows = connection.execute("SELECT * FROM matches WHERE plan = ? ORDER BY id", (plan,))
    found = {}
    for row in rows:
        a1, a2, b1, b2 = (people.now(row[seat]) for seat in ("a1", "a2", "b1", "b2"))
        teams = ((a1, a2), (b1, b2))
        found[row["key"]] = RecordedMatch(row["key"], row["round"], row["court"], teams)
    return found


def scores_of(
    connection: sqlite3.Connection, evening: HeldEvening, people: People
) -> dict[str, RecordedScore]:
    """Return the last score row of each match of an evening.

    A score typed for a plan that was replaced counts as long as the same two
    teams play that match in the plan that counts.
    """
    current = matches_of(connection, evening.plan, people)
    of_plan = {evening.plan: current}
    found: dict[str, RecordedScore] = {}
    rows = connection.execute(
        "SELECT s.* FROM scores s JOIN plans p ON p.id = s.plan WHERE p.evening = ? ORDER BY s.id",
        (evening.evening,),
    ).fetchall()
    for row in rows:
        if row["plan"] not in of_plan:
            of_plan[row["plan"]] = matches_of(connection, row["plan"], people)
        key = row["key"]
        if key in current and of_plan[row["plan"]][key].sides == current[key].sides:
            mark = Mark(row["mark"]) if row["mark"] else None
            found[key] = RecordedScore(row["id"], key, read_sets(row["sets"]), mark)
    return found


def add_score(
    connection: sqlite3.Connection,
    plan: int,
    typed: TypedScore,
    former: RecordedScore | None,
    recording: int,
) -> None:
    """Add a row for a score; with a former row it is a correction of that."""
    connection.execute(
        "INSERT INTO scores (plan, key, sets, mark, place, corrects, recording) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
        (
            plan,
            typed.match,
            " ".join(map(str, typed.sets)),
            str(typed.mark or ""),
            typed.where,
            former.row if former else None,
            recording,
        ),
    )


def names_of(match: RecordedMatch, people: People) -> str:
    """Return both teams by name, as in ``"Ada & Bruno against Chiara & Dmitri"``."""
    return team_words(match.teams, people.name_of)


def team_words(teams: Teams, name_of: Mapping[int, str]) -> str:
    """Return two teams in words."""
    return " against ".join(" & ".join(name_of[one] for one in team) for team in teams)
