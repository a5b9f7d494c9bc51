"""How much work an effort stands for, in counted moves and never in seconds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from scheduler.rotation.problem import BlockKind, Problem, Shape

EFFORTS = {"quick": 16_000_000, "normal": 86_000_000, "thorough": 3_200_000_000}
"""Moves of the local search where all play doubles; some 30 million a second on a core of 2025."""

_MANY = 100
"""Above so many players a move costs more, since the counts no longer fit the cache."""

_LONG = 11
"""Above so many rounds an exchange of two people in all of them costs noticeably more."""

_REST, _DRILL = 8, 6
"""How many moves between matches one costs that looks at rests, or at a drill."""


def moves_for(effort: str, problem: Problem) -> int:
    """Return the moves of an effort: the fewer, the longer each takes."""
    rounds = [problem.shapes[at] for at in problem.free]
    share = min(1.0, _MANY / max(1, problem.players)) * min(1.0, _LONG / max(1, len(rounds)))
    return round(EFFORTS[effort] * share / _weight(rounds))


def _weight(rounds: list[Shape]) -> float:
    """Return the work of a move, 1 where everybody plays doubles all the time."""
    blocks = [block for shape in rounds for block in shape.blocks]
    matches = sum(block.size for block in blocks if block.kind is BlockKind.MATCH)
    others = sum(block.size for block in blocks) - matches
    rests = sum(len(shape.rest) for shape in rounds)
    seats = matches + others + rests
    return (matches + _DRILL * others + _REST * rests) / seats if seats else 1.0


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
