"""The Wishes sheet: who wants what, with whom, and in which round."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from scheduler.domain.event import NUMBER_WISHES, PAIR_WISHES, Kind, Wish, WishKind
from scheduler.readers.cells import Findings
from scheduler.readers.fields import as_name, whole
from scheduler.readers.people import look_up
from scheduler.readers.plain_words import quoted
from scheduler.readers.records import Record
from scheduler.readers.rows import WishRow

_MOST_ROUNDS = 1000
_PARTNERING = frozenset({WishKind.PARTNERS, WishKind.PARTNERS_ONCE, WishKind.NOT_PARTNERS})


@dataclass(frozen=True, slots=True)
class Known:
    """What wishes may speak of: people, courts, and the kind of each round (None if faulty)."""

    players: Collection[str]
    courts: Collection[str]
    rounds: Sequence[Kind | None]


def wishes(records: Sequence[Record[WishRow]], known: Known, findings: Findings) -> list[Wish]:
    """Return the wishes of all rows that could be read."""
    result: list[Wish] = []
    for record in records:
        wish = _wish(record, known, findings)
        if wish is not None:
            result.append(wish)
    _warn_of_repeats(result, records, findings)
    return result


def _wish(record: Record[WishRow], known: Known, findings: Findings) -> Wish | None:
    row = record.data
    if row is None:
        _check_player(record, known, findings)
        return None
    look_up(row.player, known.players, record.cell("Player"), "player", findings)
    number = _check_other(record, row, known, findings)
    _check_round(record, row, known, findings)
    return Wish(
        kind=row.wish,
        player=row.player,
        other="" if row.wish in NUMBER_WISHES else row.other,
        number=number,
        strength=row.strength,
        round=row.round,
        where=record.cell("Wish").where,
    )


def _check_player(record: Record[WishRow], known: Known, findings: Findings) -> None:
    """Look the player up although the kind of wish is faulty, to report both at once."""
    if "Player" not in record.broken:
        name = as_name(record.cell("Player").value)
        look_up(name, known.players, record.cell("Player"), "player", findings)


def _check_other(
    record: Record[WishRow], row: WishRow, known: Known, findings: Findings
) -> int | None:
    """Check what stands under Other, and return it where it is a number."""
    cell = record.cell("Other")
    if "Other" in record.broken:
        return None
    if row.wish is WishKind.RESTS:
        if row.other:
            findings.fault(cell, f"other must be blank for '{row.wish}', got {quoted(row.other)}")
    elif not row.other:
        findings.fault(cell, f"other is missing; '{row.wish}' needs {_needed(row.wish)}")
    elif row.wish in NUMBER_WISHES:
        return _limit(record, row, findings)
    elif row.wish is WishKind.ON_COURT:
        look_up(row.other, known.courts, cell, "court", findings)
    elif row.other == row.player:
        findings.fault(cell, "other must be another person than player")
    else:
        look_up(row.other, known.players, cell, "player", findings)
    return None


def _needed(kind: WishKind) -> str:
    if kind in PAIR_WISHES:
        return "another player"
    return "a number of rounds" if kind in NUMBER_WISHES else "a court's name"


def _limit(record: Record[WishRow], row: WishRow, findings: Findings) -> int | None:
    lowest = 1 if row.wish is WishKind.ROUNDS_RUNNING_AT_MOST else 0
    try:
        return whole(lowest, _MOST_ROUNDS)(row.other)
    except ValueError as error:
        findings.fault(record.cell("Other"), f"other {error} for '{row.wish}'")
        return None


def _check_round(record: Record[WishRow], row: WishRow, known: Known, findings: Findings) -> None:
    cell, rounds = record.cell("Round"), known.rounds
    if row.round is None:
        if row.wish is WishKind.RESTS and "Round" not in record.broken:
            what = f"no round is given, so {quoted(row.player)} rests in every round"
            findings.warn(record.cell("Wish"), what)
        _warn_of_no_drill(record, row, known, findings)
    elif rounds and row.round > len(rounds):
        findings.fault(cell, f"round must be from 1 to {len(rounds)}, got {row.round}")
    elif row.wish in NUMBER_WISHES:
        what = f"round must be blank for '{row.wish}'; use 'rests' to have somebody rest in a round"
        findings.fault(cell, what)
    elif rounds:
        _warn_of_wrong_kind(record, row, rounds[row.round - 1], findings)


def _warn_of_no_drill(
    record: Record[WishRow], row: WishRow, known: Known, findings: Findings
) -> None:
    if row.wish is WishKind.SAME_COURT and known.rounds and Kind.DRILL not in known.rounds:
        findings.warn(record.cell("Wish"), f"'{row.wish}' holds only in drills, and there is none")


def _warn_of_wrong_kind(
    record: Record[WishRow], row: WishRow, kind: Kind | None, findings: Findings
) -> None:
    if row.wish is WishKind.SAME_COURT and kind not in {None, Kind.DRILL}:
        findings.warn(record.cell("Round"), f"'{row.wish}' holds only in drills, not in '{kind}'")
    if (row.wish in _PARTNERING or row.wish is WishKind.AGAINST_ONCE) and kind is Kind.DRILL:
        what = (
            f"nobody has a partner or an opponent in a drill, so '{row.wish}' has no effect there"
        )
        findings.warn(record.cell("Round"), what)


def _warn_of_repeats(
    read: Sequence[Wish], records: Sequence[Record[WishRow]], findings: Findings
) -> None:
    cells = {record.cell("Wish").where: record.cell("Wish") for record in records}
    first: dict[tuple[object, ...], Wish] = {}
    for wish in read:
        people = (wish.player, wish.other)
        pair = tuple(sorted(people)) if wish.kind in PAIR_WISHES else people
        key = (wish.kind, pair, wish.number, wish.round)
        if key in first:
            findings.warn(cells[wish.where], f"is the same wish as {first[key].where}")
        first.setdefault(key, wish)
