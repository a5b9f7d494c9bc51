"""The search behind the book: what it finds is what it says, and it picks up where it stood."""

from __future__ import annotations

import shutil
import sys

import numpy as np
import pytest
from label_counts import assert_is_schedule, matrices, repeats, spread_of

from scheduler.rotation.templates import limits
from scheduler.rotation.templates.search import __main__ as command
from scheduler.rotation.templates.search import grid
from scheduler.rotation.templates.search.build import HERE, build
from scheduler.rotation.templates.search.cell import Cell
from scheduler.rotation.templates.search.checkpoint import Checkpoint
from scheduler.rotation.templates.search.coverage import coverage
from scheduler.rotation.templates.search.settle import least_repeats
from scheduler.rotation.templates.search.strategies import attempts, developed, free, symmetries


@pytest.mark.skipif(shutil.which("clang") is None, reason="no clang to compile with")
def test_compiled_file_is_of_the_source(tmp_path):
    """The compiled annealer in the package is what its source compiles to, instruction for one."""
    build(tmp_path / "annealer.wasm")
    assert (tmp_path / "annealer.wasm").read_bytes() == (HERE / "annealer.wasm").read_bytes()


@pytest.mark.parametrize("size", [(8, 2, 4), (9, 2, 6), (14, 3, 5), (15, 3, 9)])
@pytest.mark.parametrize("aim", ["opponents", "meetings"])
def test_free_search(size, aim):
    """A short search keeps the rules, rests fairly, and rates itself as a recount does."""
    cell = Cell(*size, aim)
    rounds = free(cell, 1, 400_000)
    assert_is_schedule(size[0], size[1], rounds, size[2])
    partners, opponents, turns = matrices(size[0], rounds)
    assert spread_of(turns) <= 1
    counted = repeats(opponents) if aim == "opponents" else repeats(partners + opponents)
    assert cell.rate(rounds)[:3] == (0, repeats(partners), counted)


def test_developed_search():
    """20 players meet 18 opponents once in nine rounds, one base round under a group of nine."""
    cell = Cell(20, 5, 9, "opponents")
    rounds = developed(cell, 1, (9, 9, 1, 1), 1, 20)
    partners, opponents, _ = matrices(20, rounds)
    assert partners.max() == opponents.max() == 1
    turned = [x + 1 if x % 9 < 8 else x - 8 for x in range(18)] + [18, 19]
    assert [tuple(tuple(turned[x] for x in m) for m in rounds[k]) for k in range(8)] == list(
        rounds[1:]
    )


def test_couples_search():
    """Searching for couples never leaves a couple on one court, and keeps men and women apart."""
    cell = Cell(14, 3, 7, "couples", 7)
    rounds = developed(cell, 1, (7,), 1, 20)
    partners, opponents, _ = matrices(14, rounds)
    assert not (partners + opponents)[range(7), range(7, 14)].any()
    seats = np.array(rounds).reshape(-1, 2)
    assert (seats[:, 0] < 7).all()
    assert (seats[:, 1] >= 7).all()
    assert cell.is_settled_by(cell.rate(rounds))


def test_same_again():
    """The same seed gives the same schedule."""
    cell = Cell(12, 3, 5, "opponents")
    assert free(cell, 7, 200_000) == free(cell, 7, 200_000)


def test_symmetries_fill_the_rounds():
    """Base rounds times group order are the rounds, cycles make up the labels."""
    cell = Cell(28, 7, 12, "opponents")
    found = list(symmetries(cell, 12))
    assert found
    for bases, lengths in found:
        assert bases * lengths[0] == 12
        assert sum(lengths) == 28


def test_goes_on_where_it_stood(tmp_path, monkeypatch):
    """Started again, the search repeats no attempt and keeps what it has."""
    cells = [(0, Cell(8, 2, 3, "opponents")), (0, Cell(12, 3, 5, "opponents"))]
    monkeypatch.setattr(command, "agenda", lambda: iter(cells))
    monkeypatch.setattr(sys, "argv", ["search", str(tmp_path)])
    command.main()
    lines = (tmp_path / "book.jsonl").read_text().splitlines()
    assert len(lines) >= 2
    command.main()
    assert (tmp_path / "book.jsonl").read_text().splitlines() == lines
    kept = Checkpoint(tmp_path)
    assert kept.settled(cells[0][1])
    assert set(kept.best) == {cell for _, cell in cells}


def test_agenda_names_each_cell():
    """Every cell asked for is tried free and with symmetry; efforts only grow for a cell."""
    effort_of = {}
    for effort, cell in grid.agenda():
        assert effort_of.get(cell, -1) == effort - 1
        effort_of[cell] = effort
    assert len(effort_of) > 3000
    assert set(effort_of.values()) == {grid.EFFORTS - 1}
    assert next(iter(attempts(Cell(8, 2, 7, "opponents"), 0))).name == "square rounds"


def test_coverage_counts():
    """The table counts what was found and proven, and lists what is not proven."""
    proven, not_proven = Cell(8, 2, 7, "opponents"), Cell(17, 4, 8, "opponents")
    text = coverage({proven: (0, 0, 28, 84), not_proven: (0, 0, 1, 61)})
    assert "| opponents: all courts, up to 16 rounds and once through | 464 | 2 | 1 |" in text
    assert "- 17 x 4 x 8: 0, 1 (0, 0)" in text
    assert "8 x 2 x 7" not in text


@pytest.mark.parametrize("aim", ["opponents", "meetings"])
@pytest.mark.parametrize("rounds", range(2, 9))
def test_settled_on_one_court(aim, rounds):
    """Integer programming finds for five and six players what the limits say, and no less."""
    for players in (5, 6):
        assert least_repeats(players, rounds, aim) == limits.least_repeats(players, 1, rounds, aim)
