"""Least sums of squared opponent counts for small evenings, proved again."""

from __future__ import annotations

import pytest
from evenings_to_seat import DOUBLES, DRILL, evening, must

from scheduler.rotation.constraint_model import prove
from scheduler.rotation.constraint_model.parameters import Status
from scheduler.rotation.constraint_model.small_cases import Proof
from scheduler.rotation.counts import count, repeats
from scheduler.rotation.shapes import problem_of

LEAST_SQUARES = {
    (4, 2): 12, (4, 3): 24,
    (5, 2): 10, (5, 3): 18, (5, 4): 28,
    (6, 3): 14, (6, 4): 20, (6, 5): 30,
    (7, 4): 16, (7, 5): 22, (7, 6): 30,
    (8, 3): 24, (8, 4): 40, (8, 5): 64,
}  # fmt: skip
"""Players and rounds: the least sum of squared opponent counts with no partner twice and fair
rests on all courts the players fill. Worked out before this code by local search, whist rounds
and another constraint model; sum of O^2 = opponents + 2 x repeats."""


@pytest.mark.parametrize("people", [4, 5, 6, 7, 8])
def test_known_optima_are_attained_and_not_beaten(people):
    """The known least value has a solution, and one repeat less is proved to have none."""
    for (n, rounds), squares in LEAST_SQUARES.items():
        if n != people:
            continue
        courts = people // 4
        least = (squares - 4 * courts * rounds) // 2
        problem = problem_of(evening(people, courts, [DOUBLES] * rounds))
        assert prove(problem, "opponent_repeats", least, 30) is False
        if least:
            assert prove(problem, "opponent_repeats", least - 1, 30) is True


def test_the_solution_found_has_what_was_asked():
    """A solution handed back has as few repeats as asked, counted from its seats."""
    problem = problem_of(evening(8, 2, [DOUBLES] * 4))
    status, solution = Proof(problem, "opponent_repeats", 4).settle(1, 30)
    assert status is Status.BEST
    counts = count(problem, solution)
    assert repeats(counts.opponents.values()) == 4
    assert set(counts.partners.values()) == {1}


def test_partners_must_repeat_after_all_have_partnered():
    """Four people have three pairings of teams, so a fourth round repeats two partnerships."""
    problem = problem_of(evening(4, 1, [DOUBLES] * 4))
    assert prove(problem, "partner_repeats", 1, 10) is True
    assert prove(problem, "partner_repeats", 2, 10) is False


def test_meetings_of_eight():
    """Two rounds of eight share at least four meetings: each four meets two of each court again."""
    problem = problem_of(evening(8, 2, [DOUBLES] * 2))
    assert prove(problem, "meeting_repeats", 3, 10) is True
    assert prove(problem, "meeting_repeats", 4, 10) is False


def test_wishes_are_kept_in_a_proof():
    """A must that fixes partners takes its pair out of the count and binds every solution."""
    problem = problem_of(evening(4, 1, [DOUBLES] * 2, [must("partners", "P0", "P1")]))
    assert prove(problem, "partner_repeats", 0, 10) is True
    assert prove(problem, "partner_repeats", 1, 10) is False


def test_too_little_time_settles_nothing():
    """Without units the answer is that nothing is known."""
    problem = problem_of(evening(8, 2, [DOUBLES] * 5))
    assert prove(problem, "opponent_repeats", 11, 0.0) is None


@pytest.mark.parametrize(
    ("kinds", "measure"), [([DRILL, DOUBLES], "opponent_repeats"), ([DOUBLES], "court_repeats")]
)
def test_other_questions_are_refused(kinds, measure):
    """Drills and measures that are not repeats of people are refused with a reason."""
    with pytest.raises(ValueError, match=r"only rounds of matches|measure must be one of"):
        prove(problem_of(evening(8, 2, kinds)), measure, 0, 1)
