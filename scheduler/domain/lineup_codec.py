"""Line-ups as the document ``lineup.json`` holds, the same that ``--json`` prints."""

from __future__ import annotations

import json
from typing import Any

from scheduler.domain.codec import identity
from scheduler.domain.fixture import FixtureAnswer, LineUp, SeasonAnswer

SCHEMA = "doubles-rota-lineup/1"


def answer_to_dict(answer: SeasonAnswer, revision: int = 1) -> dict[str, Any]:
    """Return the document of some fixtures' line-ups, with its ``id`` filled in."""
    document: dict[str, Any] = {
        "schema": SCHEMA,
        "team": answer.season.name,
        "aim": str(answer.season.aim),
        "revision": revision,
        "id": "",
        "fixtures": [fixture_to_dict(fixture) for fixture in answer.fixtures],
        "appearances": dict(answer.appearances),
        "measures": {
            name: {
                "value": measure.value,
                "bound": measure.bound,
                "proven": measure.proven,
                "proof": measure.proof,
            }
            for name, measure in answer.measures.items()
        },
        "warnings": list(answer.warnings),
    }
    return identified(document)


def identified(document: dict[str, Any]) -> dict[str, Any]:
    """Return the document with its id worked out anew."""
    return {**document, "id": identity(document)}


def document_text(document: dict[str, Any]) -> str:
    """Return a document as text, the same for the same document on every run."""
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def fixture_to_dict(answer: FixtureAnswer) -> dict[str, Any]:
    """Return one fixture with its line-ups, the chosen one first."""
    fixture = answer.fixture
    document: dict[str, Any] = {
        "date": fixture.date,
        "venue": fixture.venue,
        "opponents": fixture.opponents,
        "played": answer.played,
        "lineups": [_lineup(lineup) for lineup in answer.lineups],
    }
    if answer.withdrawn:
        document["withdrawn"] = list(answer.withdrawn)
        document["moved"] = list(answer.moved)
    return document


def _lineup(lineup: LineUp) -> dict[str, Any]:
    pairs = []
    for pair in lineup.pairs:
        entry: dict[str, Any] = {"line": pair.line, "players": list(pair.players), "sum": pair.sum}
        if pair.chance is not None:
            entry["win_chance"] = [round(value, 2) for value in pair.chance]
        pairs.append(entry)
    return {
        "pairs": pairs,
        "reserves": list(lineup.reserves),
        "why": lineup.why,
        "proven": lineup.proven,
    }
