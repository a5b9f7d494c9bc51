"""Which cells the book is to have, and in what order they are worked through."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.rotation.templates.search.cell import (
    AGAINST,
    COUPLES,
    MEETINGS,
    OPPONENTS,
    STRANGERS,
    Cell,
)

EFFORTS = 5
LONG = 16
"""Beyond so many rounds cells wait until the others have had their turn."""


def agenda() -> Iterator[tuple[int, Cell]]:
    """Yield (effort, cell) with growing effort, within an effort what is most wanted first."""
    everyone = range(4, 41)
    opponents, meetings = cells_of(OPPONENTS, everyone, 0), cells_of(MEETINGS, everyone, 0)
    parts = (
        [c for c in opponents if c.rounds <= LONG],
        cells_of(OPPONENTS, everyone, 1),
        [c for c in meetings if c.rounds <= LONG and not any(c.limits)],
        [c for c in meetings if c.rounds <= LONG and any(c.limits)],
        mixed_cells(COUPLES),
        cells_of(MEETINGS, everyone, 1),
        mixed_cells(STRANGERS),
        group_cells(),
        [c for less in range(2, 10) for c in cells_of(OPPONENTS, everyone, less)],
        [c for less in range(2, 10) for c in cells_of(MEETINGS, everyone, less)],
        [c for c in opponents if c.rounds > LONG],
        [c for c in meetings if c.rounds > LONG],
    )
    for effort in range(EFFORTS):
        for cells in parts:
            yield from ((effort, cell) for cell in cells)


def cells_of(aim: str, players: range, fewer: int) -> list[Cell]:
    """Return the cells with so many courts fewer than there could be."""
    return [
        Cell(n, n // 4 - fewer, rounds, aim)
        for n in players
        if n // 4 > fewer
        for rounds in range(2, 1 + (max(16, n - 1) if fewer == 0 else 16))
    ]


def mixed_cells(aim: str) -> list[Cell]:
    """Return the cells of mixed doubles: up to 20 men and women."""
    return [
        Cell(2 * size, courts, rounds, aim, size)
        for size in range(4 if aim == COUPLES else 2, 21)
        for courts in range(size // 2, 0, -1)
        if size <= 12 or courts >= size // 2 - 1
        for rounds in range(2, 1 + max(16, size))
    ]


def group_cells() -> list[Cell]:
    """Return the cells of one group against another, the smaller first: up to 16 people each."""
    return [
        Cell(first + second, first // 2, rounds, AGAINST, first)
        for first in range(2, 17)
        for second in range(first, min(first + 2, 16) + 1)
        for rounds in range(2, 13)
    ]
