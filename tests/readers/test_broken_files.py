"""The broken sample files: each gives its one fault, in the words promised."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from scheduler.domain.errors import BadInput
from scheduler.readers.assembly import ReadEvent
from scheduler.readers.event_workbook import read_event
from scheduler.readers.players_list import event_from_players

SAMPLES = Path(__file__).parents[2] / "sample_data"
BROKEN = SAMPLES / "broken"
EXPECTED: dict[str, str] = json.loads((BROKEN / "expected.json").read_text("utf-8"))


@pytest.mark.parametrize("name", EXPECTED)
def test_a_broken_file_gives_its_one_fault(name: str) -> None:
    """The fault stands at its cell, in the expected words, and there is no other."""
    path = BROKEN / name
    with pytest.raises(BadInput) as caught:
        _read(path)
    assert [str(fault) for fault in caught.value.faults] == [EXPECTED[name]]


def _read(path: Path) -> ReadEvent:
    if path.suffix == ".csv":
        return event_from_players(path, 2, 2, 20, "18:00", None)
    return read_event(path)


def test_every_broken_file_is_expected() -> None:
    """No file lies in the folder without its expected fault, and none is missing."""
    lying_there = {path.name for path in BROKEN.iterdir()} - {"expected.json"}
    assert lying_there == set(EXPECTED)
