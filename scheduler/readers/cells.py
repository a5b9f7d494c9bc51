"""Cells that know where they stand, and the list of what is wrong with them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from scheduler.domain.errors import BadInput, Fault

_ALPHABET = 26


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A cell whose value cannot be had, and why, as the end of a sentence."""

    why: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One value with its sheet (`order` is the sheet's rank in reading order) and place."""

    sheet: str
    order: int
    row: int
    column: int
    value: Any = None

    @property
    def where(self) -> str:
        """The place as a person looks for it: ``Players!C7``; row 0 is no cell of a sheet."""
        if self.row == 0:
            return self.sheet
        return f"{self.sheet}!{column_letters(self.column)}{self.row}"

    @property
    def place(self) -> tuple[int, int, int]:
        """The place in reading order."""
        return self.order, self.row, self.column


@dataclass(frozen=True, slots=True)
class Grid:
    """The non-blank rows of one sheet: row numbers with their values, from column A on."""

    title: str
    order: int
    rows: tuple[tuple[int, tuple[Any, ...]], ...]

    def cell(self, row: int, column: int, value: Any = None) -> Cell:
        """Return a cell of this sheet."""
        return Cell(self.title, self.order, row, column, value)


@dataclass(slots=True)
class Findings:
    """Everything found wrong (faults) or doubtful (warnings) while reading."""

    _faults: list[tuple[tuple[int, int, int], Fault]] = field(default_factory=list)
    _warnings: list[tuple[tuple[int, int, int], str]] = field(default_factory=list)

    def fault(self, cell: Cell, what: str) -> None:
        """Note a fault of a cell."""
        self._faults.append((cell.place, Fault(cell.where, what)))

    def fault_of_sheet(self, sheet: str, order: int, what: str) -> None:
        """Note a fault of a whole sheet, or of the file."""
        self._faults.append(((order, 0, 0), Fault(sheet, what)))

    def warn(self, cell: Cell, what: str) -> None:
        """Note something doubtful about a cell."""
        self._warnings.append((cell.place, f"{cell.where}: {what}"))

    def warn_of_sheet(self, sheet: str, order: int, what: str) -> None:
        """Note something doubtful about a whole sheet."""
        self._warnings.append(((order, 0, 0), f"{sheet}: {what}"))

    def fault_count(self) -> int:
        """Return how many faults were noted."""
        return len(self._faults)

    def has_faults_in(self, order: int) -> bool:
        """Return whether any fault was noted of the sheet with this rank."""
        return any(place[0] == order for place, _ in self._faults)

    @property
    def faults(self) -> tuple[Fault, ...]:
        """The faults in reading order."""
        return tuple(fault for _, fault in sorted(self._faults, key=lambda item: item[0]))

    def raise_faults(self) -> None:
        """Raise every fault in reading order, if there are any."""
        if self._faults:
            raise BadInput(self.faults)

    @property
    def warnings(self) -> tuple[str, ...]:
        """The warnings in reading order."""
        return tuple(text for _, text in sorted(self._warnings, key=lambda item: item[0]))


def is_blank(value: Any) -> bool:
    """Return whether a cell holds nothing that a person could see."""
    return value is None or (
        isinstance(value, str) and not value.strip(" \t\r\n\u00a0\u200b\ufeff")
    )


def column_letters(column: int) -> str:
    """Return the letters of a column counted from 1: ``A`` to ``Z``, ``AA`` and so on."""
    letters = ""
    while column > 0:
        column, rest = divmod(column - 1, _ALPHABET)
        letters = chr(ord("A") + rest) + letters
    return letters
