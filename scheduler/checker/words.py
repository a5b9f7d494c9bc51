"""How faults are worded: places, lists of people, clock times."""

from __future__ import annotations

from collections.abc import Iterable

from scheduler.domain.clock import format_time
from scheduler.domain.plan import CourtEntry, Group, Match, PlannedRound, Singles


def place(planned: PlannedRound, entry: CourtEntry | None = None) -> str:
    """Return ``"Round 2"`` or ``"Round 2, Court 1"``."""
    return f"Round {planned.number}" + (f", {entry.court}" if entry is not None else "")


def listed(names: Iterable[str]) -> str:
    """Return ``"Ana, Bo and Cy"``; ``"nobody"`` for an empty list."""
    known = list(names)
    if len(known) < 2:
        return known[0] if known else "nobody"
    return f"{', '.join(known[:-1])} and {known[-1]}"


def counted(number: int, one: str, many: str = "") -> str:
    """Return ``"1 court"`` or ``"3 courts"``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def often(times: int) -> str:
    """Return ``"once"``, ``"twice"`` or ``"3 times"``."""
    return {1: "once", 2: "twice"}.get(times, f"{times} times")


def hours(start: int, end: int) -> str:
    """Return ``"18:30 to 18:50"``."""
    return f"{format_time(start)} to {format_time(end)}"


def number(value: float) -> str:
    """Return a figure without needless zeros: ``"3"``, ``"0.25"``."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


def seating(entry: CourtEntry) -> str:
    """Return who is on a court: ``"Ana and Bo against Cy and Di"``."""
    match entry:
        case Match():
            return f"{listed(entry.team_a)} against {listed(entry.team_b)}"
        case Group() | Singles():
            return listed(entry.players)
        case _:
            return f"{listed(entry.two)} against {listed(entry.one)}"
