"""Writing files: whole or absent, and workbooks to the same bytes."""

from __future__ import annotations

import datetime as dt
import io
import os
from pathlib import Path
from unittest import mock

import openpyxl
import pytest

from scheduler.exporters.files import workbook_bytes, write_whole


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
