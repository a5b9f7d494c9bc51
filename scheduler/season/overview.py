"""The season as tables for people: evenings, results, people. For reading only."""

from __future__ import annotations

from pathlib import Path

from scheduler.domain.clock import format_time
from scheduler.domain.tables import Table, Value
from scheduler.results import levels_from
from scheduler.season.evenings import held
from scheduler.season.people import load_people
from scheduler.season.results import results_of
from scheduler.season.scores import matches_of, scores_of
from scheduler.season.store import reading


def overview(path: Path) -> tuple[Table, ...]:
    """Return the tables that people read.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    return _evenings(path), _results(path), _people(path), _course(path)


def _evenings(path: Path) -> Table:
    with reading(path) as connection:
        people = load_people(connection)
        rows = []
        for evening in held(connection):
            scores = scores_of(connection, evening, people)
            matches = matches_of(connection, evening.plan, people)
            rows.append(
                (
                    evening.number,
                    evening.date,
                    evening.name,
                    format_time(evening.start),
                    len(matches),
                    sum(bool(score.sets) for score in scores.values()),
                    evening.plan_id,
                    evening.revision,
                )
            )
    columns = ("Evening", "Date", "Name", "Start", "Matches", "Scores", "Plan", "Revision")
    return Table("Evenings", columns, tuple(rows))


def _results(path: Path) -> Table:
    with reading(path) as connection:
        people = load_people(connection)
        rows: list[tuple[Value, ...]] = []
        for evening in held(connection):
            scores = scores_of(connection, evening, people)
            for key, match in matches_of(connection, evening.plan, people).items():
                names = [people.name_of[one] for team in match.teams for one in team]
                score = scores[key].text if key in scores else ""
                rows.append(
                    (evening.number, evening.date, match.round, match.court, key, *names, score)
                )
    columns = (
        "Evening", "Date", "Round", "Court", "Match", "Team A 1", "Team A 2", "Team B 1",
        "Team B 2", "Score",
    )  # fmt: skip
    return Table("Results", columns, tuple(rows))


def _people(path: Path) -> Table:
    found = results_of(path)
    rows = tuple(
        (row.player, row.start, row.level, row.low, row.high, row.matches)
        for row in levels_from(found.matches, found.starting).rows
    )
    columns = ("Name", "Starting level", "Level", "Low", "High", "Matches")
    return Table("People", columns, rows)


def _course(path: Path) -> Table:
    """Return everybody's level after each evening with matches, a column an evening."""
    found = results_of(path)
    course = levels_from(found.matches, found.starting).course
    rows: list[tuple[Value, ...]] = [
        (name, start.level, *(round(levels[name], 2) for _, levels in course))
        for name, start in found.starting.items()
    ]
    heads = tuple(f"After evening {number}" for number, _ in course)
    return Table("Levels over time", ("Name", "Starting level", *heads), tuple(rows))
