"""The season's matches and levels, read for standings and levels."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from scheduler.domain.errors import BadInput
from scheduler.domain.event import Event
from scheduler.domain.formats import SetFormat
from scheduler.results import LevelRow, PlayedMatch, Starting, levels_from
from scheduler.season.evenings import HeldEvening, before, held
from scheduler.season.history import names_tonight
from scheduler.season.people import People, load_people
from scheduler.season.scores import matches_of, scores_of
from scheduler.season.store import reading


@dataclass(frozen=True)
class SeasonResults:
    """Everything played: the evenings in order, their matches, everybody's starting level."""

    evenings: tuple[HeldEvening, ...]
    matches: tuple[PlayedMatch, ...]
    starting: Mapping[str, Starting]


def results_of(path: Path) -> SeasonResults:
    """Return what was played in a season, by people's present names.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    with reading(path) as connection:
        people, evenings = load_people(connection), held(connection)
        return _results(connection, people, evenings, dict(people.name_of))


def levels_of(path: Path, event: Event) -> dict[str, LevelRow]:
    """Return the levels of those of an event who have played a match that counts, by its names.

    Only evenings before the event count, as for earlier meetings.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    with reading(path) as connection:
        people = load_people(connection)
        evenings = before(held(connection), event)
        found = _results(connection, people, evenings, names_tonight(people, event))
    rows = {row.player: row for row in levels_from(found.matches, found.starting).rows}
    return {
        player.name: rows[player.name]
        for player in event.players
        if player.name in rows and rows[player.name].matches
    }


def with_season_levels(path: Path, event: Event) -> Event:
    """Return an event whose people have the levels their results say, where they have any.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    found = levels_of(path, event)
    players = tuple(
        replace(player, level=found[player.name].level) if player.name in found else player
        for player in event.players
    )
    return replace(event, players=players)


def evening_called(evenings: tuple[HeldEvening, ...], wanted: str) -> tuple[HeldEvening, ...]:
    """Return the evenings meant by a number, a date, a plan's id, or ``last``.

    Raises
    ------
    BadInput
        If there is none.
    """
    if wanted.casefold() == "last":
        found = evenings[-1:]
    else:
        found = tuple(e for e in evenings if wanted in {e.date, e.plan_id, str(e.number)})
    if not found:
        known = ", ".join(f"{e.number} ({e.title})" for e in evenings[-3:])
        what = f'there is no evening "{wanted}"'
        raise BadInput.one("--evening", f"{what}; the last are {known}" if known else what)
    return found


def _results(
    connection: sqlite3.Connection,
    people: People,
    evenings: tuple[HeldEvening, ...],
    called: Mapping[int, str],
) -> SeasonResults:
    matches = []
    for evening in evenings:
        seats = matches_of(connection, evening.plan, people)
        scores = scores_of(connection, evening, people)
        for key, match in seats.items():
            score = scores.get(key)
            if score is None or not score.sets:
                continue
            (a1, a2), (b1, b2) = match.teams
            matches.append(
                PlayedMatch(
                    evening=evening.number,
                    key=key,
                    team_a=(called[a1], called[a2]),
                    team_b=(called[b1], called[b2]),
                    sets=score.sets,
                    mark=score.mark,
                    set_format=SetFormat(evening.set_format),
                )
            )
    return SeasonResults(evenings, tuple(matches), _starting(connection, people, evenings, called))


def _starting(
    connection: sqlite3.Connection,
    people: People,
    evenings: tuple[HeldEvening, ...],
    called: Mapping[int, str],
) -> dict[str, Starting]:
    """Return everybody's first given level, or the first one filled in where none was given."""
    rank = {evening.plan: evening.number for evening in evenings}
    rows = [
        row
        for row in connection.execute("SELECT * FROM presence ORDER BY id").fetchall()
        if row["plan"] in rank
    ]
    rows.sort(key=lambda row: (not row["level_given"], rank[row["plan"]], row["position"]))
    starting: dict[str, Starting] = {}
    for row in rows:
        name = called[people.now(row["person"])]
        starting.setdefault(name, Starting(row["level"], bool(row["level_given"])))
    return starting
