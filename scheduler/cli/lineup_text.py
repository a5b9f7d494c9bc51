"""What ``rota lineup`` prints: the line-up, the alternatives, the season in a grid."""

from __future__ import annotations

from scheduler.cli.columns import columns
from scheduler.domain.fixture import FixtureAnswer, LineUp, SeasonAnswer
from scheduler.exporters.team_sheet.words import (
    GRID_KEY,
    chance,
    day,
    mark,
    measure_sentence,
    meeting,
    short_day,
)


def lineup_text(season: SeasonAnswer, answer: FixtureAnswer) -> str:
    """Return the line-up of one fixture, its alternatives and the season's grid."""
    fixture = answer.fixture
    place = f", {fixture.venue}" if fixture.venue else ""
    blocks = [f"{meeting(season.season, fixture)}\n{day(fixture.date)}{place}"]
    for number, lineup in enumerate(answer.lineups):
        heading = f"Alternative {number}" if number else "Line-up"
        blocks.append(f"{heading}\n{_lineup(lineup)}")
    if len(season.fixtures) > 1:
        blocks.append(_grid(season))
    told = [measure_sentence(name, measure) for name, measure in season.measures.items()]
    if told:
        blocks.append("\n".join(told))
    blocks.append("Chances are ranges worked out from levels alone; never a promise.")
    return "\n\n".join(blocks)


def _lineup(lineup: LineUp) -> str:
    rows = [
        (f"  {pair.line}", *pair.players, f"{pair.sum:g}", chance(pair)) for pair in lineup.pairs
    ]
    reserves = f"\n  Reserves: {', '.join(lineup.reserves)}" if lineup.reserves else ""
    return f"{columns(rows)}\n  {lineup.why}{reserves}"


def _grid(season: SeasonAnswer) -> str:
    heads = [short_day(a.fixture.date) + ("*" if a.played else "") for a in season.fixtures]
    rows = [("Player", "Matches", *heads)]
    for member in season.season.squad:
        marks = [mark(answer, member.name) for answer in season.fixtures]
        rows.append((member.name, str(season.appearances[member.name]), *marks))
    return f"{columns(rows)}\n{GRID_KEY.replace('marked as played', 'with a *')}"
