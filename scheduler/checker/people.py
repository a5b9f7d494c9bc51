"""Whether everybody is in exactly one place a round, and absent only when not there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

from scheduler.checker.demands import Demand
from scheduler.checker.evening import Evening, RoundView
from scheduler.checker.words import hours, listed, place
from scheduler.domain.clock import format_time
from scheduler.domain.event import Event, Here, Player, Round
from scheduler.domain.plan import PlannedRound


def check_places(evening: Evening, view: RoundView) -> Iterator[str]:
    """Yield a sentence for everybody who is not in exactly one place, or on no list."""
    places = _places(view)
    here = place(view.planned)
    known = evening.group_of
    for name, found in places.items():
        if name not in known:
            yield f"{here}: {name} ({found[0]}) is not on the players list"
        if len(found) > 1:
            yield f"{here}: {name} is in {len(found)} places: {listed(found)}"
    for name in known:
        if name not in places:
            yield f"{here}: {name} is on no court, not resting and not absent"


def check_presence(
    evening: Evening, view: RoundView, asked: Round, wanted: Demand
) -> Iterator[str]:
    """Yield a sentence for everybody absent without cause, or taking part without being there."""
    here = place(view.planned)
    sure, spare = frozenset(wanted.sure), frozenset(wanted.spare)
    for player in evening.event.players:
        name = player.name
        if name in sure and name in view.absent:
            yield f"{here}: {name} is absent, but is there for all of the round"
        if name not in sure | spare and view.takes_part(name):
            yield f"{here}: {name} is {view.whereabouts(name)}, but {_cause(player, asked)}"
    yield from _calls(view, wanted)


def check_missing(planned: PlannedRound, settled: int) -> Iterator[str]:
    """Yield a sentence for people said not to have come to a round that is still to be played."""
    if planned.missing and planned.number > settled:
        what = "marked as not having come, but the round is still to be played"
        yield f"{place(planned)}: {listed(planned.missing)} {what}"
    for name in planned.missing:
        if not RoundView(planned).takes_part(name):
            yield f"{place(planned)}: {name} is marked as not having come, but was not planned for"


def expecting(event: Event, planned: PlannedRound) -> Event:
    """Return the event as a round was planned for, with those who then never came."""
    if not planned.missing:
        return event
    people = tuple(
        replace(p, here=Here.YES, arrives=None, leaves=None, away=())
        if p.name in planned.missing
        else p
        for p in event.players
    )
    return replace(event, players=people)


def _places(view: RoundView) -> dict[str, list[str]]:
    places: dict[str, list[str]] = defaultdict(list)
    for entry in view.planned.courts:
        for name in entry.players:
            places[name].append(f"on {entry.court}")
    for name in view.planned.resting:
        places[name].append("resting")
    for name in view.planned.absent:
        places[name].append("absent")
    return places


def _cause(player: Player, asked: Round) -> str:
    if player.here is Here.NO:
        return "is not here at all"
    when = f"the round is from {hours(asked.start, asked.end)}"
    if player.arrives is not None and player.arrives > asked.start:
        return f"arrives at {format_time(player.arrives)} and {when}"
    for since, until in player.away:
        if since < asked.end and until > asked.start:
            return f"is away from {hours(since, until)} and {when}"
    leaves = player.leaves if player.leaves is not None else asked.end
    return f"leaves at {format_time(leaves)} and {when}"


def _calls(view: RoundView, wanted: Demand) -> Iterator[str]:
    called = [name for name in wanted.spare if view.takes_part(name)]
    if len(called) == wanted.called:
        return
    here = place(view.planned)
    if not wanted.called:
        verb = "comes" if len(called) == 1 else "come"
        yield f"{here}: {listed(called)} {verb} only if needed, and no court is completed by that"
    else:
        completes = "completes" if wanted.called == 1 else "complete"
        yield (
            f"{here}: {wanted.called} of those who come only if needed {completes} a court, "
            f"but the plan calls {listed(called)}"
        )
