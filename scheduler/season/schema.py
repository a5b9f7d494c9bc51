"""The tables of a season file, as each released version of the program made them.

`MIGRATIONS[n]` takes a file of version n to version n + 1, statement by
statement; version 0 is an empty file. A released migration is never changed:
what is new goes into the next one.
"""

from __future__ import annotations

APPLICATION_ID = 0x726F7461  # "rota" in ASCII, kept in the file's header

_TABLES = {
    # One row a command that wrote something: what it was and which file it read.
    "recordings": """
        id INTEGER PRIMARY KEY,
        kind TEXT NOT NULL,
        source TEXT NOT NULL,
        program TEXT NOT NULL
    """,
    "people": """
        id INTEGER PRIMARY KEY,
        recording INTEGER NOT NULL REFERENCES recordings
    """,
    # Every spelling of everybody; the last one shown is the person's name.
    "spellings": """
        id INTEGER PRIMARY KEY,
        person INTEGER NOT NULL REFERENCES people,
        name TEXT NOT NULL CHECK (name <> ''),
        shown INTEGER NOT NULL CHECK (shown IN (0, 1)),
        recording INTEGER NOT NULL REFERENCES recordings
    """,
    "merges": """
        id INTEGER PRIMARY KEY,
        person INTEGER NOT NULL UNIQUE REFERENCES people,
        into_person INTEGER NOT NULL REFERENCES people,
        recording INTEGER NOT NULL REFERENCES recordings,
        CHECK (person <> into_person)
    """,
    "short_names": """
        id INTEGER PRIMARY KEY,
        person INTEGER NOT NULL REFERENCES people,
        name TEXT NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    """,
    "settings": """
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL,
        value TEXT NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    """,
    "evenings": """
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL,
        date TEXT NOT NULL,
        start INTEGER NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    """,
    # The last plan of an evening is the one that counts; the document is plan.json in full.
    "plans": """
        id INTEGER PRIMARY KEY,
        evening INTEGER NOT NULL REFERENCES evenings,
        plan_id TEXT NOT NULL,
        revision INTEGER NOT NULL,
        set_format TEXT NOT NULL,
        document TEXT NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    """,
    # Who was on the list, with the organiser's level that evening: the levels over time.
    "presence": """
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        position INTEGER NOT NULL,
        person INTEGER NOT NULL REFERENCES people,
        name TEXT NOT NULL,
        level REAL NOT NULL,
        level_given INTEGER NOT NULL CHECK (level_given IN (0, 1)),
        rounds INTEGER NOT NULL,
        rests INTEGER NOT NULL,
        fair_rests REAL NOT NULL,
        matches INTEGER NOT NULL,
        first_serves INTEGER NOT NULL,
        UNIQUE (plan, position),
        UNIQUE (plan, person)
    """,
    "meetings": """
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        person INTEGER NOT NULL REFERENCES people,
        other INTEGER NOT NULL REFERENCES people,
        partners INTEGER NOT NULL CHECK (partners >= 0),
        opponents INTEGER NOT NULL CHECK (opponents >= 0),
        drills INTEGER NOT NULL CHECK (drills >= 0),
        UNIQUE (plan, person, other),
        CHECK (person < other)
    """,
    "visits": """
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        person INTEGER NOT NULL REFERENCES people,
        court TEXT NOT NULL,
        times INTEGER NOT NULL CHECK (times > 0),
        at_station INTEGER NOT NULL CHECK (at_station >= 0),
        UNIQUE (plan, person, court)
    """,
    # Figures of a whole evening that the season adds up.
    "figures": """
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        name TEXT NOT NULL,
        value REAL NOT NULL,
        UNIQUE (plan, name)
    """,
    "matches": """
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        key TEXT NOT NULL,
        round INTEGER NOT NULL,
        court TEXT NOT NULL,
        a1 INTEGER NOT NULL REFERENCES people,
        a2 INTEGER NOT NULL REFERENCES people,
        b1 INTEGER NOT NULL REFERENCES people,
        b2 INTEGER NOT NULL REFERENCES people,
        UNIQUE (plan, key)
    """,
    # The last row of a match counts. `sets` and `mark` are empty where a score was taken back.
    "scores": """
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL,
        key TEXT NOT NULL,
        sets TEXT NOT NULL,
        mark TEXT NOT NULL,
        place TEXT NOT NULL,
        corrects INTEGER UNIQUE REFERENCES scores,
        recording INTEGER NOT NULL REFERENCES recordings,
        FOREIGN KEY (plan, key) REFERENCES matches (plan, key)
    """,
    # How long a court really took, by somebody's watch.
    "lengths": """
        id INTEGER PRIMARY KEY,
        set_format TEXT NOT NULL,
        game_format TEXT NOT NULL,
        minutes REAL NOT NULL CHECK (minutes > 0),
        recording INTEGER NOT NULL REFERENCES recordings
    """,
}

TABLES = tuple(_TABLES)


def _never_changed(table: str) -> tuple[str, ...]:
    """Return the statements by which the database refuses to change a table's rows."""
    return tuple(
        f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
        for verb in ("UPDATE", "DELETE")
    )


_VERSION_1 = (
    *(f"CREATE TABLE {table} ({columns})" for table, columns in _TABLES.items()),
    *(statement for table in _TABLES for statement in _never_changed(table)),
    "CREATE INDEX plans_by_evening ON plans (evening)",
    "CREATE UNIQUE INDEX scores_typed_first ON scores (plan, key) WHERE corrects IS NULL",
)

MIGRATIONS: tuple[tuple[str, ...], ...] = (_VERSION_1,)
VERSION = len(MIGRATIONS)
