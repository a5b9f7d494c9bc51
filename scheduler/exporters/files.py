"""Writing files whole or not at all, and workbooks to the same bytes every time."""

from __future__ import annotations

import contextlib
import io
import os
import tempfile
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from openpyxl import Workbook

_CANNOT_SYNC_A_FOLDER = os.name == "nt"
_ZIP_TIME = (2000, 1, 1, 0, 0, 0)  # any fixed moment a zip entry can hold
_STAMP = b"2000-01-01T00:00:00Z"
_NEW_FILE_MODE = 0o666


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is at all times either the old one, or whole and new.

    The bytes go to a temporary file in the same folder, reach the disk, and
    only then take the file's name; on any error the temporary file is removed
    and whatever stood at `path` still stands.

    Raises
    ------
    OSError
        If the folder cannot be written to or the disk is full; `filename`
        names `path`.
    """
    try:
        temporary = _write_beside(path, data)
        try:
            temporary.replace(path)
        except BaseException:
            temporary.unlink(missing_ok=True)
            raise
    except OSError as error:
        # The user asked for `path`, and a temporary name would only puzzle.
        raise type(error)(error.errno, error.strerror, str(path)) from error
    _sync_folder(path.parent)


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


def _write_beside(path: Path, data: bytes) -> Path:
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.", suffix=".part")
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        temporary.chmod(_mode_for(path))
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    return temporary


def _mode_for(path: Path) -> int:
    """Return the permissions the file has, or those a newly created one would get."""
    with contextlib.suppress(OSError):
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return _NEW_FILE_MODE & ~mask


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
