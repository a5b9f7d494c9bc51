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
from season_plans import PEOPLE, everything, plan_of, replanned, rows

from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import Group, Plan
from scheduler.domain.score_text import Mark, SetScore
from scheduler.domain.typed_score import TypedScore
from scheduler.season.history import earlier_of
from scheduler.season.naming import rename
from scheduler.season.recording import Options, record
from scheduler.season.results import results_of
from scheduler.workflow.season_tables import export_season, import_season

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
        self.plans: dict[int, Plan] = {}
        self.scores: dict[int, dict[str, str]] = {}
        self.typed_rows = self.exports = 0
        self.name = {name: name for name in PEOPLE}

    @rule(number=Evening)
    def hold(self, number: int) -> None:
        """Record an evening, anew or again; planned before anybody was renamed."""
        plan = self.plans.setdefault(number, plan_of(number))
        self.scores.setdefault(number, {})
        record(self.path, plan)

    @precondition(lambda self: self.plans)
    @rule(data=st.data(), after=st.integers(1, 4))
    def replan(self, data: st.DataObject, after: int) -> None:
        """Plan the rest of an evening anew, after the last round with a score."""
        number = data.draw(st.sampled_from(sorted(self.plans)))
        played = [int(key[1]) for key in self.scores[number]]
        later = replanned(self.plans[number], max([after, *played]), seed=data.draw(Evening))
        record(self.path, later)
        self.plans[number] = later

    @precondition(lambda self: self.plans)
    @rule(data=st.data(), key=KEYS, score=SCORES)
    def type_score(
        self, data: st.DataObject, key: str, score: tuple[SetScore, Mark | None]
    ) -> None:
        """Type a score, or another one over it."""
        number = data.draw(st.sampled_from(sorted(self.plans)))
        typed = TypedScore(key, (score[0],), score[1], "Scores!F1")
        done = record(self.path, self.plans[number], [typed])
        known = self.scores[number].get(key)
        assert (len(done.added), len(done.corrected), done.unchanged) == (
            known is None,
            known not in {None, typed.text},
            known == typed.text,
        )
        self.typed_rows += known != typed.text
        self.scores[number][key] = typed.text

    @precondition(lambda self: any(self.scores.values()))
    @rule(data=st.data())
    def take_back(self, data: st.DataObject) -> None:
        """Take a recorded score back."""
        number = data.draw(st.sampled_from(sorted(n for n, s in self.scores.items() if s)))
        key = data.draw(st.sampled_from(sorted(self.scores[number])))
        record(self.path, self.plans[number], options=Options(withdraw=(key,)))
        del self.scores[number][key]
        self.typed_rows += 1

    @precondition(lambda self: self.plans)
    @rule(data=st.data())
    def rename_somebody(self, data: st.DataObject) -> None:
        """Give somebody another name; plans keep the old spelling."""
        name = data.draw(st.sampled_from(PEOPLE))
        new = f"{name} {len(self.name[name])}"
        rename(self.path, self.name[name], new)
        self.name[name] = new

    @precondition(lambda self: self.plans)
    @rule()
    def to_a_workbook_and_back(self) -> None:
        """Go on with the season that came back."""
        before = everything(self.path)
        self.exports += 1
        book = self.folder / f"{self.exports}.xlsx"
        export_season(self.path, book)
        self.path = self.folder / f"season {self.exports}.db"
        import_season(book, self.path)
        assert everything(self.path) == before

    @invariant()
    def every_score_counts_as_typed_last(self) -> None:
        """With the people of the plan, by their names of now."""
        if not self.path.exists():
            return
        found = results_of(self.path)
        evenings = dict(zip(sorted(self.plans), found.evenings, strict=True))
        expected = {
            (evenings[number].number, key): (text, self._teams(number, key))
            for number, scores in self.scores.items()
            for key, text in scores.items()
        }
        there = {
            (m.evening, m.key): (TypedScore(m.key, m.sets, m.mark).text, m.teams)
            for m in found.matches
        }
        assert there == expected
        assert rows(self.path, "SELECT count(*) FROM scores") == [(self.typed_rows,)]

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
        for plan in self.plans.values():
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

    def _teams(self, number: int, key: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
        _, match = matches_by_key(self.plans[number])[key]
        return (
            tuple(self.name[name] for name in match.team_a),
            tuple(self.name[name] for name in match.team_b),
        )

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
