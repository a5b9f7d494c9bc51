"""Any order of evenings, replans, scores, corrections, names and exports loses nothing."""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from dataclasses import replace
from itertools import combinations
from pathlib import Path

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from killed_season import MATCHES
from season_model import SeasonModel, through_a_workbook
from season_plans import PEOPLE, plan_of, replanned

from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import Group
from scheduler.domain.score_text import Mark, SetScore
from scheduler.domain.typed_score import TypedScore
from scheduler.season.history import earlier_of
from scheduler.season.naming import rename
from scheduler.season.recording import Options, record

SCORES = st.one_of(
    st.tuples(st.builds(SetScore, st.just(6), st.integers(0, 4)), st.none()),
    st.tuples(st.builds(SetScore, st.integers(0, 5), st.integers(0, 5)), st.sampled_from(Mark)),
)
KEYS = st.sampled_from(list(matches_by_key(plan_of(1))))
Evening = st.integers(1, 3)


class SeasonMachine(RuleBasedStateMachine):
    """A season beside the plainest model of one: a plan and a dict of scores an evening."""

    @initialize()
    def begin(self) -> None:
        """Start with no file."""
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "season.db"
        self.model = SeasonModel()
        self.exports = 0

    @rule(number=Evening)
    def hold(self, number: int) -> None:
        """Record an evening, anew or again; planned before anybody was renamed."""
        plan = self.model.plans.get(number, plan_of(number))
        record(self.path, plan)
        self.model.hold(number, plan)

    @precondition(lambda self: self.model.plans)
    @rule(data=st.data(), after=st.integers(1, 4))
    def replan(self, data: st.DataObject, after: int) -> None:
        """Plan the rest of an evening anew, after the last round with a score."""
        number = data.draw(st.sampled_from(sorted(self.model.plans)))
        played = [int(key[1]) for key in self.model.scores[number]]
        plan = self.model.plans[number]
        later = replanned(plan, max([after, *played]), seed=data.draw(Evening))
        record(self.path, later)
        self.model.hold(number, later)

    @precondition(lambda self: self.model.plans)
    @rule(data=st.data(), key=KEYS, score=SCORES)
    def type_score(
        self, data: st.DataObject, key: str, score: tuple[SetScore, Mark | None]
    ) -> None:
        """Type a score, or another one over it."""
        number = data.draw(st.sampled_from(sorted(self.model.plans)))
        typed = TypedScore(key, (score[0],), score[1], "Scores!F1")
        done = record(self.path, self.model.plans[number], [typed])
        known = self.model.scores[number].get(key)
        assert (len(done.added), len(done.corrected), done.unchanged) == (
            known is None,
            known not in {None, typed.text},
            known == typed.text,
        )
        self.model.type(number, key, typed.text)

    @precondition(lambda self: any(self.model.scores.values()))
    @rule(data=st.data())
    def take_back(self, data: st.DataObject) -> None:
        """Take a recorded score back."""
        scored = sorted(number for number, scores in self.model.scores.items() if scores)
        number = data.draw(st.sampled_from(scored))
        key = data.draw(st.sampled_from(sorted(self.model.scores[number])))
        record(self.path, self.model.plans[number], options=Options(withdraw=(key,)))
        self.model.type(number, key, "")

    @precondition(lambda self: self.model.plans)
    @rule(data=st.data())
    def rename_somebody(self, data: st.DataObject) -> None:
        """Give somebody another name; plans keep the old spelling."""
        name = data.draw(st.sampled_from(PEOPLE))
        shown = self.model.shown[name]
        new = f"{name} {len(shown)}"
        rename(self.path, shown, new)
        self.model.rename(shown, new)

    @precondition(lambda self: self.model.plans)
    @rule()
    def to_a_workbook_and_back(self) -> None:
        """Go on with the season that came back."""
        self.exports += 1
        self.path = through_a_workbook(self.path, self.exports)

    @invariant()
    def every_score_counts_as_typed_last(self) -> None:
        """With the people of the plan, by their names of now; and no row is ever gone."""
        if self.path.exists():
            self.model.check(self.path)

    @invariant()
    def every_round_counts_as_played_last(self) -> None:
        """Meetings of all evenings are those of their last plans."""
        if not self.path.exists():
            return
        event = replace(plan_of(20).event, players=plan_of(20).event.players)
        met = Counter(
            {
                frozenset((e.player, e.other)): e.partners + e.drills
                for e in earlier_of(self.path, event)
            }
        )
        expected: Counter[frozenset[str]] = Counter()
        for plan in self.model.plans.values():
            for planned in plan.rounds:
                for entry in planned.courts:
                    groups = (
                        [entry.players]
                        if isinstance(entry, Group)
                        else [entry.team_a, entry.team_b]
                    )
                    for group in groups:
                        expected.update(map(frozenset, combinations(group, 2)))
        assert +met == expected

    def teardown(self) -> None:
        """Leave nothing behind."""
        if hasattr(self, "folder"):
            shutil.rmtree(self.folder)


def test_the_machine_knows_how_many_matches_an_evening_has() -> None:
    """So that the keys drawn above are all of them."""
    assert len(matches_by_key(plan_of(1))) == MATCHES


TestSeason = SeasonMachine.TestCase
TestSeason.settings = settings(
    max_examples=6,
    stateful_step_count=10,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
