"""The Rounds sheet: kinds, courts, and when each round starts."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.domain.clock import DAY, format_time, of_the_evening
from scheduler.domain.event import Court, Kind, Player, Round
from scheduler.readers.cells import Findings
from scheduler.readers.fields import as_name, whole
from scheduler.readers.people import look_up
from scheduler.readers.plain_words import quoted
from scheduler.readers.records import Record
from scheduler.readers.rows import PlayerRow, RoundRow

GROUPED = frozenset({Kind.MIXED, Kind.GROUP_AGAINST_GROUP})

_SEPARATORS = re.compile(r"\s*[,;]\s*")
_LOOKS_LIKE_A_NUMBER = re.compile(r"[+-]?[\d.,]+")


@dataclass(frozen=True, slots=True)
class TimedRound:
    """A row of the Rounds sheet with its number and, as far as it is known, its start."""

    number: int
    record: Record[RoundRow]
    start: int | None
    courts: int | tuple[str, ...] | None = None

    @property
    def window(self) -> tuple[int, int] | None:
        """Start and end in minutes, or None where a fault hides them."""
        row = self.record.data
        return None if self.start is None or row is None else (self.start, self.start + row.minutes)

    def to_domain(self) -> Round:
        """Return the domain's round; only for a sheet without faults."""
        row = self.record.data
        assert row is not None
        assert self.start is not None
        return Round(
            row.kind, self.start, row.minutes, row.topic, row.group_size, row.levels, self.courts
        )


def timetable(
    records: Sequence[Record[RoundRow]],
    start: int | None,
    changeover: int,
    courts: Sequence[str],
    findings: Findings,
) -> list[TimedRound]:
    """Return the rounds with their starts; each begins when the one before is over.

    A start that is given moves the round there, leaving a break, and must not
    be earlier than the end of the round before. Where the evening's start is
    hidden by a fault, so are all of these.
    """
    rounds: list[TimedRound] = []
    free = start
    for number, record in enumerate(records, 1):
        row = record.data
        begins = None if "Start" in record.broken else free
        if start is not None and row is not None and row.start is not None:
            begins = of_the_evening(row.start, start)
            trouble = _trouble_with_start(begins, rounds, start)
            if trouble:
                findings.fault(record.cell("Start"), trouble)
        used = None if row is None else _courts(row.courts, record, courts, findings)
        rounds.append(TimedRound(number, record, begins, used))
        free = None
        if row is not None and begins is not None and "Minutes" not in record.broken:
            free = begins + row.minutes + changeover
    if start is not None:
        _check_length(rounds, start, findings)
    return rounds


def check_turnout(
    rounds: Sequence[TimedRound],
    people: Sequence[tuple[Record[PlayerRow], Player]],
    courts: Sequence[Court],
    findings: Findings,
) -> None:
    """Check of every round that a court is open, that people are there, and their groups."""
    without: dict[str, list[TimedRound]] = {}
    cells = {player.name: record for record, player in people}
    for timed in rounds:
        if timed.window is None or timed.record.data is None:
            continue
        there = [p for record, p in people if _may_be_there(record, p, timed.window)]
        _check_courts_open(timed, courts, findings)
        _check_numbers(timed, len(there), findings)
        if timed.record.data.kind in GROUPED and "Kind" not in timed.record.broken:
            grouped = [p for p in there if "Group" not in cells[p.name].broken]
            _check_two_groups(timed, grouped, findings)
            for player in grouped:
                if not player.group:
                    without.setdefault(player.name, []).append(timed)
    for name, needing in without.items():
        _fault_of_no_group(cells[name], name, needing, findings)


def _trouble_with_start(begins: int, before: Sequence[TimedRound], start: int) -> str:
    """Return why a round cannot start at a time, or nothing if it can."""
    said = f"round {len(before) + 1} starts at {format_time(begins)}"
    last = before[-1].window if before else None
    if last is not None and begins < last[1]:
        return f"{said}, before round {len(before)} ends at {format_time(last[1])}"
    if begins < start:
        return f"{said}, before the event starts at {format_time(start)}"
    return ""


def _check_length(rounds: Sequence[TimedRound], start: int, findings: Findings) -> None:
    for timed in rounds:
        if timed.window is not None and timed.window[1] > start + DAY:
            cell = timed.record.cell("Minutes")
            findings.fault(cell, f"round {timed.number} ends more than a day after the start")
            return


def _courts(
    text: str, record: Record[RoundRow], known: Sequence[str], findings: Findings
) -> int | tuple[str, ...] | None:
    """Return the courts a round may use: a number, some names, or None for all that are open."""
    cell = record.cell("Courts")
    if not text or "Courts" in record.broken:
        return None
    if _LOOKS_LIKE_A_NUMBER.fullmatch(text) and "," not in text:
        try:
            return whole(1, max(len(known), 1))(text)
        except ValueError as error:
            findings.fault(cell, f"courts {error} (or a list of courts' names)")
            return None
    named = [text] if text in known else [as_name(part) for part in _SEPARATORS.split(text) if part]
    for name in named:
        look_up(name, known, cell, "court", findings)
    return tuple(dict.fromkeys(named))


def _may_be_there(record: Record[PlayerRow], player: Player, window: tuple[int, int]) -> bool:
    hidden = record.broken & {"Arrives", "Leaves", "Here"}
    return not hidden and player.is_present(*window)


def _check_courts_open(timed: TimedRound, courts: Sequence[Court], findings: Findings) -> None:
    assert timed.window is not None
    named = timed.courts if isinstance(timed.courts, tuple) else None
    known = [court.name for court in courts]
    if named is not None and any(name not in known for name in named):
        return  # those names have their own fault
    usable = [c for c in courts if c.is_open(*timed.window) and (named is None or c.name in named)]
    if courts and not usable:
        start, end = (format_time(minute) for minute in timed.window)
        which = "none of its courts is" if named else "no court is"
        findings.fault(
            timed.record.cell("Kind"),
            f"{which} open for all of round {timed.number} ({start} to {end})",
        )


def _check_numbers(timed: TimedRound, there: int, findings: Findings) -> None:
    row = timed.record.data
    if row is not None and row.kind is not Kind.DRILL and there < 4:
        who = {0: "nobody is", 1: "only one person is"}.get(there, f"only {there} people are")
        what = f"{who} there for all of round {timed.number}, too few for doubles"
        findings.warn(timed.record.cell("Kind"), what)


def _check_two_groups(timed: TimedRound, there: Sequence[Player], findings: Findings) -> None:
    groups = sorted({player.group for player in there if player.group})
    row = timed.record.data
    if row is None or len(groups) == 2 or not there:
        return
    if not groups and all(not player.group for player in there):
        return  # every one of them gets a fault of their own
    found = ", ".join(quoted(group) for group in groups)
    what = f"a '{row.kind}' round needs exactly two groups, those there have {len(groups)}: {found}"
    findings.fault(timed.record.cell("Kind"), what)


def _fault_of_no_group(
    record: Record[PlayerRow], name: str, needing: Sequence[TimedRound], findings: Findings
) -> None:
    kinds = dict.fromkeys(timed.record.data.kind for timed in needing if timed.record.data)
    numbers = ", ".join(str(timed.number) for timed in needing)
    rounds = f"round{'s' if len(needing) > 1 else ''} {numbers}"
    what = f"group is missing; {quoted(name)} needs one for {rounds} ({', '.join(kinds)})"
    findings.fault(record.cell("Group"), what)
