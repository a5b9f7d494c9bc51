"""Write the season file of the present format as an SQL dump into ``released``; never over one."""

from __future__ import annotations

import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from season_plans import plan_of, scores_for

from scheduler.season.recording import record
from scheduler.season.schema import APPLICATION_ID, VERSION


def main() -> None:
    """Write the dump."""
    plan = plan_of(1)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "season.db"
        record(path, plan, scores_for(plan), source="evening.xlsx")
        with closing(sqlite3.connect(path)) as connection:
            lines = [*connection.iterdump()]
    lines += [f"PRAGMA application_id = {APPLICATION_ID};", f"PRAGMA user_version = {VERSION};"]
    target = Path(__file__).parent / "released" / f"season_v{VERSION}.sql"
    with target.open("x", encoding="utf-8") as stream:
        stream.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
