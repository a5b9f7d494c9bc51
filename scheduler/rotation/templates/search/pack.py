"""Pack what the search has found: ``python -m scheduler.rotation.templates.search.pack DIR``.

Writes ``book.zip`` into the package's data folder, and beside it
``COVERAGE.md``, which says what is proven and what is missing.
"""

from __future__ import annotations

import argparse
import sys
import zipfile
from itertools import pairwise
from pathlib import Path

from scheduler.rotation.templates.labels import text_of
from scheduler.rotation.templates.recount import Match, Rounds
from scheduler.rotation.templates.search.cell import (
    AGAINST,
    COUPLES,
    MEETINGS,
    OPPONENTS,
    STRANGERS,
    Cell,
    Rating,
)
from scheduler.rotation.templates.search.checkpoint import Checkpoint
from scheduler.rotation.templates.search.coverage import coverage

DATA = Path(__file__).parent.parent / "data"
_EPOCH = (2026, 1, 1, 0, 0, 0)


def main() -> None:
    """Write the book and its table of coverage."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("directory", type=Path)
    checkpoint = Checkpoint(parser.parse_args().directory)
    usable = {cell: found for cell, found in checkpoint.best.items() if found[0][0] == 0}
    members: dict[str, list[str]] = {}
    for cell in sorted(usable, key=lambda c: (c.aim, c.players, c.first, c.courts, c.rounds)):
        members.setdefault(_member(cell), []).append(_line(cell, *usable[cell]))
    target = DATA / "book.zip"
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as file:
        for name, lines in sorted(members.items()):
            file.writestr(zipfile.ZipInfo(name, _EPOCH), "\n".join(lines) + "\n", 8, 9)
    (DATA / "COVERAGE.md").write_text(
        coverage({cell: found[0] for cell, found in usable.items()}), encoding="utf-8"
    )
    sys.stdout.write(f"{len(usable)} schedules, {target.stat().st_size} bytes\n")


def _member(cell: Cell) -> str:
    if cell.aim in {OPPONENTS, MEETINGS}:
        return f"{cell.aim}/{cell.players}.txt"
    if cell.aim in {COUPLES, STRANGERS}:
        return f"{cell.aim}/{cell.first}.txt"
    assert cell.aim == AGAINST
    return f"{cell.aim}/{cell.first}-{cell.players - cell.first}.txt"


def _line(cell: Cell, rating: Rating, rounds: Rounds, how: str) -> str:
    _, partner, second, _ = rating
    ordered = _tidied(_spread_rests(rounds, cell.players), named=cell.first > 0)
    return f"{cell.courts} {cell.rounds}: {partner} {second} {_source(how)} {text_of(ordered)}"


def _source(how: str) -> str:
    """Shorten how a schedule was found: a annealed, w whist, m meet once, s square, gN group."""
    for word, letter in (("free", "a"), ("whist", "w"), ("meet", "m"), ("square", "s")):
        if how.startswith(word):
            return letter
    return "g" + how.split(maxsplit=1)[0].partition("x")[2]


def _spread_rests(rounds: Rounds, players: int) -> Rounds:
    """Order the rounds so that few rest twice running: move single rounds while it helps."""
    everyone = set(range(players))
    resting = [everyone - {x for match in played for x in match} for played in rounds]
    order = list(range(len(rounds)))

    def price(some: list[int]) -> int:
        return sum(len(resting[a] & resting[b]) for a, b in pairwise(some))

    least = price(order)
    better = least > 0
    while better:
        better = False
        for k in range(len(order)):
            rest = order[:k] + order[k + 1 :]
            for at in range(len(order)):
                moved = [*rest[:at], order[k], *rest[at:]]
                if price(moved) < least:
                    order, least, better = moved, price(moved), True
                    break
    return tuple(rounds[k] for k in order)


def _tidied(rounds: Rounds, *, named: bool) -> Rounds:
    """Give labels numbers in the order they come up (unless they mean something), sort matches."""
    number: dict[int, int] = {}
    for played in rounds:
        for match in played:
            for label in match:
                number.setdefault(label, label if named else len(number))
    return tuple(
        tuple(sorted(_sorted_match([number[x] for x in match], named=named) for match in played))
        for played in rounds
    )


def _sorted_match(m: list[int], *, named: bool) -> Match:
    if named:
        return m[0], m[1], m[2], m[3]
    (a, b), (c, d) = sorted([sorted(m[:2]), sorted(m[2:])])
    return a, b, c, d


if __name__ == "__main__":
    main()
