"""``python -m scheduler.bench``: run a suite, or lay out what was run."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from itertools import islice
from pathlib import Path

from scheduler.bench.instances import SUITES
from scheduler.bench.methods import METHODS, Work
from scheduler.bench.run import append, read_rows, run_all, tell
from scheduler.bench.table import markdown, summary


def main(arguments: Sequence[str] | None = None) -> None:
    """Run what the command line asks for, then print the table of all that was run."""
    asked = _parser().parse_args(arguments)
    known = {row.key for row in read_rows(asked.rows)}
    if not asked.only_table:
        part, parts = asked.part
        instances = islice(SUITES[asked.suite](), part - 1, None, parts)
        work = Work(asked.effort, asked.moves, asked.draws, asked.units)
        append(asked.rows, run_all(instances, asked.methods, asked.seeds, work, known), tell)
    rows = read_rows(asked.rows)
    sys.stdout.write(summary(rows) + "\n" + markdown(rows))
    if asked.picture or asked.growth:
        from scheduler.bench import picture  # noqa: PLC0415  matplotlib is an extra

        if asked.picture:
            picture.gap_picture(rows, asked.picture)
        if asked.growth:
            picture.growth_picture(rows, asked.growth)


def _parser() -> argparse.ArgumentParser:
    usual = Work()
    parser = argparse.ArgumentParser(prog="python -m scheduler.bench", description=__doc__)
    add = parser.add_argument
    add("--suite", choices=SUITES, default="readme", help="which evenings")
    add(
        "--methods",
        type=_methods,
        default=tuple(METHODS),
        help="with commas: " + ", ".join(METHODS),
    )
    add("--seeds", type=_seeds, default=(1,), help="such as 1-8 or 1,5")
    add("--rows", type=Path, default=Path("bench.jsonl"), help="file the runs are added to")
    add(
        "--part", type=_part, default=(1, 1), help="such as 2/4: every fourth evening, from the 2nd"
    )
    add("--effort", default=usual.effort, choices=("quick", "normal", "thorough"), help="ours")
    add("--moves", type=int, default=usual.moves, help="of the plain annealer")
    add("--draws", type=int, default=usual.draws, help="of the lot")
    add("--units", type=float, default=usual.units, help="deterministic time of the textbook model")
    add("--only-table", action="store_true", help="run nothing, lay out the rows there are")
    add("--picture", type=Path, help="draw the distances to the bound into a PNG file")
    add("--growth", type=Path, help="draw how time grows with players into a PNG file")
    return parser


def _methods(text: str) -> tuple[str, ...]:
    names = tuple(name.strip() for name in text.split(","))
    unknown = [name for name in names if name not in METHODS]
    if unknown:
        raise argparse.ArgumentTypeError(f"no method called {', '.join(unknown)}")
    return names


def _seeds(text: str) -> tuple[int, ...]:
    seeds: list[int] = []
    for word in text.split(","):
        first, _, last = word.partition("-")
        seeds += range(int(first), int(last or first) + 1)
    return tuple(seeds)


def _part(text: str) -> tuple[int, int]:
    part, parts = (int(word) for word in text.split("/"))
    if not 1 <= part <= parts:
        raise argparse.ArgumentTypeError(f"{text} is no part: write such as 2/4")
    return part, parts


if __name__ == "__main__":
    main()
