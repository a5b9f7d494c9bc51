"""A season as plain tables and back, without losing a row.

Plan documents are too long for the cells of a spreadsheet and would suffer
from its ways with special letters, so each travels packed (zlib, base64) in
parts that fit a cell.
"""

from __future__ import annotations

import base64
import binascii
import itertools
import math
import sqlite3
import zlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import closing
from pathlib import Path

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.domain.score_text import Mark, read_sets
from scheduler.domain.tables import Table, Value
from scheduler.season.schema import TABLES, VERSION
from scheduler.season.store import connect, migrate, reading

PREFIX = "data "  # sets these sheets apart from those for people to read
CONTENTS = f"{PREFIX}contents"
DOCUMENTS = f"{PREFIX}plan documents"
TITLES = (CONTENTS, *(PREFIX + table for table in TABLES), DOCUMENTS)
_PART = 30_000  # characters; a cell of a spreadsheet holds 32767
_COUNTED = ("table", "rows")
_MEANINGS: dict[tuple[str, str], Callable[[str], object]] = {
    ("plans", "set_format"): SetFormat,
    ("scores", "sets"): read_sets,
    ("scores", "mark"): Mark,
    ("lengths", "set_format"): SetFormat,
    ("lengths", "game_format"): GameFormat,
}
"""What reads the words of a column; each raises ValueError for any others."""
_PARTED = ("plan", "part", "text")


def export_tables(path: Path) -> tuple[Table, ...]:
    """Return the whole season as tables; the first one says what is in the others.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    with reading(path) as connection:
        tables = [_table(connection, name) for name in TABLES]
        documents = _documents(connection)
    counted = tuple((table.title, len(table.rows)) for table in [*tables, documents])
    contents = Table(CONTENTS, _COUNTED, (("format", VERSION), *counted))
    return (contents, *tables, documents)


def import_tables(tables: Sequence[Table], path: Path, source: str) -> None:
    """Make a season file from tables that were exported.

    The file is made under another name and takes its own only when whole.

    Parameters
    ----------
    tables
        All tables of an export, in any order.
    path
        The file to make; there must be none yet.
    source
        Where the tables come from, for messages.

    Raises
    ------
    BadInput
        If there is a file already, or the tables are not a whole season.
    """
    if path.exists():
        what = "is there already; import makes a new season, so name another file"
        raise BadInput.one(str(path), what)
    by_title = {table.title: table for table in tables}
    version = _check(by_title, source)
    temporary = path.with_name(f".{path.name}.part")
    temporary.unlink(missing_ok=True)
    try:
        with closing(connect(str(temporary))) as connection:
            migrate(connection, to=version)
            _fill(connection, by_title, source)
            migrate(connection)
        temporary.rename(path)
    finally:
        temporary.unlink(missing_ok=True)


def _table(connection: sqlite3.Connection, name: str) -> Table:
    columns = [column for column in _columns(connection, name) if column != "document"]
    rows = connection.execute(f"SELECT {', '.join(columns)} FROM {name} ORDER BY id").fetchall()  # noqa: S608  our own names
    return Table(PREFIX + name, tuple(columns), tuple(tuple(row) for row in rows))


def _columns(connection: sqlite3.Connection, name: str) -> list[str]:
    return [row["name"] for row in connection.execute(f"PRAGMA table_info({name})")]


def _documents(connection: sqlite3.Connection) -> Table:
    rows: list[tuple[Value, ...]] = []
    for row in connection.execute("SELECT id, document FROM plans ORDER BY id"):
        packed = base64.b64encode(zlib.compress(row["document"].encode("utf-8", "surrogatepass")))
        text = packed.decode("ascii")
        for part, start in enumerate(range(0, len(text), _PART), start=1):
            rows.append((row["id"], part, text[start : start + _PART]))
    return Table(DOCUMENTS, _PARTED, tuple(rows))


def _check(tables: Mapping[str, Table], source: str) -> int:
    """Return the format the tables were written in, or raise what is missing."""
    contents = tables.get(CONTENTS)
    if contents is None:
        raise BadInput.one(source, f"has no sheet '{CONTENTS}', so it is no exported season")
    counts = {str(row[0]): row[1] for row in contents.rows if len(row) == len(_COUNTED)}
    version = counts.pop("format", None)
    if not isinstance(version, int) or not 1 <= version <= VERSION:
        raise BadInput.one(CONTENTS, f"format must be from 1 to {VERSION}, got {version}")
    faults = []
    for title, count in counts.items():
        there = len(tables[title].rows) if title in tables else 0
        if there != count:
            what = f"must have {count} rows, as '{CONTENTS}' says, but has {there}"
            faults.append(Fault(title, what))
    if faults:
        raise BadInput(faults)
    return version


def _fill(connection: sqlite3.Connection, tables: Mapping[str, Table], source: str) -> None:
    documents = _unpacked(tables[DOCUMENTS]) if DOCUMENTS in tables else {}
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute("BEGIN")
    existing = [
        row["name"]
        for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    ]
    faults: list[Fault] = []
    for name in existing:
        if PREFIX + name not in tables:
            faults.append(Fault(source, f"has no sheet '{PREFIX}{name}'"))
            continue
        faults.extend(_insert(connection, name, tables[PREFIX + name], documents))
    for row in connection.execute("PRAGMA foreign_key_check"):
        what = f"row {row['rowid']} names a row of '{row['parent']}' that is not there"
        faults.append(Fault(PREFIX + str(row["table"]), what))
    if faults:
        connection.rollback()
        raise BadInput(faults)
    connection.commit()
    connection.execute("PRAGMA foreign_keys = ON")


def _insert(
    connection: sqlite3.Connection, name: str, table: Table, documents: Mapping[int, str]
) -> Iterable[Fault]:
    found = connection.execute(f"PRAGMA table_info({name})").fetchall()
    types = {row["name"]: row["type"] for row in found if row["name"] != "document"}
    if set(table.columns) != set(types):
        columns = ", ".join(sorted(types))
        return [Fault(table.title, f"must have the columns {columns}")]
    faults = []
    for number, row in enumerate(table.rows, start=2):
        values = {
            column: "" if value is None and types[column] == "TEXT" else value
            for column, value in zip(table.columns, row, strict=True)
        }
        try:
            for column, value in values.items():
                _check_value(name, column, types[column], value)
            if name == "plans":
                values["document"] = documents.get(int(str(values["id"])))
            connection.execute(
                f"INSERT INTO {name} ({', '.join(values)}) "  # noqa: S608  checked above
                f"VALUES ({', '.join('?' for _ in values)})",
                tuple(values.values()),
            )
        except (sqlite3.Error, ValueError, OverflowError) as error:
            faults.append(Fault(f"{table.title} row {number}", f"cannot be taken: {error}"))
    return faults


def _check_value(table: str, column: str, kind: str, value: Value) -> None:
    """Raise ValueError where a column holds something that could not be read again."""
    if kind in {"INTEGER", "REAL"} and value is not None:
        number = float(value) if isinstance(value, int | float) else math.nan
        if not math.isfinite(number) or (kind == "INTEGER" and number % 1):
            what = "a whole number" if kind == "INTEGER" else "a number"
            raise ValueError(f'{column} must be {what}, got "{value}"')
    read = _MEANINGS.get((table, column))
    if read is not None and value:
        read(str(value))


def _unpacked(table: Table) -> dict[int, str]:
    rows = sorted(_parts(table))
    documents = {}
    for plan, parts in itertools.groupby(rows, key=lambda row: row[0]):
        text = "".join(part[2] for part in parts)
        try:
            packed = zlib.decompress(base64.b64decode(text, validate=True))
            documents[plan] = packed.decode("utf-8", "surrogatepass")
        except (binascii.Error, zlib.error, ValueError) as error:
            raise BadInput.one(DOCUMENTS, f"plan {plan} is damaged: {error}") from None
    return documents


def _parts(table: Table) -> list[tuple[int, int, str]]:
    """Return every part of a plan document with the number of its plan and its own."""
    if table.columns != _PARTED:
        raise BadInput.one(table.title, f"must have the columns {', '.join(_PARTED)}")
    parts, faults = [], []
    for number, (plan, part, text) in enumerate(table.rows, start=2):
        try:
            parts.append((int(str(plan)), int(str(part)), str(text)))
        except ValueError:
            faults.append(Fault(f"{table.title} row {number}", "plan and part must be numbers"))
    if faults:
        raise BadInput(faults)
    return parts
