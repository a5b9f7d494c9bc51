"""How much work an effort stands for, in counted moves and never in seconds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

EFFORTS = {"quick": 7_000_000, "normal": 34_000_000, "thorough": 1_200_000_000}
"""Moves of the local search; about 10 to 15 million a second on one core of 2025."""

_MANY = 250
"""Above so many players a move costs more, since the counts no longer fit the cache."""


_LONG = 11
"""Above so many rounds an exchange of two people in all of them costs noticeably more."""


def moves_for(effort: str, players: int, rounds: int) -> int:
    """Return the moves of an effort; fewer for players or rounds so many that each takes longer."""
    share = min(1.0, _MANY / max(1, players)) * min(1.0, _LONG / max(1, rounds))
    return round(EFFORTS[effort] * share)


Report = Callable[[float, str], None]


@dataclass
class Budget:
    """Moves that may still be made; tells a listener how far the work has come."""

    total: int
    report: Report | None = None
    spent: int = field(default=0)

    def spend(self, moves: int, doing: str) -> None:
        """Count moves made and tell the listener."""
        self.spent += moves
        if self.report is not None:
            self.report(min(1.0, self.spent / self.total), doing)

    def part(self, share: float) -> int:
        """Return a share of the whole budget in moves."""
        return max(1, round(self.total * share))
