"""Reading ``plan.json``: a plan again, or every fault of the file with its path.

A plan changed by hand is read as it stands, so that the checker can judge it;
only what cannot be a plan at all is refused here.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scheduler.domain.clock import format_time, of_the_evening, parse_time
from scheduler.domain.codec import identity
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.event import Event
from scheduler.domain.plan import Plan, PlannedRound

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

    from scheduler.readers.plan_models import DocumentModel, RoundModel

_LARGEST = 64 * 1024 * 1024  # bytes; a season of evenings is far smaller
_BRANCHES = frozenset({"int", "float", "tuple[str, ...]"})


@dataclass(frozen=True, slots=True)
class PlanFile:
    """A plan with what its file says about itself.

    Parameters
    ----------
    plan
        The plan as it stands in the file.
    stated_id
        The id written in the file.
    id_matches
        Whether that id is the digest of what the file holds; false after any
        change by hand.
    disagreements
        Where the head of the document (event, players, courts) says something
        else than ``event_in_full``, from which `plan` was read.
    """

    plan: Plan
    stated_id: str
    id_matches: bool
    disagreements: tuple[Fault, ...] = ()


def read_plan(path: Path) -> Plan:
    """Return the plan in a file.

    Raises
    ------
    BadInput
        With every fault of the file, those of its head included.
    """
    read = read_plan_file(path)
    if read.disagreements:
        raise BadInput(read.disagreements)
    return read.plan


def read_plan_file(path: Path) -> PlanFile:
    """Return the plan in a file together with its id and its disagreements with itself.

    Raises
    ------
    BadInput
        If the file cannot be read, is not JSON, or does not hold a plan; with
        every fault and its path inside the document.
    """
    return plan_of_text(_text(path), path)


def plan_of_text(text: str, path: Path) -> PlanFile:
    """Return the plan in the text of a plan file; `path` only names it in messages.

    Raises
    ------
    BadInput
        If the text is not JSON, or does not hold a plan; with every fault.
    """
    raw = _json(path, text)
    document = _document(path, text)
    from scheduler.readers.plan_integrity import (  # noqa: PLC0415  pydantic is slow to import
        disagreements,
        event_troubles,
    )

    troubles = (
        (f"event_in_full.{at}", what) for at, what in event_troubles(document.event_in_full)
    )
    faults = list(_placed(path, troubles))
    if faults:
        raise BadInput(faults)
    return PlanFile(
        plan=_plan(document),
        stated_id=document.id,
        id_matches=identity(raw) == document.id,
        disagreements=tuple(_placed(path, disagreements(document))),
    )


def _placed(path: Path, troubles: Iterable[tuple[str, str]]) -> Iterator[Fault]:
    return (Fault(f"{path.name} {where}".rstrip(), what) for where, what in troubles)


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > _LARGEST:
            raise BadInput.one(path.name, "is far too large to be a plan")
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput.one(path.name, "is not UTF-8 text, so it is not a plan.json") from None
    except FileNotFoundError:
        raise BadInput.one(str(path), "there is no such file") from None
    except IsADirectoryError:
        raise BadInput.one(str(path), "is a folder; name the plan.json inside it") from None
    except OSError as error:
        raise BadInput.one(str(path), f"cannot be read: {error.strerror or error}") from None


def _json(path: Path, text: str) -> dict[str, Any]:
    try:
        raw = json.loads(text, parse_constant=_refuse_constant)
    except json.JSONDecodeError as error:
        where = f"{path.name} line {error.lineno}, column {error.colno}"
        raise BadInput.one(where, f"is not JSON: {error.msg}") from None
    except RecursionError:
        raise BadInput.one(path.name, "is nested too deeply to be a plan") from None
    except ValueError as error:
        raise BadInput.one(path.name, str(error)) from None
    if not isinstance(raw, dict):
        raise BadInput.one(path.name, "is not a plan: the document must be an object")
    return raw


def _refuse_constant(word: str) -> float:
    raise ValueError(f"is not JSON: {word} is no number a plan can hold")


def _document(path: Path, text: str) -> DocumentModel:
    from pydantic import ValidationError  # noqa: PLC0415  pydantic is slow to import

    from scheduler.readers.plan_models import DocumentModel  # noqa: PLC0415

    try:
        return DocumentModel.model_validate_json(text)
    except ValidationError as error:
        raise BadInput(list(_faults(path, error.errors(include_url=False)))) from None


def _faults(path: Path, errors: list[ErrorDetails]) -> Iterator[Fault]:
    from scheduler.readers.plain_words import in_words  # noqa: PLC0415

    places = [_without_tags(error["loc"]) for error in errors]
    for loc, error in zip(places, errors, strict=True):
        if not _is_lesser_branch(loc, places):
            where = _dotted(part for part in loc if part not in _BRANCHES)
            yield from _placed(path, [(where, in_words(error))])


def _without_tags(loc: tuple[int | str, ...]) -> tuple[int | str, ...]:
    """Drop the name pydantic puts after a court entry for the kind it took it for."""
    in_a_court = len(loc) > 4 and loc[0] == "rounds" and loc[2] == "courts"
    return loc[:4] + loc[5:] if in_a_court else loc


def _is_lesser_branch(loc: tuple[int | str, ...], places: list[tuple[int | str, ...]]) -> bool:
    """Return whether another way to read the same value is told of in a better message."""
    depth = len(loc) - 1
    return loc[-1:] == ("int",) and any(
        other[:depth] == loc[:depth] and other[depth : depth + 1] != ("int",) for other in places
    )


def _dotted(loc: Iterable[int | str]) -> str:
    text = ""
    for part in loc:
        text += f"[{part}]" if isinstance(part, int) else f".{part}"
    return text.removeprefix(".")


def _plan(document: DocumentModel) -> Plan:
    event = document.event_in_full
    return Plan(
        event=event,
        rounds=tuple(_planned(item, event) for item in document.rounds),
        seed=document.seed,
        effort=document.effort,
        version=document.version,
        revision=document.revision,
        measures={name: measure.measure() for name, measure in document.measures.items()},
        warnings=document.warnings,
        changes=document.changes,
        season_measures=document.season_measures,
        weighted=document.weighted,
        settled=document.settled,
        pairs=document.pairs,
    )


def _planned(item: RoundModel, event: Event) -> PlannedRound:
    return PlannedRound(
        number=item.round,
        kind=item.kind,
        start=_start(item, event),
        minutes=item.minutes,
        courts=tuple(entry.entry() for entry in item.courts),
        resting=item.resting,
        absent=item.absent,
        topic=item.topic,
        open=item.open,
        missing=item.missing,
    )


def _start(item: RoundModel, event: Event) -> int:
    """Return the minute a round starts, which "hh:mm" alone may leave open by a day."""
    minute = parse_time(item.start)
    if item.round <= len(event.rounds):
        asked = event.rounds[item.round - 1].start
        if format_time(asked) == format_time(minute):
            return asked
    return of_the_evening(minute, event.start)
