"""Reading ``lineup.json`` back, to know what was announced."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from scheduler.domain.codec import identity
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.lineup_codec import SCHEMA
from scheduler.readers.plain_words import in_words


class _Model(BaseModel):
    """Other keys are ignored."""

    model_config = ConfigDict(frozen=True)


class _Pair(_Model):
    line: int
    players: tuple[str, str]


class _LineUp(_Model):
    pairs: tuple[_Pair, ...]


class _Fixture(_Model):
    date: str
    lineups: tuple[_LineUp, ...] = Field(min_length=1)
    withdrawn: tuple[str, ...] = ()


class _Document(_Model):
    team: str
    revision: int = 1
    fixtures: tuple[_Fixture, ...]


@dataclass(frozen=True, slots=True)
class Announced:
    """What was announced for one fixture, and the whole document it stands in."""

    pairs: tuple[tuple[str, str], ...]
    withdrawn: tuple[str, ...]
    revision: int
    document: dict[str, Any]


def read_announced(path: Path, team: str, date: str) -> Announced | None:
    """Return what was announced for a fixture; None if the file is not there or is another team's.

    Raises
    ------
    BadInput
        If the file is there and is not a document of line-ups, or was changed by hand.
    """
    if not path.exists():
        return None
    try:
        raw = json.loads(path.read_text("utf-8"))
        document = _Document.model_validate(raw)
    except ValidationError as error:
        faults = [
            Fault(f"{path.name} {'.'.join(map(str, detail['loc']))}", in_words(detail))
            for detail in error.errors(include_url=False)
        ]
        raise BadInput(faults) from None
    except (ValueError, RecursionError):
        raise BadInput.one(path.name, "is not a document of line-ups") from None
    if raw.get("schema") != SCHEMA or raw.get("id") != identity(raw):
        raise BadInput.one(path.name, f"is not whole, or not of the kind {SCHEMA}; plan anew")
    found = [fixture for fixture in document.fixtures if fixture.date == date]
    if document.team != team or not found:
        return None
    pairs = sorted(found[0].lineups[0].pairs, key=lambda pair: pair.line)
    return Announced(
        tuple(pair.players for pair in pairs), found[0].withdrawn, document.revision, raw
    )
