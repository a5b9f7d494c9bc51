"""Running the benchmark: one fresh process a run, results appended line by line."""

from __future__ import annotations

import json
import multiprocessing
import resource
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from pathlib import Path

from scheduler.bench.instances import Instance
from scheduler.bench.judge import judge
from scheduler.bench.methods import METHODS, Work
from scheduler.rotation.best_possible import limits_of


@dataclass(frozen=True, slots=True)
class Row:
    """One run.

    Parameters
    ----------
    instance, method, seed
        What was run.
    leading
        The measure compared.
    value, bound
        That measure and its proven lower bound; no value where the method
        found nothing.
    partner_bound
        The proven lower bound of partner repeats, which come before.
    measures
        All measures shown, as the checker counts them.
    faults
        How many faults the checker finds; rests that are not fair are among them.
    seconds
        Processor time of the method alone, without loading it; one core.
    megabytes
        The most memory the process held.
    """

    instance: str
    method: str
    seed: int
    leading: str
    value: float | None
    bound: float
    partner_bound: float
    measures: dict[str, float]
    faults: int
    seconds: float
    megabytes: int

    @property
    def key(self) -> tuple[str, str, int]:
        """What tells a run from others."""
        return self.instance, self.method, self.seed


def run_one(instance: Instance, method: str, seed: int, work: Work) -> Row:
    """Run a method on an instance and have the checker judge what it made."""
    event = instance.event()
    started = time.process_time()
    rounds = METHODS[method].run(event, seed, work)
    seconds = time.process_time() - started
    judged = judge(event, rounds) if rounds is not None else None
    limits = limits_of(event)
    return Row(
        instance=instance.name,
        method=method,
        seed=seed,
        leading=instance.leading,
        value=judged.measures[instance.leading] if judged else None,
        bound=limits[instance.leading],
        partner_bound=limits["partner_repeats"],
        measures=judged.measures if judged else {},
        faults=len(judged.faults) if judged else 0,
        seconds=round(seconds, 2),
        megabytes=resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024,
    )


def run_all(
    instances: Iterable[Instance],
    methods: Iterable[str],
    seeds: Iterable[int],
    work: Work,
    done: set[tuple[str, str, int]],
) -> Iterator[Row]:
    """Yield a row for every run that is not done yet, each in a process of its own."""
    methods, seeds = tuple(methods), tuple(seeds)
    alone = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=alone, max_tasks_per_child=1) as worker:
        for instance in instances:
            for method in methods:
                for seed in seeds if METHODS[method].seeded else seeds[:1]:
                    if (instance.name, method, seed) not in done:
                        yield worker.submit(run_one, instance, method, seed, work).result()


def append(path: Path, rows: Iterable[Row], told: Callable[[Row], None]) -> None:
    """Append rows to a file as they come, so that a run can be broken off and taken up."""
    with path.open("a", encoding="utf-8") as file:
        for row in rows:
            file.write(json.dumps(asdict(row)) + "\n")
            file.flush()
            told(row)


def read_rows(path: Path) -> list[Row]:
    """Return the rows of a file, none where there is no file yet."""
    if not path.exists():
        return []
    lines = path.read_text(encoding="utf-8").splitlines()
    return [Row(**json.loads(line)) for line in lines if line.strip()]


def tell(row: Row) -> None:
    """Say in a line on stderr what came of a run."""
    value = "nothing" if row.value is None else f"{row.value:g}"
    text = f"{row.instance}, {row.method}, seed {row.seed}: {value} (bound {row.bound:g})"
    sys.stderr.write(f"{text}, {row.seconds} s\n")
