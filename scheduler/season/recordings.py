"""The log of what was written into a season, one row a command."""

from __future__ import annotations

import sqlite3

from scheduler import __version__


def begin_recording(connection: sqlite3.Connection, kind: str, source: str) -> int:
    """Add a row to the log and return its number; every row written names it."""
    added = connection.execute(
        "INSERT INTO recordings (kind, source, program) VALUES (?, ?, ?)",
        (kind, source, __version__),
    )
    return int(added.lastrowid or 0)
