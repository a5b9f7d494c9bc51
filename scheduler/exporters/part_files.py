"""Files under way: whole under a name of their own, then under the name people know.

A part is locked for as long as its writer lives. What a killed writer leaves
behind is therefore told from what somebody else is writing at this moment,
and is swept away by whoever writes into the folder next. Until then it does
no harm: its name begins with a dot and ends like no output's.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

try:
    import fcntl
except ImportError:  # a system that refuses to remove open files, but lets no lock outlive one
    fcntl = None  # type: ignore[assignment]

SUFFIX = ".rota-part"
_NEW_FILE_MODE = 0o666


@dataclass(frozen=True, slots=True)
class Part:
    """The bytes of one file on the disk, not yet under the file's name.

    `lock` is the open file the lock hangs on, None where the system has no
    locks of this kind.
    """

    target: Path
    path: Path
    lock: int | None

    def take_name(self) -> None:
        """Take the target's name; what stood there is gone in the same instant.

        Raises
        ------
        OSError
            If the name cannot be taken; what stood there still stands.
        """
        self.path.replace(self.target)

    def drop(self) -> None:
        """Leave nothing behind under the part's own name."""
        self.path.unlink(missing_ok=True)
        if self.lock is not None:
            os.close(self.lock)


def write_part(target: Path, data: bytes) -> Part:
    """Write the bytes of a file beside it, down to the disk.

    Raises
    ------
    OSError
        If the folder cannot be written to or the disk is full; no part is left.
    """
    part, handle = _begun(target)
    try:
        with os.fdopen(handle, "wb", closefd=part.lock is None) as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        part.path.chmod(_mode_for(target))
    except BaseException:
        part.drop()
        raise
    return part


def sweep(folder: Path) -> None:
    """Remove the parts of writers that are no more, as far as the system lets us."""
    if fcntl is None:
        return
    for path in sorted(folder.glob(f".*{SUFFIX}")):
        with contextlib.suppress(OSError), _locked(path):
            path.unlink()


def _begun(target: Path) -> tuple[Part, int]:
    """Return a new part, locked, and the open file to write it through."""
    while True:
        handle, name = tempfile.mkstemp(
            dir=target.parent, prefix=f".{target.name[:40]}.", suffix=SUFFIX
        )
        path = Path(name)
        if fcntl is None:
            return Part(target, path, None), handle
        with contextlib.suppress(OSError):  # some network folders have no locks, and no sweeping
            fcntl.flock(handle, fcntl.LOCK_EX)
        if os.fstat(handle).st_nlink:
            return Part(target, path, handle), handle
        os.close(handle)  # swept away between its making and its lock


@contextlib.contextmanager
def _locked(path: Path) -> Iterator[None]:
    """Hold a part's lock, or raise OSError where its writer holds it."""
    handle = os.open(path, os.O_RDWR)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        yield
    finally:
        os.close(handle)


def _mode_for(path: Path) -> int:
    """Return the permissions the file has, or those a newly created one would get."""
    with contextlib.suppress(OSError):
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return _NEW_FILE_MODE & ~mask
