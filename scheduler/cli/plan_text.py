"""A plan in plain text: the courts round by round, and how good it is."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.clock import format_time
from scheduler.domain.plan import CourtEntry, Group, Match, Plan, PlannedRound, Singles
from scheduler.domain.suggest import fold
from scheduler.exporters.meetings import count_meetings
from scheduler.exporters.wording import measure_lines


def plan_text(plan: Plan) -> str:
    """Return the whole plan as lines to read on a terminal."""
    return "\n".join([*_rounds(plan), "", *measures_text(plan)])


def measures_text(plan: Plan) -> Iterator[str]:
    """Yield a line for each measure, in words, beside the best that any plan could have."""
    for line in measure_lines(plan, count_meetings(plan)):
        yield f"  {line.sentence}"


def _rounds(plan: Plan) -> Iterator[str]:
    for planned in plan.rounds:
        yield ""
        yield from round_text(plan, planned)


def round_text(plan: Plan, planned: PlannedRound) -> Iterator[str]:
    """Yield the lines of one round: its courts, who rests and who is not there."""
    width = max((len(court.name) for court in plan.event.courts), default=0)
    yield _heading(planned)
    if planned.open:
        yield f"  {'open':<{width}}  seated by rota next from the results of the round before"
    for entry in planned.courts:
        yield f"  {entry.court:<{width}}  {_entry(entry)}"
    if planned.resting:
        yield f"  {'resting':<{width}}  {', '.join(planned.resting)}"
    if planned.missing:
        yield f"  {'did not come':<{width}}  {', '.join(planned.missing)}"
    if planned.absent:
        yield f"  {'absent':<{width}}  {', '.join(planned.absent)}"


def _heading(planned: PlannedRound) -> str:
    times = f"{format_time(planned.start)} to {format_time(planned.end)}"
    kind = f"{planned.kind}: {planned.topic}" if planned.topic else str(planned.kind)
    if fold(planned.kind) in fold(planned.topic):
        kind = planned.topic
    return f"Round {planned.number}, {times}, {kind}"


def _entry(entry: CourtEntry) -> str:
    match entry:
        case Match():
            return f"{_team(entry.team_a)}  against  {_team(entry.team_b)}"
        case Group():
            topic = f"   ({entry.topic})" if entry.topic else ""
            return ", ".join(entry.players) + topic
        case Singles():
            return "  against  ".join(entry.players) + "   (singles)"
        case _:
            return f"{_team(entry.two)}  against  {entry.one[0]}   (two against one)"


def _team(people: tuple[str, ...]) -> str:
    return " and ".join(people)
