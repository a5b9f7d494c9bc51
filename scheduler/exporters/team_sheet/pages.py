"""The pages of the captain's workbook."""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.domain.fixture import FixtureAnswer, LineUp, SeasonAnswer
from scheduler.exporters.team_sheet.words import (
    GRID_KEY,
    chance,
    day,
    mark,
    measure_sentence,
    meeting,
    names,
    short_day,
)
from scheduler.exporters.text import clean, join
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

HANDOVER_WIDTHS = [8.0, 26.0, 26.0, 30.0, 9.0, 9.0, 9.0]
NOTES_WIDTHS = [8.0, 30.0, 30.0, 12.0, 16.0]
_NAME_WIDTH = 24.0
_LINE_HEIGHT = 34.0  # points: room to write a score by hand
_TOTAL = 9.0

_PROMISE = (
    "The chance is a range worked out from levels alone; it is a guide, never a promise. "
    "Keep this page to yourself: it shows people's levels."
)


def write_handover(sheet: Sheet, season: SeasonAnswer, answer: FixtureAnswer) -> None:
    """Lay out the sheet to hand over: lines, pairs, room for theirs and the scores; no levels."""
    fixture, lineup = answer.fixture, answer.chosen
    venue = f", {clean(fixture.venue)}" if fixture.venue else ""
    sheet.heading(meeting(season.season, fixture), f"Team sheet, {day(fixture.date)}{venue}")
    sheet.row += 1
    theirs = clean(fixture.opponents) or "Their pair"
    sheet.head(["Line", "Player", "Player", theirs, "Set 1", "Set 2", "Set 3"])
    for pair in lineup.pairs:
        sheet.text(1, str(pair.line), Look.BOX)
        for column, name in enumerate(pair.players, start=2):
            sheet.text(column, clean(name), Look.BIG_NAME)
        for column in range(4, 8):
            sheet.blank(column, Look.ENTRY)
        sheet.ws.row_dimensions[sheet.row].height = _LINE_HEIGHT
        sheet.row += 1
    sheet.row += 1
    if lineup.reserves:
        sheet.banner(f"Reserves: {join(map(clean, lineup.reserves))}", Look.TEXT)
        sheet.row += 1
    for label in ("Captain", "Other captain"):
        sheet.merged(label, Look.HEAD_LEFT, first=1, last=2)
        sheet.merged("", Look.ENTRY, first=3, last=sheet.last_column)
        sheet.ws.row_dimensions[sheet.row].height = _LINE_HEIGHT
        sheet.row += 1
    sheet.row += 1
    for caution in sheet.view.cautions:
        sheet.banner(caution, Look.SUBTITLE)
    sheet.title_rows = None
    sheet.finish(landscape=True)


def write_notes(sheet: Sheet, season: SeasonAnswer, answer: FixtureAnswer) -> None:
    """Lay out the captain's own page: the line-up with levels and chances, the alternatives."""
    sheet.heading(f"{meeting(season.season, answer.fixture)}: notes", day(answer.fixture.date))
    sheet.banner(_PROMISE, Look.TEXT)
    sheet.row += 1
    for place, lineup in enumerate(answer.lineups):
        title = f"Alternative {place}" if place else "Line-up"
        _write_lineup(sheet, title, lineup)
    for warning in season.warnings:
        sheet.banner(f"Please note: {clean(warning)}", Look.WARNING)
    sheet.finish(landscape=False)


def _write_lineup(sheet: Sheet, title: str, lineup: LineUp) -> None:
    sheet.merged(title, Look.HEAD_LEFT, first=1, last=sheet.last_column)
    sheet.row += 1
    sheet.texts(["Line", "Player", "Player", "Levels added", "Chance to win"], Look.HEAD)
    sheet.row += 1
    for pair in lineup.pairs:
        sheet.text(1, str(pair.line), Look.ROUND)
        for column, name in enumerate(pair.players, start=2):
            sheet.text(column, clean(name), Look.NAME)
        sheet.number(4, pair.sum, Look.NUMBER)
        sheet.text(5, chance(pair), Look.CELL)
        sheet.row += 1
    sheet.banner(lineup.why, Look.TEXT)
    if lineup.reserves:
        sheet.banner(f"Reserves: {join(map(clean, lineup.reserves))}", Look.SUBTITLE)
    sheet.row += 1


def grid_widths(fixtures: int) -> list[float]:
    """Return the column widths of the season's grid."""
    return [
        _NAME_WIDTH,
        _TOTAL,
        *[max(8.5, 90.0 / max(fixtures, 1) - 3) if fixtures < 9 else 8.5] * fixtures,
    ]


def write_season(sheet: Sheet, season: SeasonAnswer) -> None:
    """Lay out who plays when: a line a person, a column a fixture, and the pairs below."""
    sheet.heading(f"{clean(season.season.name)}: the season", GRID_KEY)
    sheet.row += 1
    heads = [_fixture_head(answer) for answer in season.fixtures]
    sheet.head(["Player", "Matches", *heads], left=1)
    for member in sorted(season.season.squad, key=lambda m: m.name.casefold()):
        sheet.text(1, clean(member.name), Look.NAME)
        sheet.number(2, season.appearances[member.name], Look.NUMBER)
        for column, answer in enumerate(season.fixtures, start=3):
            text = mark(answer, member.name)
            sheet.text(column, text, Look.ROUND if text.isdecimal() else Look.CELL)
        sheet.row += 1
    sheet.row += 1
    for name, measure in season.measures.items():
        sheet.banner(measure_sentence(name, measure), Look.TEXT)
    sheet.finish(landscape=True, freeze_columns=1)


def write_pairs(sheet: Sheet, season: SeasonAnswer) -> None:
    """Lay out the pairs of every fixture, line by line, with the reserves."""
    most = max(len(answer.chosen.pairs) for answer in season.fixtures)
    sheet.heading(f"{clean(season.season.name)}: all pairs", "One row a fixture.")
    sheet.head(["Fixture", *(f"Line {line}" for line in range(1, most + 1)), "Reserves"], left=1)
    for answer in season.fixtures:
        _write_row(sheet, answer, most)
    sheet.finish(landscape=True)


def pairs_widths(season: SeasonAnswer) -> list[float]:
    """Return the column widths of the sheet of all pairs."""
    most = max(len(answer.chosen.pairs) for answer in season.fixtures)
    return [18.0, *[23.0] * most, 30.0]


def _write_row(sheet: Sheet, answer: FixtureAnswer, most: int) -> None:
    by_line = {pair.line: names(pair).replace(" and ", " and\n") for pair in answer.chosen.pairs}
    cells: list[tuple[int, str, Look]] = [(1, _fixture_head(answer), Look.NAME)]
    cells += [(line + 1, by_line.get(line, ""), Look.CELL_LEFT) for line in range(1, most + 1)]
    cells.append((most + 2, join(map(clean, answer.chosen.reserves)), Look.CELL_SMALL))
    for column, value, look in cells:
        sheet.text(column, value, look)
    sheet.fit_height(cells)
    sheet.row += 1


def _fixture_head(answer: FixtureAnswer) -> str:
    played = "played" if answer.played else ""
    parts: Sequence[str] = (short_day(answer.fixture.date), clean(answer.fixture.opponents), played)
    return "\n".join(filter(None, parts))
