"""A must that cannot be kept any more is eased on the night, and the evening goes on."""

from __future__ import annotations

import pytest
from drawn_events import plain_event

from scheduler.checker import check
from scheduler.domain.errors import BadInput, NoPlan
from scheduler.domain.event import Event, Kind, Strength, Wish, WishKind
from scheduler.domain.plan import Plan
from scheduler.rotation.effort import EFFORTS
from scheduler.workflow.night import Night
from scheduler.workflow.plan import make_plan
from scheduler.workflow.replan import replan

LIMIT = Wish(WishKind.ROUNDS_RUNNING_AT_MOST, "P0", number=2, where="Wishes!A4")
APART = Wish(WishKind.NOT_PARTNERS, "P0", "P1", where="Wishes!A5")


@pytest.fixture
def plan(monkeypatch: pytest.MonkeyPatch) -> Plan:
    """Return a plan of five people on a court, one of whom plays at most two rounds running."""
    monkeypatch.setitem(EFFORTS, "tiny", 30_000)
    event = plain_event(5, 1, 4, *[Kind.DOUBLES] * 4, wishes=(LIMIT, APART))
    return make_plan(event, effort="tiny").plan


def went_home(plan: Plan, *cells: str) -> Plan:
    """Return the plan once one of the five is gone, so that the other four play every round."""
    night = Night(after=0, absent=("P4",), eased=cells)
    return replan(plan, night, effort="tiny").plan


def strengths(event: Event) -> dict[str, Strength]:
    """Return how strongly each wish is meant, by its cell."""
    return {wish.where: wish.strength for wish in event.wishes}


def test_without_easing_there_is_no_plan(plan: Plan) -> None:
    """Nobody can rest among four, so the limit of rounds running cannot be kept."""
    with pytest.raises(NoPlan) as caught:
        went_home(plan)
    assert any("Wishes!A4" in text for text in caught.value.conflict)


@pytest.mark.parametrize("cell", ["Wishes!A4", "A4", " wishes!a4 "])
def test_an_eased_must_is_a_should_and_said_to_be(plan: Plan, cell: str) -> None:
    """That wish alone is eased; the revision says so in words."""
    new = went_home(plan, cell)
    assert check(new).accepted
    should, must = Strength.SHOULD, Strength.MUST
    assert strengths(new.event) == {"Wishes!A4": should, "Wishes!A5": must}
    said = "a should from now on is the wish that P0 must play at most 2 rounds running"
    assert new.event.changes[-1].endswith(said)


def test_a_cell_without_a_must_is_refused_with_those_there_are(plan: Plan) -> None:
    """What is typed at the net post is answered with what could have been meant."""
    with pytest.raises(BadInput) as caught:
        went_home(plan, "Wishes!A9")
    fault = caught.value.faults[0]
    assert fault.where == '--ease "Wishes!A9"'
    assert "the musts: Wishes!A4, Wishes!A5" in fault.what
