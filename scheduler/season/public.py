"""A plan with short names only, for pages and sheets that anybody may read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from scheduler.domain.plan import (
    CourtEntry,
    Group,
    Match,
    Plan,
    PlannedRound,
    Singles,
    TwoAgainstOne,
)

Names = tuple[str, ...]


def public_plan(plan: Plan, shorts: Mapping[str, str]) -> Plan:
    """Return the plan with every name made short.

    Whatever may hold a full name in a sentence is left out: warnings, notes,
    wishes with their cells, changes of the night, coaches.

    Parameters
    ----------
    plan
        The plan.
    shorts
        The short name of everybody in it, all different
        (`scheduler.season.naming.short_names`).
    """
    event = replace(
        plan.event,
        players=tuple(
            replace(player, name=shorts[player.name], note="") for player in plan.event.players
        ),
        wishes=(),
        stations=tuple(replace(station, coach="") for station in plan.event.stations),
        earlier=tuple(
            replace(one, player=shorts[one.player], other=shorts[one.other])
            for one in plan.event.earlier
        ),
        notes="",
        changes=(),
    )
    rounds = tuple(_round(planned, shorts) for planned in plan.rounds)
    return replace(plan, event=event, rounds=rounds, warnings=(), changes=())


def _round(planned: PlannedRound, shorts: Mapping[str, str]) -> PlannedRound:
    return replace(
        planned,
        courts=tuple(_entry(entry, shorts) for entry in planned.courts),
        resting=_short(planned.resting, shorts),
        absent=_short(planned.absent, shorts),
    )


def _entry(entry: CourtEntry, shorts: Mapping[str, str]) -> CourtEntry:
    match entry:
        case Group():
            return replace(entry, players=_short(entry.players, shorts), coach="")
        case Match():
            return replace(
                entry,
                team_a=(shorts[entry.team_a[0]], shorts[entry.team_a[1]]),
                team_b=(shorts[entry.team_b[0]], shorts[entry.team_b[1]]),
                serving_order=_short(entry.serving_order, shorts),
                deuce_receivers=_short(entry.deuce_receivers, shorts),
            )
        case Singles():
            return replace(entry, players=_short(entry.players, shorts))
        case TwoAgainstOne():
            return replace(entry, two=_short(entry.two, shorts), one=_short(entry.one, shorts))


def _short(names: Names, shorts: Mapping[str, str]) -> Names:
    return tuple(shorts[name] for name in names)
