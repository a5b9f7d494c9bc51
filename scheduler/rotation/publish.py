"""From a solution back to rounds with names, courts in the event's order."""

from __future__ import annotations

from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import CourtEntry, Group, Match, PlannedRound, Singles, TwoAgainstOne
from scheduler.rotation.problem import BlockKind, Problem, Solution


def rounds_of(
    problem: Problem, solution: Solution, played: tuple[PlannedRound, ...]
) -> tuple[PlannedRound, ...]:
    """Return the planned rounds of a solution; the played ones are handed through as they are.

    Matches have no serving order yet.
    """
    ahead = (_round(problem, solution, number) for number in problem.free)
    return (*played, *ahead)


def _round(problem: Problem, solution: Solution, number: int) -> PlannedRound:
    event, shape, seating = problem.event, problem.shapes[number], solution[number]
    asked = event.rounds[number]
    names = [player.name for player in event.players]
    seated = sorted(zip(seating.courts, seating.blocks, shape.blocks, strict=True))
    entries = tuple(
        _entry(event, shape.kind, court, tuple(names[player] for player in people), block.kind)
        for court, people, block in seated
    )
    here = {names[player] for player in shape.players}
    if shape.open:
        here = {p.name for p in event.players if p.is_present(asked.start, asked.end)}
    return PlannedRound(
        number=number + 1,
        kind=asked.kind,
        start=asked.start,
        minutes=asked.minutes,
        topic=asked.topic,
        courts=entries,
        resting=tuple(names[player] for player in sorted(seating.rest)),
        absent=tuple(name for name in names if name not in here),
        open=shape.open,
    )


def _entry(
    event: Event, kind: Kind, court: int, people: tuple[str, ...], block: BlockKind
) -> CourtEntry:
    name = event.courts[court].name
    if block is BlockKind.GROUP:
        station = event.station_by_court.get(name)
        topic, coach = (station.topic, station.coach) if station else ("", "")
        return Group(name, people, topic, coach)
    if block is BlockKind.MATCH:
        a1, a2, b1, b2 = people
        return Match(name, (a1, a2), (b1, b2))
    assert kind is not Kind.DRILL
    if len(people) == 2:
        return Singles(name, people)
    return TwoAgainstOne(name, people[:2], people[2:])
