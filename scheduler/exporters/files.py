"""Writing files whole or not at all, and workbooks to the same bytes every time."""

from __future__ import annotations

import contextlib
import io
import os
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.exporters.part_files import Part, sweep, write_part

if TYPE_CHECKING:
    from openpyxl import Workbook

_CANNOT_SYNC_A_FOLDER = os.name == "nt"
_ZIP_TIME = (2000, 1, 1, 0, 0, 0)  # any fixed moment a zip entry can hold
_STAMP = b"2000-01-01T00:00:00Z"


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is at all times either the old one, or whole and new.

    Raises
    ------
    OSError
        If the folder cannot be written to or the disk is full; `filename`
        names `path`, and whatever stood there still stands.
    """
    write_together([(path, data)])


def write_together(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write several files, each whole, and none of them where one cannot be written.

    The bytes go to parts in the same folders and reach the disk; only then do
    they take the files' names, one after the other. What a killed writer left
    of its parts is swept away first. Where one
    name cannot be taken (a workbook open elsewhere, a folder of that name),
    those taken before get their old content back.

    Raises
    ------
    OSError
        If one cannot be written; `filename` names it.
    """
    folders = dict.fromkeys(path.parent for path, _ in files)
    for folder in folders:
        sweep(folder)
    staged: list[Part] = []
    taken: list[tuple[Path, bytes | None]] = []
    path = Path()
    try:
        for path, data in files:
            staged.append(write_part(path, data))
        for part in staged:
            path = part.target
            before = path.read_bytes() if path.is_file() and len(staged) > 1 else None
            part.take_name()
            taken.append((path, before))
    except OSError as error:
        _put_back(taken)
        # The user asked for `path`, and a temporary name would only puzzle.
        raise type(error)(error.errno, error.strerror, str(path)) from error
    except BaseException:
        _put_back(taken)
        raise
    finally:
        for part in staged:
            part.drop()
    for folder in folders:
        _sync_folder(folder)


def _put_back(taken: Sequence[tuple[Path, bytes | None]]) -> None:
    """Give files their old content back, as far as the system lets us."""
    for path, before in reversed(taken):
        with contextlib.suppress(OSError):
            if before is None:
                path.unlink()
                continue
            part = write_part(path, before)
            try:
                part.take_name()
            finally:
                part.drop()


def workbook_bytes(workbook: Workbook) -> bytes:
    """Return an openpyxl workbook as bytes that depend on its content alone.

    openpyxl stamps the time of saving into the document properties and the
    zip entries; both are put back to a fixed moment.
    """
    raw = io.BytesIO()
    workbook.save(raw)
    fixed = io.BytesIO()
    with zipfile.ZipFile(raw) as source, zipfile.ZipFile(fixed, "w") as target:
        for name in source.namelist():
            data = source.read(name)
            if name == "docProps/core.xml":
                data = _with_fixed_dates(data)
            entry = zipfile.ZipInfo(name, date_time=_ZIP_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(entry, data)
    return fixed.getvalue()


def _sync_folder(folder: Path) -> None:
    """Make the new name itself reach the disk, where the system can do that."""
    if _CANNOT_SYNC_A_FOLDER:
        return
    with contextlib.suppress(OSError):  # some network folders refuse; the file itself is whole
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def _with_fixed_dates(core: bytes) -> bytes:
    for tag in (b"created", b"modified"):
        opening = core.find(b"<dcterms:" + tag)
        if opening < 0:
            continue
        start = core.index(b">", opening) + 1
        end = core.index(b"</dcterms:" + tag, start)
        core = core[:start] + _STAMP + core[end:]
    return core
