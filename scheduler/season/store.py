"""Opening a season file: made or migrated where needed, never corrupted, never half written.

Every write is one transaction in write-ahead logging mode and reaches the
disk before it is reported, so a process killed at any moment leaves the file
as it was before or as it is after. Of two writers one waits for the other.
"""

from __future__ import annotations

import contextlib
import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path

from scheduler.domain.errors import BadInput
from scheduler.season.schema import APPLICATION_ID, MIGRATIONS, VERSION

_PATIENCE = 60.0  # seconds to wait for another writer
_PAUSE = 0.05
_NOT_OURS = "is not a season file of this program"


@contextlib.contextmanager
def reading(path: Path) -> Iterator[sqlite3.Connection]:
    """Give a connection for reading; all that is read belongs to one moment.

    Raises
    ------
    BadInput
        If there is no such file, it is no season, or it cannot be read.
    """
    with _faults_named(path), _opened(path, create=False) as connection:
        connection.execute("BEGIN")
        try:
            yield connection
        finally:
            connection.rollback()


@contextlib.contextmanager
def writing(path: Path, *, create: bool = False) -> Iterator[sqlite3.Connection]:
    """Give a connection for one whole transaction; any error takes all of it back.

    Parameters
    ----------
    path
        The season file.
    create
        Whether to start a new season where there is no file.

    Raises
    ------
    BadInput
        If the file is missing and may not be made, is no season, or cannot be written.
    """
    with _faults_named(path), _opened(path, create=create) as connection:
        connection.execute("BEGIN IMMEDIATE")
        try:
            yield connection
        except BaseException:
            connection.rollback()
            raise
        connection.commit()


@contextlib.contextmanager
def in_memory() -> Iterator[sqlite3.Connection]:
    """Give an empty season that leaves no file, to try a recording on."""
    with contextlib.closing(connect(":memory:")) as connection:
        migrate(connection)
        yield connection


def migrate(connection: sqlite3.Connection, to: int = VERSION) -> None:
    """Bring the tables to a version, by default the present one, in one transaction."""
    if _version(connection) >= to:
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        # Another process may have done it while this one waited.
        for statements in MIGRATIONS[_version(connection) : to]:
            for statement in statements:
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {max(to, _version(connection))}")
    except BaseException:
        connection.rollback()
        raise
    connection.commit()


@contextlib.contextmanager
def _opened(path: Path, *, create: bool) -> Iterator[sqlite3.Connection]:
    if path.is_dir():
        raise BadInput.one(str(path), "is a folder, not a season file")
    if not create and not path.exists():
        raise BadInput.one(str(path), "there is no such season file; rota scores starts one")
    with contextlib.closing(connect(str(path))) as connection:
        _refuse_others(connection, path)
        _use_write_ahead_log(connection)
        migrate(connection)
        yield connection


def connect(name: str) -> sqlite3.Connection:
    """Return a connection that keeps references and reaches the disk, without transactions."""
    connection = sqlite3.connect(name, timeout=_PATIENCE, isolation_level=None)
    connection.row_factory = sqlite3.Row
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA synchronous = FULL")
    return connection


def _version(connection: sqlite3.Connection) -> int:
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def _refuse_others(connection: sqlite3.Connection, path: Path) -> None:
    """Refuse a database of another program, and one of a later version of this."""
    owner = int(connection.execute("PRAGMA application_id").fetchone()[0])
    tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if owner != APPLICATION_ID and (owner or tables):
        raise BadInput.one(path.name, _NOT_OURS)
    version = _version(connection)
    if version > VERSION:
        what = f"was written by a later version of this program (format {version}, known {VERSION})"
        raise BadInput.one(path.name, what)


def _use_write_ahead_log(connection: sqlite3.Connection) -> None:
    """Switch to write-ahead logging; only one process at a time can do that, so try again."""
    until = time.monotonic() + _PATIENCE
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            if "locked" not in str(error) or time.monotonic() > until:
                raise
            time.sleep(_PAUSE)
        else:
            return


@contextlib.contextmanager
def _faults_named(path: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.OperationalError as error:
        busy = "locked" in str(error)
        what = "is being written by another program; try again" if busy else _words(error)
        raise BadInput.one(path.name, what) from error
    except sqlite3.DatabaseError as error:
        what = _NOT_OURS if "not a database" in str(error) else _words(error)
        raise BadInput.one(path.name, what) from error


def _words(error: sqlite3.Error) -> str:
    return f"cannot be used as a season file: {error}"
