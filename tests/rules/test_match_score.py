"""Scores of whole matches against the ITF Rules of Tennis, Rules 5b, 6 and 7, and the appendix.

The expected answers are read off the rules' own wording, not off the program: six games with a
lead of two and a tie-break at six all (6b), no tie-break (6a), four games in a short set, ten or
seven points with a lead of two in a match tie-break (appendix "Alternative Procedures and Scoring
Methods").
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.formats import SetFormat
from scheduler.domain.score_text import Mark, SetScore, read_sets
from scheduler.rules.match_score import complaint, outcome
from scheduler.rules.state import Team

FINISHED = {
    SetFormat.TIE_BREAK: "6-0 6-1 6-2 6-3 6-4 7-5 7-6",
    SetFormat.SHORT: "4-0 4-1 4-2 5-3 5-4",
    SetFormat.SHORT_3_3: "4-0 4-1 4-2 4-3",
    SetFormat.PRO: "8-0 8-1 8-2 8-3 8-4 8-5 8-6 9-7 9-8",
}
"""Every score, winner first, that ends a set of these formats (rules facts 1 and 2)."""


def said(text: str, form: SetFormat, mark: Mark | None = None, *, ask: bool = False) -> str:
    """Return the complaint about a written score."""
    return complaint(read_sets(text), mark, form, ask_tie_breaks=ask)


@pytest.mark.parametrize("form", FINISHED)
def test_just_the_scores_of_the_rule_finish_a_set(form: SetFormat) -> None:
    """Of all scores up to 12 games each, exactly those the rule names are taken as finished."""
    taken = {(a, b) for a in range(13) for b in range(13) if not said(f"{a}-{b}", form)}
    winners_first = {(score.a, score.b) for score in read_sets(FINISHED[form])}
    assert taken == winners_first | {(b, a) for a, b in winners_first}


def test_an_advantage_set_goes_on_until_a_lead_of_two() -> None:
    """Rule 6a: 6-4 and 9-7 end it, 6-5, 7-6 and 10-7 cannot stand as its end."""
    assert not said("6-4", SetFormat.ADVANTAGE)
    assert not said("9-7", SetFormat.ADVANTAGE)
    assert all(said(score, SetFormat.ADVANTAGE) for score in ("6-5", "7-6", "10-7"))


@pytest.mark.parametrize(
    ("form", "goal"), [(SetFormat.MATCH_TIE_BREAK_10, 10), (SetFormat.MATCH_TIE_BREAK_7, 7)]
)
def test_a_match_tie_break_ends_at_its_goal_with_a_lead_of_two(form: SetFormat, goal: int) -> None:
    """Appendix: 10 (7) points, or more with a lead of exactly two, and never after it was over."""
    taken = {(a, b) for a in range(16) for b in range(a) if not said(f"{a}-{b}", form)}
    assert taken == {(goal, b) for b in range(goal - 1)} | {(a, a - 2) for a in range(goal + 1, 16)}


@pytest.mark.parametrize("score", ["6-5", "5-5", "0-0", "5-3"])
def test_a_set_cut_short_needs_its_mark(score: str) -> None:
    """A score on the way is refused without a mark and taken with one."""
    assert "not a finished" in said(score, SetFormat.TIE_BREAK)
    assert all(not said(score, SetFormat.TIE_BREAK, mark) for mark in Mark)


def test_a_final_score_takes_no_mark() -> None:
    """Who retired after the last point had lost already."""
    assert "final" in said("6-4", SetFormat.TIE_BREAK, Mark.A_RETIRED)


def test_tie_break_points_are_asked_for_only_if_wanted_and_belong_to_a_tie_break() -> None:
    """Rule 5b: 7-6 comes by a tie-break, 6-4 does not."""
    assert not said("7-6", SetFormat.TIE_BREAK)
    assert "tie-break" in said("7-6", SetFormat.TIE_BREAK, ask=True)
    assert not said("7-6(5)", SetFormat.TIE_BREAK, ask=True)
    assert "no tie-break" in said("6-4(5)", SetFormat.TIE_BREAK)


def test_a_match_tie_break_may_stand_for_the_deciding_set() -> None:
    """Appendix: at one set all; it counts as one set and one game, and nothing follows two sets."""
    sets = read_sets("6-4 3-6 10-7")
    assert not complaint(sets, None, SetFormat.TIE_BREAK)
    result = outcome(sets, None, SetFormat.TIE_BREAK)
    assert (result.winner, result.sets, result.games) == (Team.A, (2, 1), (10, 10))
    assert "over before" in said("6-4 6-3 10-7", SetFormat.TIE_BREAK)
    assert "another set follows" in said("6-5 3-6", SetFormat.TIE_BREAK)
    assert said("6-4 6-4", SetFormat.TIMED)
    assert said("10-4 10-4", SetFormat.MATCH_TIE_BREAK_10)


def test_who_retires_loses_whatever_the_score() -> None:
    """Common practice, no source: the other team wins; an unfinished match is nobody's."""
    sets = (SetScore(4, 2),)
    assert outcome(sets, Mark.A_RETIRED, SetFormat.TIE_BREAK).winner is Team.B
    assert outcome(sets, Mark.B_RETIRED, SetFormat.TIE_BREAK).winner is Team.A
    assert outcome(sets, Mark.UNFINISHED, SetFormat.TIE_BREAK).winner is None
    assert outcome(sets, Mark.UNFINISHED, SetFormat.TIE_BREAK).games == (4, 2)


def test_nothing_typed_is_no_fault_but_a_mark_alone_is() -> None:
    """A missing score is left open; a match cut short needs the score as it stood."""
    assert complaint((), None, SetFormat.TIE_BREAK) == ""
    assert complaint((), Mark.UNFINISHED, SetFormat.TIE_BREAK) != ""


@given(st.sampled_from(list(SetFormat)), st.integers(0, 14), st.integers(0, 14))
def test_both_teams_are_judged_alike(form: SetFormat, a: int, b: int) -> None:
    """Turning a score round turns the winner round and changes nothing else."""
    one, other = (SetScore(a, b),), (SetScore(b, a),)
    assert bool(complaint(one, None, form)) == bool(complaint(other, None, form))
    won, lost = outcome(one, None, form), outcome(other, None, form)
    assert won.games == lost.games[::-1]
    assert won.winner == (None if lost.winner is None else lost.winner.other)
