"""What a night can bring, drawn by chance, for state machines: replans, results, seats.

Whatever happens, what was played stays and every plan is sound.
"""

from __future__ import annotations

import json
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from drawn_events import TWO_GROUPS, events
from hypothesis import assume
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule

from scheduler.checker import check
from scheduler.domain.codec import plan_to_json
from scheduler.domain.errors import BadInput, NoPlan
from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import Plan
from scheduler.readers.plan_file import read_plan_file
from scheduler.rotation.effort import EFFORTS
from scheduler.workflow.moves import LATER, changes_between
from scheduler.workflow.next_round import seat_next
from scheduler.workflow.night import Night
from scheduler.workflow.plan import make_plan
from scheduler.workflow.replan import Replanned, replan

TINY = 3_000  # moves of the search: enough to seat people, and no more


@pytest.fixture(autouse=True)
def tiny_effort(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every plan here take milliseconds."""
    monkeypatch.setitem(EFFORTS, "tiny", TINY)


def as_played(plan: Plan, rounds: int, known: set[str]) -> list[dict[str, object]]:
    """Return the first rounds as plan.json has them, newcomers and marks aside."""
    document = json.loads(plan_to_json(plan))["rounds"][:rounds]
    for planned in document:
        planned["absent"] = [name for name in planned["absent"] if name in known]
        for entry in planned["courts"]:
            entry.pop("unfinished", None)
        planned.pop("missing", None)
    return document


class Nights(RuleBasedStateMachine):
    """Plan an evening, then let people go, come, swap, courts vanish and scores come in."""

    plan: Plan
    after: int = 0

    @initialize(event=events(people=(5, 11), most_rounds=5, most_courts=3, most_wishes=2))
    def plan_the_evening(self, event: Event) -> None:
        """Start with any evening that can be planned."""
        try:
            self.plan = make_plan(self.dated(event), effort="tiny").plan
        except NoPlan:
            assume(False)

    def dated(self, event: Event) -> Event:
        """Return the event with the date of the evening, where there are several."""
        return event

    @rule(data=st.data(), least_change=st.booleans())
    def something_happens(self, data: st.DataObject, least_change: bool) -> None:
        """Replan after the last round played or a later one, for one to three reasons."""
        rounds = self.plan.rounds
        seated = next((r.number - 1 for r in rounds if r.open), len(rounds))
        assume(self.after <= min(seated, len(rounds) - 1))
        after = data.draw(st.integers(self.after, min(seated, len(rounds) - 1)))
        names = [player.name for player in self.plan.event.players]
        courts = [court.name for court in self.plan.event.courts]
        group = ",M" if any(r.kind in TWO_GROUPS for r in rounds) else ""
        some = st.lists(st.sampled_from(names), max_size=2, unique=True)
        night = Night(
            after=after,
            absent=tuple(data.draw(some)),
            no_shows=data.draw(st.sampled_from([(), (), (), (names[-1],)])),
            add=data.draw(
                st.sampled_from(
                    [(), (), (f"New {len(names)},5{group}",), (names[0],), (names[-1],)]
                )
            ),
            lost_courts=data.draw(st.sampled_from([(), (), (), *((name,) for name in courts)])),
            swaps=data.draw(st.sampled_from([(), (), (f"{names[0]},{names[1]}",)])),
            least_change=least_change,
        )
        self._take(lambda: replan(self.plan, night, effort="tiny"), after)

    @precondition(lambda self: any(planned.open for planned in self.plan.rounds))
    @rule(data=st.data())
    def scores_come_in(self, data: st.DataObject) -> None:
        """Seat the next open round; some scores are level, some are missing."""
        waiting = next(planned.number for planned in self.plan.rounds if planned.open)
        ladder = [r for r in self.plan.rounds[: waiting - 1] if r.kind is Kind.UP_AND_DOWN]
        score = st.sampled_from(["6-4", "3-6", "5-5", None])
        typed = [(match.court, data.draw(score)) for match in ladder[-1].matches]
        scores = [f"{court}={text}" for court, text in typed if text]
        self._take(lambda: seat_next(self.plan, scores, effort="tiny"), waiting - 1)

    def _take(self, change, after: int) -> None:
        """Make a change; whatever comes of it, the plan in hand is whole."""
        before = self.plan
        try:
            made: Replanned = change()
        except (BadInput, NoPlan):
            return
        known = {player.name for player in before.event.players}
        assert as_played(made.plan, after, known) == as_played(before, after, known)
        assert made.plan.revision == before.revision + 1
        assert made.plan.event.changes[: len(before.event.changes)] == before.event.changes
        assert len(made.plan.event.changes) > len(before.event.changes)
        assert made.plan.changes == changes_between(before, made.plan, after)
        told = {(step.player, step.round) for step in made.moved.steps}
        assert told == {(c.player, c.round) for c in made.plan.changes if c.now != LATER}
        assert all(change.round > after for change in made.plan.changes)
        with TemporaryDirectory() as folder:
            path = Path(folder) / "plan.json"
            path.write_text(plan_to_json(made.plan), encoding="utf-8")
            read = read_plan_file(path)
        assert read.plan == made.plan
        assert read.id_matches
        assert not read.disagreements
        assert check(read.plan).faults == ()
        self.plan, self.after = made.plan, max(after, self.after)
