"""A child process that works until it is killed (SIGKILL); needs a system that forks.

The child is a copy of the process that asks for it, so everything is imported
and made by the time it begins, and one kill costs milliseconds.
"""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable

import pytest

Work = Callable[[Callable[[], None]], None]
"""What a child does; told a function to call when the clock is to start, and after every piece."""

forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="the system cannot fork")


def killed_child(work: Work, seconds: float, watch: Callable[[], object] | None = None) -> int:
    """Let a child work, kill it so long after the clock started, return the pieces it had done.

    Until then `watch` is called again and again: what can be seen at any
    moment is what a kill at that moment would have left.
    """
    child, reader = _forked(work)
    started = os.read(reader, 1)
    assert started, "the child ended before the clock started"
    until = time.monotonic() + seconds
    while watch and time.monotonic() < until:
        watch()
    time.sleep(max(0.0, until - time.monotonic()))
    os.kill(child, signal.SIGKILL)
    return _ended(child, reader)


def self_killed_child(work: Work) -> int:
    """Let a child work until it kills itself, return the pieces it had done."""
    return _ended(*_forked(work)) - 1


def kill_this_process() -> None:
    """End as if somebody had pulled the plug: no handler runs, no file is closed properly."""
    os.kill(os.getpid(), signal.SIGKILL)


def _forked(work: Work) -> tuple[int, int]:
    reader, writer = os.pipe()
    child = os.fork()
    if child:
        os.close(writer)
        return child, reader
    try:
        os.close(reader)
        work(lambda: _say(writer))
    finally:
        os._exit(1)


def _say(writer: int) -> None:
    os.write(writer, b".")


def _ended(child: int, reader: int) -> int:
    with os.fdopen(reader, "rb") as stream:
        said = len(stream.read())
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), f"the child ended by itself ({status}) before it was killed"
    assert os.WTERMSIG(status) == signal.SIGKILL
    return said
