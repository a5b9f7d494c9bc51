"""Whether everybody is in exactly one place a round, and absent only when not there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from scheduler.checker.demands import Demand
from scheduler.checker.evening import Evening, RoundView
from scheduler.checker.words import hours, listed, place
from scheduler.domain.clock import format_time
from scheduler.domain.event import Here, Player, Round


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
