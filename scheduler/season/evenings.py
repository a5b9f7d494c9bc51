"""Evenings and their plans: which one a plan belongs to, and in which order they were held."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from pathlib import Path

from scheduler.domain.codec import plan_to_dict, plan_to_json
from scheduler.domain.event import Event
from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import Plan
from scheduler.season.counting import Counts, counts_of
from scheduler.season.store import reading


@dataclass(frozen=True, slots=True)
class HeldEvening:
    """One evening: `number` counts from 1 in playing order, `plan` is the row that counts."""

    number: int
    evening: int
    plan: int
    plan_id: str
    revision: int
    name: str
    date: str
    start: int
    set_format: str

    @property
    def title(self) -> str:
        """What people call it: its date and name."""
        return f"{self.date} {self.name}".strip()


def held(connection: sqlite3.Connection) -> tuple[HeldEvening, ...]:
    """Return the evenings in playing order.

    They go by date and start; one without a date comes after the evening that
    was recorded before it.
    """
    rows = connection.execute(
        "SELECT e.id AS evening, e.name, e.date, e.start, p.id AS plan, p.plan_id, p.revision, "
        "p.set_format FROM evenings e JOIN plans p ON p.id = "
        "(SELECT max(id) FROM plans WHERE evening = e.id) ORDER BY e.id"
    ).fetchall()
    keyed, date = [], ""
    for row in rows:
        date = row["date"] or date
        keyed.append(((date, row["start"] if row["date"] else 24 * 60, row["evening"]), row))
    keyed.sort(key=lambda item: item[0])
    return tuple(HeldEvening(number, **dict(row)) for number, (_, row) in enumerate(keyed, start=1))


def before(evenings: tuple[HeldEvening, ...], event: Event) -> tuple[HeldEvening, ...]:
    """Return the evenings held before an event; itself and later ones are left out."""
    if not event.date:
        return evenings
    when = (event.date, event.start)
    return tuple(e for e in evenings if not e.date or (e.date, e.start) < when)


def evening_of(connection: sqlite3.Connection, plan: Plan) -> HeldEvening | None:
    """Return the recorded evening a plan belongs to, or None.

    It is the evening that has this very plan, or one of the same name, date
    and start; without a date, only if the first round is the same, as with a
    plan made anew in mid-evening.
    """
    known = held(connection)
    plan_id = id_of(plan)
    for row in connection.execute("SELECT evening FROM plans WHERE plan_id = ?", (plan_id,)):
        return next(e for e in known if e.evening == row["evening"])
    event = plan.event
    for candidate in reversed(known):
        same = (candidate.name, candidate.date, candidate.start) == (
            event.name,
            event.date,
            event.start,
        )
        if same and (event.date or _same_first_round(connection, candidate, plan)):
            return candidate
    return None


def id_of(plan: Plan) -> str:
    """Return the plan's id."""
    return str(plan_to_dict(plan)["id"])


def _same_first_round(connection: sqlite3.Connection, known: HeldEvening, plan: Plan) -> bool:
    document = document_of(connection, known.plan)
    return bool(plan.rounds) and document["rounds"][:1] == plan_to_dict(plan)["rounds"][:1]


def document_of(connection: sqlite3.Connection, plan: int) -> dict[str, list[object]]:
    """Return the document of a recorded plan."""
    row = connection.execute("SELECT document FROM plans WHERE id = ?", (plan,)).fetchone()
    document: dict[str, list[object]] = json.loads(row["document"])
    return document


def remembered_document(path: Path, plan_id: str) -> str | None:
    """Return the plan document a season has under an id, as text, or None.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    with reading(path) as connection:
        row = connection.execute(
            "SELECT document FROM plans WHERE plan_id = ? ORDER BY id DESC LIMIT 1", (plan_id,)
        ).fetchone()
    return None if row is None else str(row["document"])


def add_evening(connection: sqlite3.Connection, event: Event, recording: int) -> int:
    """Add an evening and return its row."""
    added = connection.execute(
        "INSERT INTO evenings (name, date, start, recording) VALUES (?, ?, ?, ?)",
        (event.name, event.date, event.start, recording),
    )
    return int(added.lastrowid or 0)


def add_plan(
    connection: sqlite3.Connection,
    evening: int,
    plan: Plan,
    person_of: dict[str, int],
    recording: int,
) -> int:
    """Add a plan with all it means for the season, and return its row."""
    added = connection.execute(
        "INSERT INTO plans (evening, plan_id, revision, set_format, document, recording) "
        "VALUES (?, ?, ?, ?, ?, ?)",
        (
            evening,
            id_of(plan),
            plan.revision,
            str(plan.event.set_format),
            plan_to_json(plan),
            recording,
        ),
    )
    row = int(added.lastrowid or 0)
    counts = counts_of(plan)
    _add_presence(connection, row, plan, counts, person_of)
    _add_meetings(connection, row, counts, person_of)
    _add_visits(connection, row, counts, person_of)
    connection.executemany(
        "INSERT INTO figures (plan, name, value) VALUES (?, ?, ?)",
        [(row, name, round(value, 9)) for name, value in counts.figures.items()],
    )
    connection.executemany(
        "INSERT INTO matches (plan, key, round, court, a1, a2, b1, b2) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        [
            (row, key, planned.number, match.court, *(person_of[name] for name in match.players))
            for key, (planned, match) in matches_by_key(plan).items()
        ],
    )
    return row


def _add_presence(
    connection: sqlite3.Connection,
    plan_row: int,
    plan: Plan,
    counts: Counts,
    person_of: dict[str, int],
) -> None:
    rows = []
    for position, player in enumerate(plan.event.players, start=1):
        turns = counts.turns[player.name]
        rows.append(
            (
                plan_row,
                position,
                person_of[player.name],
                player.name,
                player.level,
                int(player.level_given),
                turns.rounds,
                turns.rests,
                round(turns.fair_rests, 9),  # what a spreadsheet keeps
                turns.matches,
                turns.first_serves,
            )
        )
    connection.executemany(
        "INSERT INTO presence (plan, position, person, name, level, level_given, rounds, rests, "
        "fair_rests, matches, first_serves) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        rows,
    )


def _add_meetings(
    connection: sqlite3.Connection, plan_row: int, counts: Counts, person_of: dict[str, int]
) -> None:
    pairs = sorted({*counts.partners, *counts.opponents, *counts.drills})
    rows = [
        (
            plan_row,
            *sorted((person_of[one], person_of[other])),
            counts.partners.get((one, other), 0),
            counts.opponents.get((one, other), 0),
            counts.drills.get((one, other), 0),
        )
        for one, other in pairs
    ]
    connection.executemany(
        "INSERT INTO meetings (plan, person, other, partners, opponents, drills) "
        "VALUES (?, ?, ?, ?, ?, ?)",
        rows,
    )


def _add_visits(
    connection: sqlite3.Connection, plan_row: int, counts: Counts, person_of: dict[str, int]
) -> None:
    rows = [
        (plan_row, person_of[name], court, times, counts.station_visits.get((name, court), 0))
        for (name, court), times in counts.visits.items()
    ]
    connection.executemany(
        "INSERT INTO visits (plan, person, court, times, at_station) VALUES (?, ?, ?, ?, ?)", rows
    )
