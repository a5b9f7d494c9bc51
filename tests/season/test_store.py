"""The season file itself: whole whatever happens, of every version, and only ours."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from killed_child import forks
from killed_season import check_whole, kill_writers, record_side_by_side
from season_plans import everything, plan_of, rows, scores_for

from scheduler.domain.errors import BadInput
from scheduler.season import schema, store
from scheduler.season.recording import record
from scheduler.season.results import results_of
from scheduler.season.store import reading, writing

RELEASED = Path(__file__).parent / "released"
KILLS = int(os.environ.get("ROTA_KILLS", "40"))


@forks
def test_a_killed_writer_leaves_an_evening_whole_or_not_at_all(tmp_path: Path) -> None:
    """SIGKILL at random moments, the making of the file included; 500 with ``ROTA_KILLS=500``."""
    assert kill_writers(tmp_path, KILLS) > 0


@forks
def test_two_processes_at_once_record_every_score_once(tmp_path: Path) -> None:
    """Both make the file, the evening and one match; 50 times by hand, fewer here."""
    record_side_by_side(tmp_path, 8)


@pytest.mark.parametrize("version", range(1, schema.VERSION + 1))
def test_every_released_version_is_brought_up_to_date(tmp_path: Path, version: int) -> None:
    """A file as that version left it (an SQL dump) opens with its scores and goes on."""
    path = tmp_path / "old.db"
    with closing(sqlite3.connect(path)) as connection:
        script = (RELEASED / f"season_v{version}.sql").read_text(encoding="utf-8")
        connection.executescript(script)
    plan = plan_of(1)
    found = {match.key: match.sets for match in results_of(path).matches}
    assert found == {score.match: score.sets for score in scores_for(plan)}
    assert rows(path, "PRAGMA user_version") == [(schema.VERSION,)]
    assert record(path, plan, scores_for(plan)).unchanged == 6
    record(path, plan_of(2), scores_for(plan_of(2)))
    assert check_whole(path) == 2


def test_a_migration_that_fails_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All statements of a new version or none; the old version still opens."""
    path = tmp_path / "season.db"
    record(path, plan_of())
    before = everything(path)
    broken = ("CREATE TABLE later (id INTEGER)", "CREATE TABLE people (id INTEGER)")
    monkeypatch.setattr(store, "MIGRATIONS", (*schema.MIGRATIONS, broken))
    monkeypatch.setattr(store, "VERSION", schema.VERSION + 1)
    with closing(store.connect(str(path))) as connection, pytest.raises(sqlite3.OperationalError):
        store.migrate(connection, schema.VERSION + 1)
    assert everything(path) == before
    monkeypatch.undo()
    assert len(results_of(path).evenings) == 1


def test_a_migration_that_succeeds_keeps_every_row(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The machinery for the next version, with a made-up one."""
    path = tmp_path / "season.db"
    record(path, plan_of(), scores_for(plan_of()))
    before = everything(path)
    more = ("CREATE TABLE weather (id INTEGER PRIMARY KEY, words TEXT)",)
    monkeypatch.setattr(store, "MIGRATIONS", (*schema.MIGRATIONS, more))
    with closing(store.connect(str(path))) as connection:
        store.migrate(connection, schema.VERSION + 1)
    assert everything(path) == {**before, "weather": []}
    assert rows(path, "PRAGMA user_version") == [(schema.VERSION + 1,)]
    monkeypatch.undo()
    with pytest.raises(BadInput, match="later version"), reading(path):
        pass


def test_files_that_are_no_season_are_refused_and_left_alone(tmp_path: Path) -> None:
    """Text, another program's database, a folder, nothing at all."""
    text = tmp_path / "notes.db"
    text.write_text("not a database, but longer than a header of one would be" * 4)
    other = tmp_path / "other.db"
    with closing(sqlite3.connect(other)) as connection:
        connection.execute("CREATE TABLE stamps (id INTEGER)")
    for path in (text, other):
        before = path.read_bytes()
        with pytest.raises(BadInput, match="is not a season file"):
            record(path, plan_of())
        assert path.read_bytes() == before
    with pytest.raises(BadInput, match="folder"), writing(tmp_path):
        pass
    with pytest.raises(BadInput, match="no such season"), reading(tmp_path / "none.db"):
        pass
    assert sorted(p.name for p in tmp_path.iterdir()) == ["notes.db", "other.db"]


def test_one_file_is_left_when_nobody_has_it_open(tmp_path: Path) -> None:
    """The write-ahead log is folded back, so the file can be copied."""
    record(tmp_path / "season.db", plan_of(), scores_for(plan_of()))
    results_of(tmp_path / "season.db")
    assert [p.name for p in tmp_path.iterdir()] == ["season.db"]


def test_an_error_inside_takes_the_whole_transaction_back(tmp_path: Path) -> None:
    """Whatever was written before it."""
    path = tmp_path / "season.db"
    record(path, plan_of())
    before = everything(path)

    def write_and_fail() -> None:
        with writing(path) as connection:
            connection.execute("INSERT INTO recordings (kind, source, program) VALUES ('', '', '')")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_and_fail()
    assert everything(path) == before
