# ruff: noqa: INP001  a script beside its data, not a package
"""Write the sample season of a team anew: ``python sample_data/make_fixture.py``.

Everything is invented. The tests check that what lies here is what this
script writes.
"""

from __future__ import annotations

from pathlib import Path

from scheduler.exporters.files import write_whole
from scheduler.exporters.start_fixture import fixture_workbook_bytes

HERE = Path(__file__).parent
NAME = "league_fixture.xlsx"


def files() -> dict[str, bytes]:
    """Return the sample file's name and content."""
    return {NAME: fixture_workbook_bytes(example=True, file_name=NAME)}


if __name__ == "__main__":
    for name, data in files().items():
        write_whole(HERE / name, data)
