"""The errors a user can meet, and nothing else.

::

    RotaError                    anything the command line reports in one line
    ├── BadInput (ValueError)    the data has faults; carries every one of them   exit 1
    ├── NoPlan                   no plan keeps the musts; carries the conflict    exit 3
    └── CheckerDisagrees         the engine's plan was refused by the checker     exit 4
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing wrong with the input.

    Parameters
    ----------
    where
        The place, as a person would look for it: ``"Players!C7"``,
        ``"plan.json rounds[2].courts[0]"``, or ``""`` when there is none.
    what
        One sentence without a full stop, with a hint where one helps.
    """

    where: str
    what: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" if self.where else self.what


class RotaError(Exception):
    """Base of everything the program says to a user instead of a traceback."""


class BadInput(RotaError, ValueError):
    """The input has faults; all of them are in `faults`, in reading order.

    Examples
    --------
    >>> error = BadInput.one("Players!C7", 'level must be a number from 1 to 10, got "abc"')
    >>> print(error)
    Players!C7: level must be a number from 1 to 10, got "abc"
    """

    def __init__(self, faults: list[Fault] | tuple[Fault, ...]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    @classmethod
    def one(cls, where: str, what: str) -> BadInput:
        """Return the error for a single fault."""
        return cls([Fault(where, what)])


class NoPlan(RotaError):
    """No plan keeps the musts.

    Parameters
    ----------
    conflict
        A smallest set of demands that cannot be kept together, each a
        sentence with its cell.
    proven
        True when the conflict was proved; False when the search merely ended
        without a plan.

    Examples
    --------
    >>> NoPlan(["Wishes!A2: Ana and Bo must be partners"]).conflict
    ('Wishes!A2: Ana and Bo must be partners',)
    """

    def __init__(self, conflict: list[str] | tuple[str, ...], *, proven: bool = True) -> None:
        self.conflict: tuple[str, ...] = tuple(conflict)
        self.proven = proven
        super().__init__("\n".join(self.conflict))


class CheckerDisagrees(RotaError):
    """The checker refused a plan the engine believed in: a bug, so nothing is published."""

    def __init__(self, faults: list[str] | tuple[str, ...]) -> None:
        self.faults: tuple[str, ...] = tuple(faults)
        super().__init__("\n".join(self.faults))
