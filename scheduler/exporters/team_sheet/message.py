"""A message to paste to the team: who plays where, with whom, and who stands by."""

from __future__ import annotations

from scheduler.domain.fixture import FixtureAnswer, TeamSeason
from scheduler.exporters.team_sheet.words import day, meeting, names
from scheduler.exporters.text import clean, join

CAUTION = (
    "Please bring water and sun cover; in thunder or lightning everybody leaves the courts. "
    "The club's rules and its coaches come first."
)


def message_text(season: TeamSeason, answer: FixtureAnswer) -> str:
    """Return plain text without levels or chances, fit to be read by everybody."""
    fixture, lineup = answer.fixture, answer.chosen
    where = f", {clean(fixture.venue)}" if fixture.venue else ""
    lines = [meeting(season, fixture), f"{day(fixture.date)}{where}", ""]
    if answer.withdrawn:
        lines += [f"Change: {join(map(clean, answer.withdrawn))} cannot play.", clean(lineup.why)]
        lines.append("")
    lines += [f"Line {pair.line}: {names(pair)}" for pair in lineup.pairs]
    if lineup.reserves:
        lines += ["", f"Reserves, in this order: {join(map(clean, lineup.reserves))}"]
    lines += ["", "If you cannot play after all, tell the captain at once.", CAUTION]
    return "\n".join(lines) + "\n"
