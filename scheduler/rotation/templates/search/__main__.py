"""Search for the book of templates: ``python -m scheduler.rotation.templates.search DIR``.

Works through the cells, most wanted first, with growing effort, and writes
every improvement to ``DIR/book.jsonl`` at once; started again it goes on
where it stood. A cell is left alone once it stands at its bounds.
"""

from __future__ import annotations

import argparse
import sys
import zlib
from pathlib import Path

from scheduler.rotation.templates.search.checkpoint import Checkpoint
from scheduler.rotation.templates.search.grid import agenda
from scheduler.rotation.templates.search.strategies import attempts


def main() -> None:
    """Run the search until stopped or done."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("directory", type=Path)
    checkpoint = Checkpoint(parser.parse_args().directory)
    for effort, cell in agenda():
        for attempt in attempts(cell, effort):
            if checkpoint.settled(cell):
                break
            if (cell, attempt.name) in checkpoint.tried:
                continue
            seed = zlib.crc32(f"{cell} {attempt.name}".encode())
            if checkpoint.add(cell, attempt.run(cell, seed), attempt.name):
                sys.stdout.write(
                    f"{cell} {attempt.name}: {checkpoint.best[cell][0]} limits {cell.limits}\n"
                )
                sys.stdout.flush()


if __name__ == "__main__":
    main()
