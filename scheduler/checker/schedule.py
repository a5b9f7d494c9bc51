"""Whether a plan's rounds are those the event asks for, and its event the one given."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from scheduler.checker.words import counted, number
from scheduler.domain.clock import format_time
from scheduler.domain.event import Event, Player, Round, Station
from scheduler.domain.plan import Plan, PlannedRound

_ALL_OPEN = "all open courts"


def check_schedule(plan: Plan, event: Event) -> Iterator[str]:
    """Yield a sentence for every round that is not as the event asks."""
    asked = len(event.rounds)
    if len(plan.rounds) != asked:
        yield f"The plan has {counted(len(plan.rounds), 'round')}, the event {asked}"
    for index, (planned, wanted) in enumerate(zip(plan.rounds, event.rounds, strict=False), 1):
        if planned.number != index:
            yield f"Round {index} of the plan is numbered {planned.number}"
        yield from _times_differ(index, planned, wanted)


def check_same_event(own: Event, given: Event) -> Iterator[str]:
    """Yield a sentence for every difference between the plan's own event and the one given.

    Compared is what was asked: players, levels, groups, courts, rounds and
    stations. Presence, court hours and wishes are judged by what the plan
    makes of them, so a change there that harms nothing is no fault.
    """
    yield from _players_differ(own, given)
    yield from _courts_differ(own, given)
    for index, (mine, theirs) in enumerate(zip(own.rounds, given.rounds, strict=False), 1):
        yield from _times_differ(index, mine, theirs)
        yield from _settings_differ(index, mine, theirs)
    if len(own.rounds) != len(given.rounds):
        yield f"The plan has {counted(len(own.rounds), 'round')}, the event {len(given.rounds)}"
    yield from _stations_differ(own, given)


def _times_differ(index: int, mine: PlannedRound | Round, theirs: Round) -> Iterator[str]:
    facts = {
        "is": (f"'{mine.kind}'", f"'{theirs.kind}'"),
        "starts at": (format_time(mine.start), format_time(theirs.start)),
        "lasts": (counted(mine.minutes, "minute"), counted(theirs.minutes, "minute")),
        "has the topic": (f"'{mine.topic}'", f"'{theirs.topic}'"),
    }
    yield from _differ(f"Round {index}", facts)


def _settings_differ(index: int, mine: Round, theirs: Round) -> Iterator[str]:
    facts = {
        "has the group size": (str(mine.group_size), str(theirs.group_size)),
        "has the levels": (f"'{mine.levels or ''}'", f"'{theirs.levels or ''}'"),
        "uses": (_courts_in_words(mine), _courts_in_words(theirs)),
    }
    yield from _differ(f"Round {index}", facts)


def _differ(what: str, facts: Mapping[str, tuple[str, str]]) -> Iterator[str]:
    for verb, (mine, theirs) in facts.items():
        if mine != theirs:
            yield f"{what} {verb} {mine} in the plan, {theirs} in the event"


def _courts_in_words(asked: Round) -> str:
    if isinstance(asked.courts, tuple):
        return ", ".join(asked.courts)
    return _ALL_OPEN if asked.courts is None else counted(asked.courts, "court")


def _players_differ(own: Event, given: Event) -> Iterator[str]:
    mine = {player.name: player for player in own.players}
    theirs = {player.name: player for player in given.players}
    yield from _unknown("player", mine, theirs)
    for name, player in mine.items():
        if name in theirs:
            yield from _differ(name, _player_facts(player, theirs[name]))


def _player_facts(mine: Player, theirs: Player) -> dict[str, tuple[str, str]]:
    return {
        "has level": (number(mine.level), number(theirs.level)),
        "is in group": (f"'{mine.group}'", f"'{theirs.group}'"),
    }


def _courts_differ(own: Event, given: Event) -> Iterator[str]:
    mine = {court.name: None for court in own.courts}
    theirs = {court.name: None for court in given.courts}
    yield from _unknown("court", mine, theirs)


def _stations_differ(own: Event, given: Event) -> Iterator[str]:
    mine = {station.court: station for station in own.stations}
    theirs = {station.court: station for station in given.stations}
    yield from _unknown("station on", mine, theirs)
    for court, station in mine.items():
        if court in theirs:
            yield from _differ(f"The station on {court}", _station_facts(station, theirs[court]))


def _station_facts(mine: Station, theirs: Station) -> dict[str, tuple[str, str]]:
    return {
        "has the topic": (f"'{mine.topic}'", f"'{theirs.topic}'"),
        "has the coach": (f"'{mine.coach}'", f"'{theirs.coach}'"),
    }


def _unknown(what: str, mine: Mapping[str, object], theirs: Mapping[str, object]) -> Iterator[str]:
    for name in theirs:
        if name not in mine:
            yield f"The event has a {what} {name} that the plan does not know"
    for name in mine:
        if name not in theirs:
            yield f"The plan has a {what} {name} that the event does not know"
