"""What the search has found and tried so far, kept in a file that only grows."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from scheduler.rotation.templates.recount import Rounds
from scheduler.rotation.templates.search.cell import Cell, Rating


class Checkpoint:
    """The best schedule of each cell and the attempts made, in ``DIR/book.jsonl``."""

    def __init__(self, directory: Path) -> None:
        directory.mkdir(parents=True, exist_ok=True)
        self.path = directory / "book.jsonl"
        self.best: dict[Cell, tuple[Rating, Rounds, str]] = {}
        self.tried: set[tuple[Cell, str]] = set()
        if self.path.exists():
            for line in self.path.read_text(encoding="utf-8").splitlines():
                self._read(json.loads(line))

    def _read(self, entry: dict[str, Any]) -> None:
        cell, how = Cell(*entry["cell"]), entry["how"]
        self.tried.add((cell, how))
        if "rounds" in entry:
            rounds = tuple(
                tuple((m[0], m[1], m[2], m[3]) for m in played) for played in entry["rounds"]
            )
            self._keep(cell, rounds, how)

    def _keep(self, cell: Cell, rounds: Rounds, how: str) -> bool:
        found = cell.rate(rounds)
        now = self.best.get(cell)
        if now is not None and now[0] <= found:
            return False
        self.best[cell] = found, rounds, how
        return True

    def settled(self, cell: Cell) -> bool:
        """Return whether a cell stands at its bounds."""
        return cell in self.best and cell.is_settled_by(self.best[cell][0])

    def add(self, cell: Cell, rounds: Rounds | None, how: str) -> bool:
        """Write down an attempt, and its schedule where it is the best so far."""
        better = rounds is not None and self._keep(cell, rounds, how)
        self.tried.add((cell, how))
        size = [cell.players, cell.courts, cell.rounds, cell.aim, cell.first]
        entry: dict[str, Any] = {"cell": size, "how": how}
        if better:
            entry["rounds"] = rounds
        with self.path.open("a", encoding="utf-8") as file:
            file.write(json.dumps(entry, separators=(",", ":")) + "\n")
        return better
