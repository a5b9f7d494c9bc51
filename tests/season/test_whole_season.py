"""A club's season by chance: whole nights, their scores by every way in, names put right, exports.

Everything a night can bring comes from ``night_rules``, and the plainest model
of a season from ``season_model``; more examples with ``ROTA_EXAMPLES=500``.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Sequence
from dataclasses import replace
from itertools import permutations
from pathlib import Path

import openpyxl
import pytest
from drawn_events import events
from hypothesis import HealthCheck, assume, settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule
from night_rules import Nights, as_played, tiny_effort
from season_model import SeasonModel, through_a_workbook

from scheduler.checker import check
from scheduler.domain.codec import plan_to_dict, plan_to_json
from scheduler.domain.errors import BadInput, NoPlan
from scheduler.domain.event import Event
from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import Plan
from scheduler.domain.score_text import Mark, ScoreLine, SetScore
from scheduler.domain.typed_score import TypedScore
from scheduler.exporters.workbook import workbook_of
from scheduler.season.evenings import remembered_document
from scheduler.season.naming import merge, rename
from scheduler.season.recording import Options
from scheduler.workflow.plan import make_plan
from scheduler.workflow.scores import take_scores
from scheduler.workflow.season_plan import remembered, with_season

EXAMPLES = int(os.environ.get("ROTA_EXAMPLES", "14"))
__all__ = ["tiny_effort"]  # pytest uses it by its name

FINISHED = [(6, games) for games in range(5)] + [(7, 5), (7, 6)]
SCORES = st.one_of(
    st.tuples(st.sampled_from(FINISHED + [(b, a) for a, b in FINISHED]), st.none()),
    st.tuples(st.tuples(st.integers(0, 5), st.integers(0, 5)), st.sampled_from(Mark)),
)
EVENINGS = events(people=(5, 11), most_rounds=4, most_courts=2, most_wishes=1)


def typed(key: str, score: tuple[tuple[int, int], Mark | None]) -> TypedScore:
    """Return a score as somebody types it."""
    games, mark = score
    return TypedScore(key, (SetScore(*games),), mark)


class WholeSeason(Nights):
    """Nights that follow each other, with what the organiser does about them in between."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "season 0.db"
        self.number, self.exports = 1, 0
        self.model = SeasonModel()
        self.recorded: list[Plan] = []
        self.stood: list[dict[str, object]] = []

    # ---- evenings -----------------------------------------------------------------------

    def dated(self, event: Event, later: int = 0) -> Event:
        """Return the event on the day of the evening at hand, or of a later one."""
        return replace(event, date=f"2026-03-{self.number + later:02d}")

    @precondition(lambda self: self.number in self.model.plans)
    @rule(event=EVENINGS, levels=st.booleans())
    def plan_the_next_evening(self, event: Event, levels: bool) -> None:
        """Plan another evening with the season so far counted."""
        known = remembered(self.dated(event, 1), self.path, levels=levels)
        try:
            made = make_plan(known.event, effort="tiny").plan
        except NoPlan:
            assume(False)
        plan = with_season(made, known.history)
        assert check(plan).faults == ()
        assume(not self._lists_somebody_twice(plan))
        self.number += 1
        self.plan, self.after, self.stood = plan, 0, []

    # ---- scores -------------------------------------------------------------------------

    def _plan_of(self, number: int) -> Plan:
        return self.plan if number == self.number else self.model.plans[number]

    def _keys(self, number: int) -> list[str]:
        """Return the matches of an evening that can have been played by now."""
        plan = self._plan_of(number)
        first_open = next((r.number for r in plan.rounds if r.open), len(plan.rounds) + 1)
        found = matches_by_key(plan)
        return [key for key, (planned, _) in found.items() if planned.number < first_open]

    @rule(data=st.data(), how=st.sampled_from(["workbook", "csv", "text", "text in cells"]))
    def scores_are_typed(self, data: st.DataObject, how: str) -> None:
        """Type scores, first ones or others over them, for tonight or an evening before."""
        number = data.draw(st.sampled_from(sorted({self.number, *self.model.plans})))
        keys = self._keys(number)
        assume(keys)
        wanted = data.draw(st.lists(st.sampled_from(keys), min_size=1, max_size=3, unique=True))
        scores = [typed(key, data.draw(SCORES)) for key in keys if key in wanted]
        plan = self._plan_of(number)
        if plan not in self.recorded and self._lists_somebody_twice(plan):
            with pytest.raises(BadInput, match="are both"):
                self._take_scores(number, None)
            return
        former = dict(self.model.scores.get(number, {}))
        done = self._take_scores(number, _file(self.folder, plan, scores, how))
        scores = [score for score in scores if _all_came(plan, score.match)]
        assert set(done.added) == {s.match for s in scores if s.match not in former}
        assert {(c.match, c.was, c.now) for c in done.corrected} == {
            (s.match, former[s.match], s.text)
            for s in scores
            if former.get(s.match, s.text) != s.text
        }
        for score in scores:
            self.model.type(number, score.match, score.text)
        if number == self.number:
            self._stands(max(matches_by_key(plan)[key][0].number for key in wanted))

    def _lists_somebody_twice(self, plan: Plan) -> bool:
        """Return whether two names of an evening's list have become one person."""
        names = [self.model.shown.get(p.name, p.name) for p in plan.event.players]
        return len(names) > len(set(names))

    @precondition(lambda self: not self._lists_somebody_twice(self.plan))
    @rule()
    def the_evening_is_recorded_without_scores(self) -> None:
        """Take tonight's plan into the season as it is now."""
        self._take_scores(self.number, None)

    def _take_scores(self, number: int, file: Path | None):
        """Take a file's scores, or the plan alone, into the season."""
        plan = self._plan_of(number)
        plan_file = self.folder / "plan.json"
        plan_file.write_text(plan_to_json(plan), encoding="utf-8")
        new = tuple(p.name for p in plan.event.players if p.name not in self.model.shown)
        taken = take_scores(
            file or plan_file, self.path, plan_file=plan_file, options=Options(new=new)
        )
        assert taken.faults == ()
        self.model.hold(number, plan)
        if plan not in self.recorded:
            self.recorded.append(plan)
        return taken.recorded

    @precondition(lambda self: any(self.model.scores.values()))
    @rule(data=st.data())
    def a_score_is_taken_back(self, data: st.DataObject) -> None:
        """Take a score back; its row stays."""
        scored = sorted(number for number, scores in self.model.scores.items() if scores)
        number = data.draw(st.sampled_from(scored))
        key = data.draw(st.sampled_from(sorted(self.model.scores[number])))
        plan_file = self.folder / "plan.json"
        plan_file.write_text(plan_to_json(self.model.plans[number]), encoding="utf-8")
        take_scores(plan_file, self.path, options=Options(withdraw=(key,)))
        self.model.type(number, key, "")

    # ---- names and files ----------------------------------------------------------------

    @precondition(lambda self: self.model.plans)
    @rule(data=st.data())
    def somebody_is_renamed(self, data: st.DataObject) -> None:
        """Give somebody a name nobody has; plans keep the old spelling."""
        name = data.draw(st.sampled_from(sorted(set(self.model.shown.values()))))
        new = f"Renamed {len(self.model.shown)}"
        rename(self.path, name, new)
        self.model.rename(name, new)

    @precondition(lambda self: self.model.plans)
    @rule(data=st.data())
    def two_names_are_one_person(self, data: st.DataObject) -> None:
        """Merge two people, which is refused where both took part in one evening."""
        pairs = list(permutations(sorted(set(self.model.shown.values())), 2))
        apart = [pair for pair in pairs if not self._met(*pair)]
        gone, kept = data.draw(st.sampled_from(apart or pairs) | st.sampled_from(pairs))
        if self._met(gone, kept):
            with pytest.raises(BadInput, match="both took part"):
                merge(self.path, gone, kept)
        else:
            merge(self.path, gone, kept)
            self.model.rename(gone, kept)

    def _met(self, one: str, other: str) -> bool:
        """Return whether two people took part in one evening, so that they are two."""
        return any({one, other} <= self._there(plan) for plan in self.model.plans.values())

    def _there(self, plan: Plan) -> set[str]:
        """Return who took part in an evening as far as it is seated, by their present names."""
        there: set[str] = set()
        for planned in plan.rounds:
            playing = {name for entry in planned.courts for name in entry.players}
            there |= {*planned.resting, *playing} - {*planned.missing}
        return {self.model.shown[name] for name in there}

    @precondition(lambda self: self.model.plans)
    @rule()
    def the_season_goes_through_a_workbook(self) -> None:
        """Export it, import it, and go on with what came back."""
        self.exports += 1
        self.path = through_a_workbook(self.path, self.exports)

    # ---- what always holds --------------------------------------------------------------

    def _take(self, change, after: int) -> None:
        super()._take(change, after)
        self._stands(self.after)

    def _stands(self, rounds: int) -> None:
        """Note that rounds up to a number have been played as they are."""
        self.after = max(self.after, rounds)
        known = {player.name for player in self.plan.event.players}
        now = as_played(self.plan, self.after, known)
        self.stood += now[len(self.stood) :]

    @invariant()
    def what_was_played_stands(self) -> None:
        """Courts, teams, orders, rests, start and minutes, whatever was planned since."""
        if not hasattr(self, "plan"):
            return
        for played, planned in zip(self.stood, plan_to_dict(self.plan)["rounds"], strict=False):
            known = {*_names(played)}
            now = as_played(self.plan, planned["round"], known)[-1]
            assert now == played

    @invariant()
    def every_typed_score_is_there(self) -> None:
        """As it counts, and every row it ever had."""
        if self.model.plans:
            self.model.check(self.path)

    @invariant()
    def every_recorded_plan_is_there(self) -> None:
        """To the letter."""
        for plan in self.recorded:
            found = remembered_document(self.path, str(plan_to_dict(plan)["id"]))
            assert found == plan_to_json(plan)

    def teardown(self) -> None:
        """Leave nothing behind."""
        shutil.rmtree(self.folder)


def _all_came(plan: Plan, key: str) -> bool:
    """Return whether everybody came to a match; else its score is told to be left out."""
    planned, match = matches_by_key(plan)[key]
    return not {*match.players} & {*planned.missing}


def _names(played: dict[str, object]) -> list[str]:
    """Return everybody a round of a document names."""
    found = [*played["resting"], *played["absent"]]
    for entry in played["courts"]:
        for people in entry.values():
            found += people if isinstance(people, list) else []
    return found


def _file(folder: Path, plan: Plan, scores: Sequence[TypedScore], how: str) -> Path:
    """Write scores into a file as people do."""
    if how == "csv":
        path = folder / "typed.csv"
        lines = [f"{s.match};{s.sets[0]};{s.mark or ''}" for s in scores]
        path.write_text("\n".join(["Match;Score;If cut short", *lines]), encoding="utf-8")
    elif how == "text":
        path = folder / "typed.txt"
        plan_id = str(plan_to_dict(plan)["id"])
        lines = [f"Ana: {ScoreLine(plan_id, s.match, s.sets, s.mark)} # ours" for s in scores]
        path.write_text("\n".join(["Hi all", *lines]), encoding="utf-8")
    else:
        path = folder / "typed.xlsx"
        path.write_bytes(workbook_of(plan))
        _type_into(path, {score.match: score for score in scores}, whole=how != "workbook")
    return path


def _type_into(path: Path, scores: dict[str, TypedScore], *, whole: bool) -> None:
    book = openpyxl.load_workbook(path)
    left = set(scores)
    for row in book["Scores"].iter_rows(max_col=9):
        score = scores.get(str(row[0].value))
        if score is None:
            continue
        (games,) = score.sets
        row[5].value, row[6].value = (str(games), None) if whole else (games.a, games.b)
        row[8].value = score.mark and str(score.mark)
        left.remove(score.match)
    assert not left
    book.save(path)


TestWholeSeason = WholeSeason.TestCase
TestWholeSeason.settings = settings(
    max_examples=EXAMPLES,
    stateful_step_count=10,
    deadline=None,
    suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow],
)
pytestmark = pytest.mark.filterwarnings("ignore::UserWarning:openpyxl")
