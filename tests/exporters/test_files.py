"""Writing files: whole or absent, and workbooks to the same bytes."""

from __future__ import annotations

import datetime as dt
import io
import os
from pathlib import Path
from unittest import mock

import openpyxl
import pytest

if os.name != "nt":
    import fcntl

from scheduler.exporters import files
from scheduler.exporters.files import workbook_bytes, write_together, write_whole
from scheduler.exporters.part_files import SUFFIX, write_part


def test_a_file_is_written_and_replaced(tmp_path: Path) -> None:
    """The bytes arrive, replace what stood there, and nothing else is left in the folder."""
    path = tmp_path / "plan.json"
    write_whole(path, b"one")
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("step", ["os.fsync", "pathlib.Path.replace"])
def test_an_error_leaves_the_old_file_and_no_other(step: str, tmp_path: Path) -> None:
    """When the disk fills at either step, the old file stands and the error names it."""
    path = tmp_path / "plan.json"
    path.write_bytes(b"old")
    full = OSError(28, "No space left on device")
    with mock.patch(step, side_effect=full), pytest.raises(OSError, match="No space") as caught:
        write_whole(path, b"new")
    assert caught.value.filename == str(path)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_missing_folder_is_named_by_the_file_asked_for(tmp_path: Path) -> None:
    """The error names the user's path, not a temporary one."""
    path = tmp_path / "nowhere" / "plan.json"
    with pytest.raises(FileNotFoundError) as caught:
        write_whole(path, b"new")
    assert caught.value.filename == str(path)


@pytest.mark.skipif(os.name == "nt", reason="permissions of another kind")
def test_permissions_are_those_of_an_ordinary_file(tmp_path: Path) -> None:
    """A new file gets what the user's mask gives, an old one keeps its own."""
    path, plain = tmp_path / "plan.json", tmp_path / "plain"
    plain.touch()
    write_whole(path, b"new")
    assert path.stat().st_mode == plain.stat().st_mode
    path.chmod(0o640)
    write_whole(path, b"newer")
    assert path.stat().st_mode & 0o777 == 0o640


def _book(moment: dt.datetime) -> openpyxl.Workbook:
    book = openpyxl.Workbook()
    book.properties.created = moment
    book["Sheet"]["A1"] = "hello"
    return book


def test_the_same_workbook_gives_the_same_bytes() -> None:
    """Two workbooks made at different moments with one content are equal byte for byte."""
    early = workbook_bytes(_book(dt.datetime(2020, 1, 1, tzinfo=dt.UTC)))
    late = workbook_bytes(_book(dt.datetime(2030, 1, 1, tzinfo=dt.UTC)))
    assert early == late
    assert openpyxl.load_workbook(io.BytesIO(early))["Sheet"]["A1"].value == "hello"


def _litter(folder: Path) -> list[Path]:
    return sorted(folder.glob(f".*{SUFFIX}"))


def test_files_take_their_names_only_when_all_are_on_the_disk(tmp_path: Path) -> None:
    """Every file is synced before the first name is taken, and the folder after the last."""
    calls: list[str] = []
    sync, take, sync_folder = os.fsync, Path.replace, files._sync_folder
    with (
        mock.patch("os.fsync", lambda fd: (calls.append("sync"), sync(fd))),
        mock.patch.object(Path, "replace", lambda a, b: (calls.append(b.name), take(a, b))),
        mock.patch.object(files, "_sync_folder", lambda p: (calls.append(p.name), sync_folder(p))),
    ):
        write_together([(tmp_path / "one", b"1"), (tmp_path / "two", b"2")])
    syncs_a_folder = ["sync"] if os.name != "nt" else []
    assert calls == ["sync", "sync", "one", "two", tmp_path.name, *syncs_a_folder]


def test_a_file_is_replaced_and_never_written_into(tmp_path: Path) -> None:
    """Whoever has the old file open, or under a second name, has all of it still."""
    path, second = tmp_path / "plan.json", tmp_path / "second"
    path.write_bytes(b"old")
    os.link(path, second)
    with path.open("rb") as stream:
        write_whole(path, b"new")
        assert stream.read() == b"old"
    assert (path.read_bytes(), second.read_bytes()) == (b"new", b"old")


@pytest.mark.parametrize("at", [0, 1, 2])
def test_where_one_file_cannot_be_written_none_is(at: int, tmp_path: Path) -> None:
    """A folder in the way of any of them: the others get their old content or stay away."""
    names = ["old", "new", "newer"]
    (tmp_path / "old").write_bytes(b"old")
    (tmp_path / names[at]).unlink(missing_ok=True)
    (tmp_path / names[at]).mkdir()
    before = sorted(path.name for path in tmp_path.iterdir())
    with pytest.raises(IsADirectoryError) as caught:
        write_together([(tmp_path / name, b"fresh") for name in names])
    assert caught.value.filename == str(tmp_path / names[at])
    assert sorted(path.name for path in tmp_path.iterdir()) == before
    assert at == 0 or (tmp_path / "old").read_bytes() == b"old"


def test_an_interruption_between_two_files_takes_the_first_back(tmp_path: Path) -> None:
    """Ctrl-C while names are taken: all old again, nothing left over."""
    usual, calls = Path.replace, []

    def interrupted(part: Path, target: Path) -> Path:
        calls.append(target)
        if len(calls) == 2:
            raise KeyboardInterrupt
        return usual(part, target)

    for name in ("one", "two"):
        (tmp_path / name).write_bytes(b"old")
    with mock.patch.object(Path, "replace", interrupted), pytest.raises(KeyboardInterrupt):
        write_together([(tmp_path / "one", b"1"), (tmp_path / "two", b"2")])
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {
        "one": b"old",
        "two": b"old",
    }


@pytest.mark.skipif(os.name == "nt", reason="no locks that die with their holder")
def test_what_a_killed_writer_left_is_swept_away_and_nothing_else(tmp_path: Path) -> None:
    """Parts nobody holds go; one that is being written, and files of other programs, stay."""
    abandoned = tmp_path / f".plan.json.abcdefgh{SUFFIX}"
    abandoned.write_bytes(b"half")
    others = [tmp_path / name for name in (".profile", "film.part", f"note{SUFFIX}", "plan.json")]
    for path in others:
        path.write_bytes(b"mine")
    live = write_part(tmp_path / "page.html", b"new")
    write_whole(tmp_path / "plan.json", b"new")
    assert not abandoned.exists()
    assert _litter(tmp_path) == [live.path]
    assert [path.read_bytes() for path in others] == [b"mine"] * 3 + [b"new"]
    live.take_name()
    live.drop()
    assert (tmp_path / "page.html").read_bytes() == b"new"
    assert _litter(tmp_path) == []


@pytest.mark.skipif(os.name == "nt", reason="no locks that die with their holder")
def test_a_part_swept_away_before_it_was_locked_is_begun_again(tmp_path: Path) -> None:
    """Somebody sweeps between the making of a part and its lock; the file is written still."""
    usual, swept = fcntl.flock, []

    def late(handle: int, how: int) -> None:
        if not swept:
            swept.extend(_litter(tmp_path))
            swept[0].unlink()
        usual(handle, how)

    with mock.patch("fcntl.flock", late):
        write_whole(tmp_path / "plan.json", b"new")
    assert len(swept) == 1
    assert (tmp_path / "plan.json").read_bytes() == b"new"
    assert _litter(tmp_path) == []


@pytest.mark.skipif(os.name == "nt", reason="no locks that die with their holder")
def test_a_folder_without_locks_can_be_written_to(tmp_path: Path) -> None:
    """Some network folders refuse to lock: files are written, and parts there are left alone."""
    stands = tmp_path / f".plan.json.abcdefgh{SUFFIX}"
    stands.write_bytes(b"perhaps alive")
    with mock.patch("fcntl.flock", side_effect=OSError(95, "not supported")):
        write_whole(tmp_path / "plan.json", b"new")
    assert (tmp_path / "plan.json").read_bytes() == b"new"
    assert _litter(tmp_path) == [stands]


def test_a_system_without_such_locks_can_be_written_to(tmp_path: Path) -> None:
    """The lock is what is missing there, not the writing."""
    with mock.patch("scheduler.exporters.part_files.fcntl", None):
        write_whole(tmp_path / "plan.json", b"new")
    assert [(p.name, p.read_bytes()) for p in tmp_path.iterdir()] == [("plan.json", b"new")]
