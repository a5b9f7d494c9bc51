"""The table of what the book holds, as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from scheduler.rotation.templates.search.cell import (
    COUPLES,
    MEETINGS,
    OPPONENTS,
    STRANGERS,
    Cell,
    Rating,
)
from scheduler.rotation.templates.search.grid import cells_of, group_cells, mixed_cells

_HEAD = """# What the book of templates holds

Written by `python -m scheduler.rotation.templates.search.pack`. A schedule is *proven* if both its
partner repeats and what its aim counts next stand at a lower bound (`limits.py`); the others
are the best we know. Repeats are sums of k(k-1)/2 over pairs, k being how often they were partners,
opponents, or either. Rests are fair in all of them.

| cells | asked | found | proven |
|---|---|---|---|
"""


def coverage(ratings: Mapping[Cell, Rating]) -> str:
    """Return the table of coverage and the list of cells not proven, as Markdown."""
    groups = list(_groups())
    lines = [_row(name, cells, ratings) for name, cells in groups]
    open_cells = [
        f"\n## {name}: best known, not proven\n\n"
        "players x courts x rounds: partner repeats, repeats of the aim (their bounds)\n\n"
        + "\n".join(_open(cells, ratings))
        + "\n"
        for name, cells in groups
        if any(True for _ in _open(cells, ratings))
    ]
    return _HEAD + "\n".join(lines) + "\n" + "".join(open_cells)


def _groups() -> Iterator[tuple[str, list[Cell]]]:
    everyone = range(4, 41)
    for aim in (OPPONENTS, MEETINGS):
        full = cells_of(aim, everyone, 0)
        yield (
            f"{aim}: all courts, up to 16 rounds and once through",
            [c for c in full if c.rounds <= min(16, c.players - 1)],
        )
        yield (
            f"{aim}: all courts, more rounds",
            [c for c in full if c.rounds > min(16, c.players - 1)],
        )
        yield f"{aim}: one court fewer", cells_of(aim, everyone, 1)
        few = [cell for less in range(2, 10) for cell in cells_of(aim, everyone, less)]
        yield f"{aim}: fewer courts", few
    yield "mixed doubles, couples never on one court", mixed_cells(COUPLES)
    yield "mixed doubles without couples", mixed_cells(STRANGERS)
    yield "group against group", group_cells()


def _row(name: str, cells: list[Cell], ratings: Mapping[Cell, Rating]) -> str:
    found = [cell for cell in cells if cell in ratings]
    proven = sum(cell.is_settled_by(ratings[cell]) for cell in found)
    return f"| {name} | {len(cells)} | {len(found)} | {proven} |"


def _open(cells: Iterable[Cell], ratings: Mapping[Cell, Rating]) -> Iterator[str]:
    for cell in cells:
        if cell in ratings and not cell.is_settled_by(ratings[cell]):
            partner, second = ratings[cell][1:3]
            size = f"{cell.first}+{cell.players - cell.first}" if cell.first else f"{cell.players}"
            yield (
                f"- {size} x {cell.courts} x {cell.rounds}: {partner}, {second} "
                f"({cell.limits[0]}, {cell.limits[1]})"
            )
