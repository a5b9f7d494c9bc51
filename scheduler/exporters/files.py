"""Writing files whole or not at all, and workbooks to the same bytes every time."""

from __future__ import annotations

import contextlib
import io
import os
import tempfile
import zipfile
from collections.abc import Sequence
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

    Raises
    ------
    OSError
        If the folder cannot be written to or the disk is full; `filename`
        names `path`, and whatever stood there still stands.
    """
    write_together([(path, data)])


def write_together(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write several files, each whole, and none of them where one cannot be written.

    The bytes go to temporary files in the same folders and reach the disk;
    only then do they take the files' names, one after the other. Where one
    name cannot be taken (a workbook open elsewhere, a folder of that name),
    those taken before get their old content back.

    Raises
    ------
    OSError
        If one cannot be written; `filename` names it.
    """
    staged: list[tuple[Path, Path]] = []
    taken: list[tuple[Path, bytes | None]] = []
    path = Path()
    try:
        for path, data in files:
            staged.append((path, _write_beside(path, data)))
        for path, temporary in staged:
            before = path.read_bytes() if path.is_file() and len(staged) > 1 else None
            temporary.replace(path)
            taken.append((path, before))
    except OSError as error:
        _put_back(taken)
        # The user asked for `path`, and a temporary name would only puzzle.
        raise type(error)(error.errno, error.strerror, str(path)) from error
    except BaseException:
        _put_back(taken)
        raise
    finally:
        for _, temporary in staged:
            temporary.unlink(missing_ok=True)
    for folder in dict.fromkeys(path.parent for path, _ in files):
        _sync_folder(folder)


def _put_back(taken: Sequence[tuple[Path, bytes | None]]) -> None:
    """Give files their old content back, as far as the system lets us."""
    for path, before in reversed(taken):
        with contextlib.suppress(OSError):
            if before is None:
                path.unlink()
            else:
                _write_beside(path, before).replace(path)


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
