"""Recording evenings and scores: all or nothing, nothing twice, nothing lost."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from season_plans import PEOPLE, everything, plan_of, replanned, rows, scores_for

from scheduler.domain.errors import BadInput
from scheduler.domain.event import Player
from scheduler.domain.score_text import Mark, SetScore
from scheduler.domain.typed_score import TypedScore
from scheduler.season.history import history_of
from scheduler.season.naming import rename
from scheduler.season.recording import Options, record
from scheduler.season.results import results_of
from scheduler.season.schema import TABLES

Scores = dict[str, str]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return where a season goes."""
    return tmp_path / "season.db"


def standing(path: Path) -> Scores:
    """Return the scores that count, by match."""
    return {
        match.key: TypedScore(match.key, match.sets, match.mark).text
        for match in results_of(path).matches
    }


def test_the_same_scores_twice_add_nothing(path: Path) -> None:
    """The second time not one row of any table is new."""
    plan = plan_of()
    first = record(path, plan, scores_for(plan), source="evening.xlsx")
    before = everything(path)
    again = record(path, plan, scores_for(plan), source="evening.xlsx")
    assert len(first.added) == 6
    assert first.new_evening
    assert (again.added, again.corrected, again.unchanged) == ((), (), 6)
    assert everything(path) == before


def test_a_changed_score_is_a_new_row_that_names_the_old_one(path: Path) -> None:
    """Both rows stay; the new one counts."""
    plan = plan_of()
    typed = scores_for(plan)
    record(path, plan, typed)
    changed = replace(typed[2], sets=(SetScore(2, 6),))
    done = record(path, plan, [changed])
    assert [(c.match, c.now) for c in done.corrected] == [(changed.match, "2-6")]
    chain = rows(
        path,
        "SELECT old.sets, new.sets FROM scores new JOIN scores old ON old.id = new.corrects",
    )
    assert chain == [(typed[2].text, "2-6")]
    assert standing(path)[changed.match] == "2-6"


def test_blank_scores_take_nothing_back_but_withdraw_does(path: Path) -> None:
    """An older copy of the workbook cannot lose what was typed since."""
    plan = plan_of()
    typed = scores_for(plan)
    record(path, plan, typed)
    blank = record(path, plan, [replace(score, sets=()) for score in typed])
    assert "left as recorded" in blank.remarks[0]
    assert len(standing(path)) == 6
    done = record(path, plan, [], options=Options(withdraw=("R2C1",)))
    assert done.open == ("R2C1",)
    assert "R2C1" not in standing(path)
    again = record(path, plan, typed)
    assert again.added == ("R2C1",)
    assert len(rows(path, "SELECT id FROM scores")) == 8


def test_missing_scores_stay_open_and_marks_are_kept(path: Path) -> None:
    """Half an evening now, the rest later; a match cut short keeps its mark."""
    plan = plan_of()
    typed = scores_for(plan)
    cut = replace(typed[0], sets=(SetScore(4, 2),), mark=Mark.B_RETIRED)
    done = record(path, plan, [cut, *typed[1:3]])
    assert done.open == tuple(score.match for score in typed[3:])
    assert standing(path)[cut.match] == "4-2 B retired"
    assert record(path, plan, typed[3:]).open == ()


def test_a_fault_leaves_no_file_and_no_change(path: Path) -> None:
    """Nothing is written unless all of it is good."""
    plan = plan_of()
    wrong = TypedScore("R9C9", (SetScore(6, 4),), None, "Scores!F99")
    with pytest.raises(BadInput, match="Scores!F99: the plan has no match R9C9"):
        record(path, plan, [*scores_for(plan), wrong])
    assert list(path.parent.iterdir()) == []
    record(path, plan)
    before = everything(path)
    with pytest.raises(BadInput):
        record(path, plan, [*scores_for(plan), wrong])
    assert everything(path) == before


def test_a_replan_is_the_same_evening_and_keeps_the_scores_of_rounds_played(path: Path) -> None:
    """Rounds 1 and 2 stand; the rest takes the place of the old seats and is counted once."""
    plan = plan_of()
    later = replanned(plan, after=2)
    record(path, plan, scores_for(plan)[:2])
    record(path, later, scores_for(later)[2:])
    found = results_of(path)
    assert len(found.evenings) == 1
    assert len(found.matches) == 6
    assert [match.key for match in found.matches if match.key.startswith("R2")] == ["R2C1", "R2C2"]
    older = record(path, plan, scores_for(plan)[:2])
    assert older.unchanged == 2
    assert results_of(path).evenings[0].revision == 2


def test_a_score_of_a_match_that_was_planned_anew_is_refused(path: Path) -> None:
    """Typed into the old workbook, it would go to people who did not play."""
    plan = plan_of()
    record(path, replanned(plan, after=2))
    with pytest.raises(BadInput, match="planned anew in revision 2"):
        record(path, plan, scores_for(plan)[-1:])


def test_a_replan_cannot_unseat_a_match_that_has_a_score(path: Path) -> None:
    """Unless the user says that this plan is the one that was played."""
    plan = plan_of()
    record(path, plan, scores_for(plan))
    later = replanned(plan, after=2)
    with pytest.raises(BadInput, match="--replace-plan") as refused:
        record(path, later)
    assert len(refused.value.faults) == 4
    done = record(path, later, options=Options(replace_plan=True))
    assert len(done.open) == 4
    assert len(rows(path, "SELECT id FROM scores")) == 6


def test_another_plan_of_a_recorded_evening_is_asked_about(path: Path) -> None:
    """Same name, date and start, planned afresh with another seed."""
    record(path, plan_of(seed=1))
    with pytest.raises(BadInput, match="with another plan"):
        record(path, plan_of(seed=2))
    record(path, plan_of(seed=2), options=Options(replace_plan=True))
    assert len(results_of(path).evenings) == 1


def test_evenings_without_a_date_are_apart_unless_they_begin_alike(path: Path) -> None:
    """A weekly evening whose date is left blank is not last week's."""
    first, second = plan_of(seed=1, date=False), plan_of(seed=2, date=False)
    record(path, first)
    record(path, second)
    record(path, replanned(first, after=2))
    assert [e.revision for e in results_of(path).evenings] == [2, 1]


def test_the_database_refuses_to_change_or_delete_a_row(path: Path) -> None:
    """What a person typed is never changed in place, by this program or another."""
    plan = plan_of()
    record(path, plan, scores_for(plan))
    with closing(sqlite3.connect(path)) as connection:
        filled = [t for t in TABLES if connection.execute(f"SELECT 1 FROM {t}").fetchone()]
        assert {"scores", "spellings", "presence", "plans"} <= set(filled)
        for table in filled:
            for statement in (f"UPDATE {table} SET id = id", f"DELETE FROM {table}"):
                with pytest.raises(sqlite3.IntegrityError, match="never changed"):
                    connection.execute(statement)


def test_names_close_to_known_ones_are_asked_about(path: Path) -> None:
    """A slip of the pen must not become a person; both answers are one option away."""
    record(path, plan_of(1))
    names = ["Ada Birsh", *PEOPLE[1:]]
    with pytest.raises(BadInput, match="did you mean 'Ada Birch'"):
        record(path, plan_of(2, names=names))
    same = record(path, plan_of(2, names=names), options=Options(same={"Ada Birsh": "Ada Birch"}))
    assert same.new_people == ()
    # The spelling is known from now on.
    assert record(path, plan_of(3, names=names)).new_people == ()
    others = ["Ada Birchh", *PEOPLE[1:]]
    new = record(path, plan_of(4, names=others), options=Options(new=("Ada Birchh",)))
    assert new.new_people == ("Ada Birchh",)


def test_a_name_like_that_of_somebody_who_is_there_is_another_person(path: Path) -> None:
    """Anna and Anne on one list are two people, and nobody is asked."""
    record(path, plan_of(1, names=["Anna", *PEOPLE[1:]]))
    done = record(path, plan_of(2, names=["Anna", "Anne", *PEOPLE[1:9]]))
    assert done.new_people == ("Anne",)


def test_two_people_cannot_have_the_very_same_name(path: Path) -> None:
    """Tables go by names; a spelling that somebody gave up is free again."""
    record(path, plan_of(1))
    with pytest.raises(BadInput, match='there is a "Ada Birch" already'):
        record(path, plan_of(2), options=Options(new=("Ada Birch",)))
    rename(path, "Ada Birch", "Ada Ash")
    done = record(path, plan_of(2), options=Options(new=("Ada Birch",)))
    assert done.new_people == ("Ada Birch",)
    assert len(history_of(path, plan_of(20).event).turns) == len(PEOPLE) + 1


def test_case_and_blanks_do_not_make_another_person(path: Path) -> None:
    """Nobody means these as a difference; it is said, not asked."""
    record(path, plan_of(1))
    done = record(path, plan_of(2, names=["ada  BIRCH", *PEOPLE[1:]]))
    assert done.new_people == ()
    assert done.remarks == ("ada  BIRCH is taken for Ada Birch.",)


def test_every_doubtful_name_is_told_at_once(path: Path) -> None:
    """With wrong options beside."""
    record(path, plan_of(1))
    names = ["Ada Birsh", "Bruno Kole", *PEOPLE[2:]]
    with pytest.raises(BadInput) as refused:
        record(path, plan_of(2, names=names), options=Options(new=("Nobody",)))
    assert len(refused.value.faults) == 3


def test_a_person_added_by_a_replan_becomes_known(path: Path) -> None:
    """A latecomer is at the end of the list of the later revision."""
    plan = plan_of()
    record(path, plan)
    later = replanned(plan, after=2)
    event = replace(later.event, players=(*later.event.players, Player("Kofi Lark", 4.0)))
    rounds = tuple(replace(one, absent=("Kofi Lark",)) for one in later.rounds)
    assert record(path, replace(later, event=event, rounds=rounds)).new_people == ("Kofi Lark",)
