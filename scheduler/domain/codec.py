"""A plan as the document ``plan.json`` holds, with its id.

Only this direction lives here: it needs nothing but the standard library.
Reading a document back, with every fault named, is `scheduler.readers.plan_file`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from scheduler.domain.clock import format_time
from scheduler.domain.event import Event
from scheduler.domain.plan import (
    CourtEntry,
    Group,
    Match,
    Measure,
    Plan,
    PlannedRound,
    Singles,
    TwoAgainstOne,
)

SCHEMA = "doubles-rota-plan/1"


def plan_to_dict(plan: Plan) -> dict[str, Any]:
    """Return the plan document, ready for `json.dumps`, with its ``id`` filled in."""
    event = plan.event
    document: dict[str, Any] = {
        "schema": SCHEMA,
        "event": {"name": event.name, "date": event.date, "start": format_time(event.start)},
        "seed": plan.seed,
        "effort": plan.effort,
        "version": plan.version,
        "revision": plan.revision,
        "id": "",
        "players": [
            {
                "name": player.name,
                "level": player.level,
                "group": player.group,
                "side": str(player.side),
                "hand": str(player.hand),
            }
            for player in event.players
        ],
        "courts": [court.name for court in event.courts],
        "rounds": [round_to_dict(planned) for planned in plan.rounds],
        "measures": {name: _measure(measure) for name, measure in plan.measures.items()},
        "warnings": list(plan.warnings),
        "event_in_full": _in_full(event),
    }
    if plan.changes:
        document["changes"] = [asdict(change) for change in plan.changes]
    if plan.season_measures:
        document["season_measures"] = dict(plan.season_measures)
    if plan.weighted:
        document["weighted"] = dict(plan.weighted)
    if plan.pairs:
        document["pairs"] = [list(both) for both in plan.pairs]
    if plan.settled:
        document["settled"] = plan.settled
    document["id"] = identity(document)
    return document


def plan_to_json(plan: Plan) -> str:
    """Return the plan document as text, the same for the same plan on every run."""
    return json.dumps(plan_to_dict(plan), ensure_ascii=False, indent=1) + "\n"


def identity(document: Mapping[str, Any]) -> str:
    """Return the id of a plan document: a digest of everything in it but the id itself."""
    rest = {key: value for key, value in document.items() if key != "id"}
    canonical = json.dumps(rest, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(canonical.encode("utf-8", "surrogatepass")).hexdigest()[:12]


def round_to_dict(planned: PlannedRound) -> dict[str, Any]:
    """Return one round as the document holds it."""
    document: dict[str, Any] = {
        "round": planned.number,
        "kind": str(planned.kind),
        "start": format_time(planned.start),
        "minutes": planned.minutes,
    }
    if planned.topic:
        document["topic"] = planned.topic
    if planned.open:
        document["open"] = True
    document["courts"] = [_entry(entry) for entry in planned.courts]
    document["resting"] = list(planned.resting)
    document["absent"] = list(planned.absent)
    if planned.missing:
        document["missing"] = list(planned.missing)
    return document


def _in_full(event: Event) -> dict[str, Any]:
    """Return the whole event; what only few people have stands only where it is given."""
    document = asdict(event)
    for player in document["players"]:
        if not player["away"]:
            del player["away"]
    return document


def _entry(entry: CourtEntry) -> dict[str, Any]:
    match entry:
        case Group():
            extra = {"topic": entry.topic, "coach": entry.coach}
            given = {key: value for key, value in extra.items() if value}
            return {"court": entry.court, "group": list(entry.players), **given}
        case Match():
            match_document: dict[str, Any] = {
                "court": entry.court,
                "team_a": list(entry.team_a),
                "team_b": list(entry.team_b),
                "serving_order": list(entry.serving_order),
                "deuce_receivers": list(entry.deuce_receivers),
            }
            return match_document | ({"unfinished": True} if entry.unfinished else {})
        case Singles():
            return {"court": entry.court, "singles": list(entry.players)}
        case TwoAgainstOne():
            sides = {"two": list(entry.two), "one": list(entry.one)}
            return {"court": entry.court, "two_against_one": sides}


def _measure(measure: Measure) -> dict[str, Any]:
    document: dict[str, Any] = {
        "value": measure.value,
        "bound": measure.bound,
        "proven": measure.proven,
    }
    if measure.best_given_above:
        document["best_given_above"] = True
    if measure.proof:
        document["proof"] = measure.proof
    return document
