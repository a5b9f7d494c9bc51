"""Taking an evening and its scores into the season: all of it in one transaction, or nothing."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import Plan
from scheduler.domain.suggest import hint
from scheduler.domain.typed_score import TypedScore
from scheduler.season.evenings import HeldEvening, add_evening, add_plan, evening_of, held, id_of
from scheduler.season.people import (
    Known,
    People,
    add_spelling,
    load_people,
    new_person,
    recognise,
)
from scheduler.season.recordings import begin_recording
from scheduler.season.scores import (
    RecordedScore,
    add_score,
    matches_of,
    names_of,
    scores_of,
)
from scheduler.season.store import in_memory, writing


@dataclass(frozen=True, slots=True)
class Options:
    """What the user says beside the scores.

    Parameters
    ----------
    new
        Names that are new people although close to a known name.
    same
        For a spelling of the plan, the known name it stands for.
    withdraw
        Keys of matches whose recorded score is to be taken back.
    replace_plan
        Whether a plan made afresh for a recorded evening takes the place of its plan.
    """

    new: tuple[str, ...] = ()
    same: Mapping[str, str] = field(default_factory=dict)
    withdraw: tuple[str, ...] = ()
    replace_plan: bool = False


@dataclass(frozen=True, slots=True)
class Corrected:
    """A score that took the place of another; `now` is empty where it was taken back."""

    match: str
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class Recorded:
    """What a recording did.

    Parameters
    ----------
    evening
        Name and date of the evening, and whether it was new to the season.
    added, corrected, unchanged
        Keys of matches with a first score, corrections, and how many stayed.
    open
        Keys of matches still without a score.
    new_people, people
        Who became known, and how many are on the evening's list.
    remarks
        Sentences worth reading that are no faults.
    """

    evening: str
    new_evening: bool
    added: tuple[str, ...] = ()
    corrected: tuple[Corrected, ...] = ()
    unchanged: int = 0
    open: tuple[str, ...] = ()
    new_people: tuple[str, ...] = ()
    people: int = 0
    remarks: tuple[str, ...] = ()


def record(
    path: Path,
    plan: Plan,
    typed: Sequence[TypedScore] = (),
    *,
    source: str = "",
    options: Options | None = None,
) -> Recorded:
    """Take an evening with its scores into a season file, which is made if there is none.

    Parameters
    ----------
    path
        The season file.
    plan
        The evening's plan.
    typed
        Scores already found sound; one without sets says that nothing was typed there.
    source
        The file they come from, for messages and the log.
    options
        What the user says beside.

    Raises
    ------
    BadInput
        With every fault; then nothing is written, and no file is made.
    """
    given = options or Options()
    if not path.exists():
        with in_memory() as trial:
            _Recording(trial, plan, source, given).run(typed)
    with writing(path, create=True) as connection:
        return _Recording(connection, plan, source, given).run(typed)


class _Recording:
    """One recording under way, inside a transaction."""

    def __init__(
        self, connection: sqlite3.Connection, plan: Plan, source: str, options: Options
    ) -> None:
        self.connection, self.plan = connection, plan
        self.source, self.options = source, options
        self.people: People = load_people(connection)
        self.known: Known
        self._log: int | None = None

    @property
    def log(self) -> int:
        """The row of the log, made when the first thing is written."""
        if self._log is None:
            self._log = begin_recording(self.connection, "scores", self.source)
        return self._log

    def run(self, typed: Sequence[TypedScore]) -> Recorded:
        """Do all of it and say what was done."""
        is_new = self._is_new_plan()
        self.known = recognise(
            self.people,
            [player.name for player in self.plan.event.players],
            new=self.options.new if is_new else (),
            same=self.options.same,
            source=self.source,
            recorded=not is_new,
        )
        before = evening_of(self.connection, self.plan)
        evening = self._evening(before)
        self.people = load_people(self.connection)
        return self._scores(evening, typed, new_evening=before is None)

    def _is_new_plan(self) -> bool:
        found = self.connection.execute(
            "SELECT 1 FROM plans WHERE plan_id = ?", (id_of(self.plan),)
        ).fetchone()
        return found is None

    def _evening(self, before: HeldEvening | None) -> HeldEvening:
        """Return the evening with the plan that counts, added where it is new."""
        if before is None:
            row = add_evening(self.connection, self.plan.event, self.log)
            return self._with_plan(row)
        if before.plan_id == id_of(self.plan):
            return before
        newer = self.plan.revision > before.revision
        if not newer and not self.options.replace_plan:
            if self.plan.revision < before.revision:
                return before
            raise BadInput.one(self.source, _other_plan(before, self.plan))
        scores = scores_of(self.connection, before, self.people)
        after = self._with_plan(before.evening)
        if not self.options.replace_plan:
            self._keep_scores(scores, before, after)
        return after

    def _with_plan(self, evening: int) -> HeldEvening:
        person_of = dict(self.known.person_of)
        for name in self.known.new:
            person_of[name] = new_person(self.connection, name, self.log)
        for spelling in self.options.same:
            if spelling not in self.people.by_spelling:
                add_spelling(self.connection, person_of[spelling], spelling, self.log, shown=False)
        add_plan(self.connection, evening, self.plan, person_of, self.log)
        return next(e for e in held(self.connection) if e.evening == evening)

    def _keep_scores(
        self, scores: Mapping[str, RecordedScore], before: HeldEvening, after: HeldEvening
    ) -> None:
        """Refuse a plan that seats a match otherwise which has a score."""
        people = load_people(self.connection)
        kept = scores_of(self.connection, after, people)
        old = matches_of(self.connection, before.plan, people)
        lost = [score for key, score in scores.items() if score.sets and key not in kept]
        if lost:
            raise BadInput(
                [
                    Fault(
                        self.source,
                        f"{score.key} is recorded as {score.text} by "
                        f"{names_of(old[score.key], people)}, who do not play there in this plan; "
                        "give --replace-plan if this plan is right",
                    )
                    for score in lost
                ]
            )

    def _scores(
        self, evening: HeldEvening, typed: Sequence[TypedScore], *, new_evening: bool
    ) -> Recorded:
        former = scores_of(self.connection, evening, self.people)
        self._check(evening, typed, former)
        added, corrected, left, unchanged = [], [], dict[str, str](), 0
        taken_back = [TypedScore(key, (), None, "--withdraw") for key in self.options.withdraw]
        for score in (*typed, *taken_back):
            old = former.get(score.match)
            was = old.text if old else ""
            if not score.sets and score not in taken_back:
                left.update({score.match: was} if was else {})
            elif was == score.text:
                unchanged += 1
            else:
                add_score(self.connection, evening.plan, score, old, self.log)
                if was:
                    corrected.append(Corrected(score.match, was, score.text))
                else:
                    added.append(score.match)
        now = scores_of(self.connection, evening, self.people)
        keys = matches_of(self.connection, evening.plan, self.people)
        return Recorded(
            evening=evening.title,
            new_evening=new_evening,
            added=tuple(added),
            corrected=tuple(corrected),
            unchanged=unchanged,
            open=tuple(key for key in keys if key not in now or not now[key].sets),
            new_people=self.known.new if self._log is not None else (),
            people=len(self.plan.event.players),
            remarks=(*self.known.remarks, *_left(left, self.options.withdraw)),
        )

    def _check(
        self,
        evening: HeldEvening,
        typed: Sequence[TypedScore],
        former: Mapping[str, RecordedScore],
    ) -> None:
        """Refuse scores of matches the plan that counts does not have."""
        current = matches_of(self.connection, evening.plan, self.people)
        typed_keys = {score.match for score in typed if score.sets}
        faults = [
            Fault(score.where, self._why_not(score.match, evening))
            for score in typed
            if score.sets and not self._is_match(score.match, current)
        ]
        for key in self.options.withdraw:
            if key in typed_keys:
                faults.append(Fault("--withdraw", f"{key} also has a score in {self.source}"))
            elif key not in former or not former[key].sets:
                recorded = [other for other, score in former.items() if score.sets]
                what = f"no score is recorded for {key}{hint(key, recorded)}"
                faults.append(Fault("--withdraw", what))
        if faults:
            raise BadInput(faults)

    def _is_match(self, key: str, current: Mapping[str, object]) -> bool:
        """Return whether the match is the same in the plan at hand and the one that counts."""
        here = matches_by_key(self.plan).get(key)
        there = current.get(key)
        if here is None or there is None:
            return False
        teams = [
            frozenset(self.people.called(name) for name in team)
            for team in (here[1].team_a, here[1].team_b)
        ]
        return teams == list(getattr(there, "sides", ()))

    def _why_not(self, key: str, evening: HeldEvening) -> str:
        if key not in matches_by_key(self.plan):
            known = ", ".join(list(matches_by_key(self.plan))[:3])
            return f"the plan has no match {key} (its matches are {known} and so on)"
        return (
            f"match {key} was planned anew in revision {evening.revision}; type its score into "
            "the workbook of that revision"
        )


def _left(left: Mapping[str, str], taken_back: Sequence[str]) -> Iterator[str]:
    """Say which recorded scores are blank in the file, for a blank takes nothing back."""
    stay = [f"{key} {was}" for key, was in left.items() if key not in taken_back]
    if stay:
        yield (
            f"blank here, but left as recorded: {', '.join(stay)} "
            "(--withdraw MATCH takes one back)."
        )


def _other_plan(before: HeldEvening, plan: Plan) -> str:
    return (
        f"the season has {before.title} with another plan ({before.plan_id}, revision "
        f"{before.revision}; this is {id_of(plan)}, revision {plan.revision}); give "
        "--replace-plan if this plan is the one that was played"
    )
