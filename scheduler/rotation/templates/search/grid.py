"""Which cells the book is to have, and in what order they are worked through."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

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
    """Yield (effort, cell), what is most wanted first; efforts grow by ones for every cell."""
    small, large, everyone = range(4, 25), range(25, 41), range(4, 41)
    wanted = (
        cells_of(OPPONENTS, small, 0),
        cells_of(OPPONENTS, small, 1),
        [c for c in cells_of(OPPONENTS, large, 0) if c.rounds <= LONG],
        cells_of(OPPONENTS, large, 1),
    )
    meet = [c for c in cells_of(MEETINGS, everyone, 0) if c.rounds <= LONG]
    never_twice = [c for c in meet if not any(c.limits)]
    others = (
        never_twice,
        [c for c in meet if any(c.limits)],
        mixed_cells(COUPLES),
        cells_of(MEETINGS, everyone, 1),
        mixed_cells(STRANGERS),
        group_cells(),
        [c for less in range(2, 10) for c in cells_of(OPPONENTS, everyone, less)],
        [c for less in range(2, 10) for c in cells_of(MEETINGS, everyone, less)],
        [c for c in cells_of(OPPONENTS, large, 0) if c.rounds > LONG],
        [c for c in cells_of(MEETINGS, everyone, 0) if c.rounds > LONG],
    )
    yield from _stage(wanted[:2], range(2))
    yield from _stage(wanted[2:], range(2))
    yield from _stage((never_twice,), range(2))
    yield from _stage(others[1:], range(1))
    yield from _stage(wanted, range(2, 3))
    yield from _stage(others[1:], range(1, 2))
    yield from _stage(others, range(2, 3))
    for effort in range(3, EFFORTS):
        yield from _stage((*wanted, *others), range(effort, effort + 1))


def _stage(parts: Iterable[list[Cell]], efforts: range) -> Iterator[tuple[int, Cell]]:
    for cells in parts:
        for effort in efforts:
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
