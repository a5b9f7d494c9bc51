"""Every file written from a plan says which plan it was, and other files say nothing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from drawn_events import plain_event

from scheduler.domain.event import Player
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.exporters.plan_property import plan_id
from scheduler.readers.stated_plan import stated_plan_id
from scheduler.workflow.cards import CARD_FORMS, write_cards
from scheduler.workflow.sheets import FORMS, write_forms

MISLEADING = "plan 0123456789ab, revision 1"
"""An event may be called anything, even what our own sheets say of themselves."""


def plan_of(*names: str, event: str = "Tuesday") -> Plan:
    """Return a plan of one match, with a date as calendars need one."""
    asked = plain_event(4, 1, 1, date="2026-12-03")
    people = tuple(Player(name, 5.0) for name in names)
    match = Match("C0", names[:2], names[2:], (names[0], names[2], names[1], names[3]), names[1:3])
    rounds = tuple(
        PlannedRound(at, one.kind, one.start, one.minutes, (match,))
        for at, one in enumerate(asked.rounds, start=1)
    )
    return Plan(replace(asked, name=event, players=people), rounds)


@pytest.mark.parametrize(
    "plan",
    [
        plan_of("Ada", "Bo", "Cy", "Di"),
        plan_of("=1+1", "דנה לוי", "a,b", '"id": "0123456789ab"', event=MISLEADING),
    ],
)
def test_every_form_says_its_plan(plan: Plan, tmp_path: Path) -> None:
    """Whatever the event and the people are called; pictures, calendars and cards too."""
    files = write_forms(plan, tmp_path, FORMS, "a4")
    cards = write_cards(tmp_path / "plan.json", None, CARD_FORMS, "a4", "a6").files
    assert len(files) + len(cards) == len(FORMS) + len(CARD_FORMS)
    stated = {path.name: stated_plan_id(path) for path in (*files, *cards)}
    assert stated == dict.fromkeys(stated, plan_id(plan))


@pytest.mark.parametrize("name", [*(form.file.format(name="x") for form in FORMS.values()), "x.md"])
@pytest.mark.parametrize(
    "data", [b"", b"hello\n", b"PK\x03\x04 cut", b"\xff\xfe\x00", b'{"id": 3}']
)
def test_anything_else_says_nothing(name: str, data: bytes, tmp_path: Path) -> None:
    """Empty, damaged, another program's, not there, a folder: no plan, and no error."""
    path = tmp_path / name
    assert not stated_plan_id(path)
    path.write_bytes(data)
    assert not stated_plan_id(path)
    path.unlink()
    path.mkdir()
    assert not stated_plan_id(path)
