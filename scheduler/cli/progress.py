"""A progress bar on a terminal, and silence everywhere else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

Report = Callable[[float, str], None]


@contextmanager
def progress(*, silent: bool) -> Iterator[Report | None]:
    """Yield what long work reports to, or None when nobody watches."""
    if silent or not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console  # noqa: PLC0415  only a terminal pays for it
    from rich.progress import Progress  # noqa: PLC0415

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("Planning", total=1.0)

        def report(share: float, doing: str) -> None:
            bar.update(task, completed=share, description=doing.capitalize())

        yield report
