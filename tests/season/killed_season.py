"""Season files whose writers are killed (SIGKILL) or run side by side; needs a system that forks.

By hand, for the numbers that are promised:
``PYTHONPATH=tests python tests/season/killed_season.py 500 50``.
"""

from __future__ import annotations

import os
import random
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from functools import partial
from pathlib import Path

from killed_child import killed_child
from season_plans import plan_of, rows, scores_for

from scheduler.season.recording import record
from scheduler.season.results import results_of

MATCHES = 6  # of every evening here


def kill_writers(folder: Path, kills: int, seed: int = 1) -> int:
    """Record evenings in a child that is killed at random, again and again.

    After every kill the file must be sound, hold every evening the child
    said was done, at most one more, and each of them whole. Every tenth time
    a new file is begun, so that its making is interrupted as well.

    Returns
    -------
    int
        How many kills came while an evening was being written.
    """
    rng = random.Random(seed)
    within = evening = 0
    path = folder / "season 0.db"
    for kill in range(kills):
        if kill % 10 == 0:
            path, evening = folder / f"season {kill}.db", 0
        said = evening + killed_child(
            partial(_record_for_ever, path, evening), rng.uniform(0, 0.12)
        )
        there = check_whole(path)
        assert said <= there <= said + 1, f"{said} evenings were done, {there} are there"
        within += there == said
        evening = there
    return within


def _record_for_ever(path: Path, first: int, done: Callable[[], None]) -> None:
    """Record evenings from one on."""
    done()
    for number in range(first, first + 1000):
        plan = plan_of(number)
        record(path, plan, scores_for(plan), source=f"evening {number}.xlsx")
        done()


def check_whole(path: Path) -> int:
    """Return how many evenings a file holds, after checking that it is sound and each is whole."""
    if not path.exists():
        return 0
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'plans'").fetchone():
            return 0
    whole = rows(
        path,
        "SELECT p.id, (SELECT count(*) FROM matches WHERE plan = p.id), "
        "(SELECT count(*) FROM scores WHERE plan = p.id), "
        "(SELECT count(*) FROM presence WHERE plan = p.id), "
        "(SELECT count(*) FROM figures WHERE plan = p.id) FROM plans p",
    )
    assert all(row[1:] == (MATCHES, MATCHES, 10, 5) for row in whole), whole
    assert len(rows(path, "SELECT id FROM evenings")) == len(whole)
    return len(whole)


def record_side_by_side(folder: Path, times: int) -> None:
    """Let two processes record a new evening at once, each its part, one match in both."""
    for number in range(times):
        path = folder / f"both {number}.db"
        plan = plan_of(number)
        typed = scores_for(plan)
        parts = (typed[:4], typed[3:])
        children = [_forked_record(path, number, part) for part in (0, 1)]
        for child in children:
            assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
        assert sum(map(len, parts)) == MATCHES + 1
        assert check_whole(path) == 1
        found = {match.key: match.sets for match in results_of(path).matches}
        assert found == {score.match: score.sets for score in typed}
        assert rows(path, "SELECT count(*) FROM scores WHERE corrects IS NOT NULL") == [(0,)]


def _forked_record(path: Path, number: int, part: int) -> int:
    child = os.fork()
    if child:
        return child
    code = 1
    try:
        plan = plan_of(number)
        typed = scores_for(plan)
        record(path, plan, typed[:4] if part == 0 else typed[3:], source=f"phone {part}")
        code = 0
    finally:
        os._exit(code)


def main() -> None:
    """Do it as often as asked and say what came of it."""
    kills, times = (int(word) for word in (*sys.argv[1:], "500", "50")[:2])
    with tempfile.TemporaryDirectory() as folder:
        began = time.monotonic()
        within = kill_writers(Path(folder), kills)
        sys.stdout.write(
            f"{kills} kills, {within} before the evening under way was in, every file sound "
            f"({time.monotonic() - began:.0f} s)\n"
        )
        record_side_by_side(Path(folder), times)
        sys.stdout.write(f"{times} times two at once: every score there once\n")


if __name__ == "__main__":
    main()
