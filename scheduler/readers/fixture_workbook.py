"""Reading a fixture workbook: squad, fixtures, answers, conditions, what was played."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from scheduler.domain.fixture import (
    Condition,
    ConditionKind,
    Fixture,
    SquadMember,
    TeamSeason,
)
from scheduler.domain.suggest import fold, nearest
from scheduler.readers.cells import Findings
from scheduler.readers.fixture_calendar import read_calendar
from scheduler.readers.fixture_conditions import Names, conditions
from scheduler.readers.fixture_played import played_pairs
from scheduler.readers.fixture_rows import (
    ConditionRow,
    PlayedRow,
    SquadRow,
    TeamRow,
)
from scheduler.readers.people import look_up, players, still_examples, unique_names
from scheduler.readers.records import Record, read_records
from scheduler.readers.rows import PlayerRow, Row
from scheduler.readers.settings import read_settings
from scheduler.readers.workbook_file import WorkbookFile

SHEETS = ("Team", "Squad", "Fixtures", "Conditions", "Played")
REQUIRED = ("Team", "Squad", "Fixtures")
FEWEST_PLAYERS, MOST_PLAYERS, MOST_FIXTURES = 2, 50, 100

R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True)
class ReadSeason:
    """A captain's season and what was doubtful about the file it came from."""

    season: TeamSeason
    warnings: tuple[str, ...] = ()


def read_fixtures(path: Path) -> ReadSeason:
    """Return the season of a fixture workbook.

    Raises
    ------
    BadInput
        With every fault of every sheet, each with its cell, in reading order.
    """
    book = WorkbookFile(path, SHEETS)
    findings = Findings()
    _check_sheets(book, findings)
    team = read_settings(book.grids.get("team"), TeamRow, findings)
    squad_records = _records(book, "Squad", SquadRow, findings)
    squad = _squad(squad_records, findings)
    names = list(unique_names(squad_records, "Name", findings))
    groups = {fold(m.player.group): m.player.group for m in squad if m.player.group}
    condition_records = _records(book, "Conditions", ConditionRow, findings)
    demands = conditions(condition_records, Names(names, groups), findings)
    fixtures = read_calendar(book.grids.get("fixtures"), names, _usual_lines(demands), findings)
    played_records = _records(book, "Played", PlayedRow, findings)
    played = played_pairs(played_records, fixtures, names, findings)
    _check_numbers(book, squad_records, fixtures, findings)
    _check_spread(team, findings)
    findings.raise_faults()
    assert team is not None
    assert team.data is not None
    season = TeamSeason(
        name=team.data.name,
        squad=tuple(squad),
        fixtures=tuple(fixtures),
        conditions=tuple(c for c in demands if c.kind is not ConditionKind.PAIRS),
        played=tuple(played),
        aim=team.data.aim,
        partnering=team.data.partners,
        their_low=team.data.their_pairs_from,
        their_high=team.data.their_pairs_to,
        scale=team.data.win_curve,
    )
    return ReadSeason(season, findings.warnings)


def _check_sheets(book: WorkbookFile, findings: Findings) -> None:
    for order, title in enumerate(SHEETS):
        if fold(title) in book.grids:
            continue
        similar = nearest(title, book.other_titles)
        advice = f"; is it '{similar}'? Then rename that sheet" if similar else ""
        if title in REQUIRED or similar:
            findings.fault_of_sheet(title, order, f"there is no sheet called '{title}'{advice}")


def _records(book: WorkbookFile, title: str, model: type[R], findings: Findings) -> list[Record[R]]:
    grid = book.grids.get(fold(title))
    if grid is None or (not grid.rows and title not in REQUIRED):
        return []
    return read_records(grid, model, findings)


def _squad(records: Sequence[Record[SquadRow]], findings: Findings) -> list[SquadMember]:
    """Return the squad, blank levels filled in with the middle of those given."""
    people = [Record(r.line, _as_player_row(r.data), r.broken) for r in records]
    listed = players(people, None, findings)
    still_examples(listed, findings)
    made = {id(record.line): player for record, player in listed}
    names = [r.data.name for r in records if r.data is not None]
    return [
        SquadMember(made[id(r.line)], r.data.matches_so_far, _likes(r, r.data, names, findings))
        for r in records
        if r.data is not None
    ]


def _as_player_row(row: SquadRow | None) -> PlayerRow | None:
    if row is None:
        return None
    return PlayerRow.model_construct(
        name=row.name,
        level=row.level,
        group=row.group,
        hand=row.hand,
        side=row.side,
        note=row.note,
    )


def _likes(
    record: Record[SquadRow], row: SquadRow, names: Sequence[str], findings: Findings
) -> tuple[str, ...]:
    cell = record.cell("Likes")
    liked = [part.strip() for part in re.split(r"[;,]", row.likes) if part.strip()]
    for name in liked:
        if name == row.name:
            findings.fault(cell, "likes must name other people")
        look_up(name, names, cell, "player", findings)
    return tuple(liked)


def _usual_lines(demands: Sequence[Condition]) -> int | None:
    pairs = [int(c.number) for c in demands if c.kind is ConditionKind.PAIRS]
    return pairs[0] if pairs else None


def _check_numbers(
    book: WorkbookFile,
    squad: Sequence[Record[SquadRow]],
    fixtures: Sequence[Fixture],
    findings: Findings,
) -> None:
    wanted = (
        ("Squad", "players", len(squad), FEWEST_PLAYERS, MOST_PLAYERS),
        ("Fixtures", "fixtures", len(fixtures), 1, MOST_FIXTURES),
    )
    for title, what, count, fewest, most in wanted:
        grid = book.grids.get(fold(title))
        if grid is None or findings.has_faults_in(grid.order) or fewest <= count <= most:
            continue
        said = f"there must be {fewest} to {most} {what}, there are {count}"
        findings.fault_of_sheet(grid.title, grid.order, said)


def _check_spread(team: Record[TeamRow] | None, findings: Findings) -> None:
    if team is None or team.data is None:
        return
    low, high = team.data.their_pairs_from, team.data.their_pairs_to
    if low is not None and high is not None and low > high:
        findings.fault(team.cell("Their pairs to"), "must not be less than 'Their pairs from'")
