"""The Conditions sheet: what each condition needs, and that what it names exists."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from scheduler.domain.fixture import Condition, ConditionKind
from scheduler.domain.suggest import fold
from scheduler.readers.cells import Findings
from scheduler.readers.fixture_rows import MOST_LINES, ConditionRow
from scheduler.readers.people import look_up
from scheduler.readers.plain_words import quoted
from scheduler.readers.records import Record

_LEVELS = frozenset(
    {
        ConditionKind.HIGHEST_SUM,
        ConditionKind.LOWEST_SUM,
        ConditionKind.GREATEST_DIFFERENCE,
    }
)
_NO_NUMBER = frozenset(
    {ConditionKind.LEVEL_ORDER, ConditionKind.PARTNERS, ConditionKind.NOT_PARTNERS}
)
_GROUPS = frozenset({ConditionKind.GROUP_IN_TEAM, ConditionKind.GROUP_IN_PAIR})
_PEOPLE = frozenset({ConditionKind.PARTNERS, ConditionKind.NOT_PARTNERS})
_ONE_PERSON = frozenset(
    {
        ConditionKind.PLAYS_AT_LEAST,
        ConditionKind.PLAYS_AT_MOST,
        ConditionKind.LEFT_OUT_AT_MOST,
    }
)
_RANGE = re.compile(r"(\d{1,2})\s*[-\u2013]\s*(\d{1,2})")


@dataclass(frozen=True, slots=True)
class Names:
    """What conditions may speak of: people, and groups by their folded spelling."""

    people: Collection[str]
    groups: dict[str, str]


def conditions(
    records: Sequence[Record[ConditionRow]], names: Names, findings: Findings
) -> list[Condition]:
    """Return the conditions of all rows that could be read, ``pairs`` among them."""
    return [
        _condition(record, record.data, names, findings)
        for record in records
        if record.data is not None
    ]


def _condition(
    record: Record[ConditionRow], row: ConditionRow, names: Names, findings: Findings
) -> Condition:
    kind = row.condition
    _check_number(record, row, findings)
    _check_people(record, row, names, findings)
    _check_unused(record, row, findings)
    return Condition(
        kind=kind,
        number=0 if row.number is None else row.number,
        player=row.player,
        other=row.other,
        group=_group(record, row, names, findings),
        lines=_lines(record, row, findings),
        where=record.cell("Condition").where,
    )


def _check_number(record: Record[ConditionRow], row: ConditionRow, findings: Findings) -> None:
    cell, kind = record.cell("Number"), row.condition
    if "Number" in record.broken or kind in _NO_NUMBER:
        return
    if row.number is None:
        findings.fault(cell, f"number is missing; '{kind}' needs one")
    elif row.number < 0 or (kind not in _LEVELS and row.number != int(row.number)):
        needed = "a number of levels" if kind in _LEVELS else "a whole number"
        findings.fault(cell, f"number must be {needed} from 0 on for '{kind}', got {row.number:g}")
    elif kind is ConditionKind.PAIRS and not 1 <= row.number <= MOST_LINES:
        what = f"number must be from 1 to {MOST_LINES} for '{kind}', got {row.number:g}"
        findings.fault(cell, what)
    elif kind is ConditionKind.GROUP_IN_PAIR and row.number > 2:
        findings.fault(cell, f"number must be 0, 1 or 2 for '{kind}', got {row.number:g}")


def _check_people(
    record: Record[ConditionRow], row: ConditionRow, names: Names, findings: Findings
) -> None:
    for header, name in (("Player", row.player), ("Other", row.other)):
        if name:
            look_up(name, names.people, record.cell(header), "player", findings)
        elif row.condition in _PEOPLE and header not in record.broken:
            what = f"{header.lower()} is missing; '{row.condition}' needs two players"
            findings.fault(record.cell(header), what)
    if row.player and row.player == row.other:
        findings.fault(record.cell("Other"), "other must be another person than player")


def _check_unused(record: Record[ConditionRow], row: ConditionRow, findings: Findings) -> None:
    kind = row.condition
    used = {"Condition"}
    used |= set() if kind in _NO_NUMBER else {"Number"}
    used |= {"Player", "Other"} if kind in _PEOPLE else set()
    used |= {"Player"} if kind in _ONE_PERSON else set()
    used |= {"Group"} if kind in _GROUPS else set()
    used |= {"Lines"} if kind is ConditionKind.GROUP_IN_PAIR else set()
    for header in record.line.cells:
        if header not in used:
            findings.warn(record.cell(header), f"is not used by '{kind}' and was not read")


def _group(
    record: Record[ConditionRow], row: ConditionRow, names: Names, findings: Findings
) -> str:
    if row.condition not in _GROUPS or "Group" in record.broken:
        return ""
    if not row.group:
        findings.fault(record.cell("Group"), f"group is missing; '{row.condition}' needs one")
        return ""
    known = names.groups.get(fold(row.group))
    if known is None:
        if not names.groups:
            findings.fault(record.cell("Group"), "nobody of the squad has a group")
        look_up(row.group, names.groups.values(), record.cell("Group"), "group", findings)
    return known or row.group


def _lines(record: Record[ConditionRow], row: ConditionRow, findings: Findings) -> tuple[int, ...]:
    if row.condition is not ConditionKind.GROUP_IN_PAIR:
        return ()
    lines: set[int] = set()
    for part in filter(None, (part.strip() for part in re.split(r"[;,]", row.lines))):
        between = _RANGE.fullmatch(part)
        if between and int(between[1]) <= int(between[2]) <= MOST_LINES:
            lines.update(range(int(between[1]), int(between[2]) + 1))
        elif part.isdecimal() and 1 <= int(part) <= MOST_LINES:
            lines.add(int(part))
        else:
            what = f"lines must be numbers such as 3, 4 or 3-4, got {quoted(part)}"
            findings.fault(record.cell("Lines"), what)
    return tuple(sorted(lines))
