"""Whether courts may be used, hold the right play, and drill groups are even."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from scheduler.checker.demands import Demand, drill_groups
from scheduler.checker.evening import Evening, RoundView
from scheduler.checker.words import counted, listed, often, place, seating
from scheduler.domain.event import Round
from scheduler.domain.plan import CourtEntry, Group, Match, Singles, TwoAgainstOne


def check_court_names(evening: Evening, view: RoundView, wanted: Demand) -> Iterator[str]:
    """Yield a sentence for every court that may not be used, or is used twice."""
    known = {court.name for court in evening.event.courts}
    used = Counter(entry.court for entry in view.planned.courts)
    here = place(view.planned)
    for court, times in used.items():
        if court not in known:
            yield f"{here}: there is no court called {court}"
        elif court not in wanted.open_courts:
            yield f"{here}: {court} is not open for this round"
        if times > 1:
            yield f"{here}: {court} is used {often(times)}"


def check_play(view: RoundView) -> Iterator[str]:
    """Yield a sentence for every court with the wrong number of people or the wrong play."""
    for entry in view.planned.courts:
        right_size, play = _play(entry)
        here = f"{place(view.planned, entry)}: {seating(entry)}"
        if not right_size:
            yield f"{here} is not {play}"
        if isinstance(entry, Group) is not view.is_drill:
            yield f"{here} is {play} in a round of kind '{view.planned.kind}'"


def check_stations(evening: Evening, view: RoundView) -> Iterator[str]:
    """Yield a sentence for every drill court whose topic or coach is not its station's."""
    stations = {station.court: station for station in evening.event.stations}
    for entry in view.planned.courts:
        if not isinstance(entry, Group):
            continue
        station = stations.get(entry.court)
        topic, coach = (station.topic, station.coach) if station else ("", "")
        if entry.topic != topic:
            yield f"{place(view.planned, entry)}: the topic is '{entry.topic}', must be '{topic}'"
        if entry.coach != coach:
            yield f"{place(view.planned, entry)}: the coach is '{entry.coach}', must be '{coach}'"


def _play(entry: CourtEntry) -> tuple[bool, str]:
    match entry:
        case Match():
            return len(entry.team_a) == 2 == len(entry.team_b), "two against two"
        case Singles():
            return len(entry.players) == 2, "singles"
        case TwoAgainstOne():
            return (len(entry.two), len(entry.one)) == (2, 1), "two against one"
        case Group():
            return bool(entry.players), "a drill group"


def check_drill(view: RoundView, asked: Round, wanted: Demand) -> Iterator[str]:
    """Yield a sentence where somebody rests in a drill, or the groups are not as even as asked."""
    here = place(view.planned)
    if view.planned.resting:
        yield f"{here}: {listed(view.planned.resting)} cannot rest in a drill"
    groups = [entry for entry in view.planned.courts if isinstance(entry, Group)]
    demanded = drill_groups(wanted.players, asked.group_size, wanted.limit)
    if len(groups) != demanded:
        yield (
            f"{here}: {counted(len(groups), 'drill group')} where {demanded} "
            f"come nearest to {asked.group_size} a court"
        )
    sizes = {entry.court: len(entry.players) for entry in groups}
    if sizes and max(sizes.values()) - min(sizes.values()) > 1:
        listing = listed(f"{size} on {court}" for court, size in sizes.items())
        yield f"{here}: drill groups differ by more than one: {listing}"
