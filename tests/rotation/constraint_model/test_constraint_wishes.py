"""Each kind of wish where it can be kept, and the reason given where it cannot."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from evenings_to_seat import AGAINST, DOUBLES, DRILL, MIXED, PAIRS, evening, must

from scheduler.domain.errors import NoPlan
from scheduler.rotation.constraint_model import conflict, first_solution
from scheduler.rotation.constraint_model.reasons import counting_sentences
from scheduler.rotation.counts import broken, count
from scheduler.rotation.problem import pair
from scheduler.rotation.shapes import problem_of
from scheduler.rotation.teams import with_teams_of

KEPT = [
    must("partners", "P0", "P5"),
    must("partners", "P0", "P5", in_round=3),
    must("partners once", "P0", "P5"),
    must("not partners", "P0", "P5"),
    must("against once", "P0", "P5"),
    must("against once", "P0", "P5", in_round=4),
    must("not same court", "P0", "P5"),
    must("same court", "P0", "P5"),
    must("on court", "P0", "Court 3"),
    must("on court", "P0", "Court 1", in_round=2),
    must("rests", "P0", in_round=3),
    must("plays at most", "P0", number=5),
    must("rounds running at most", "P0", number=3),
]


@pytest.mark.parametrize("wish", KEPT, ids=lambda wish: f"{wish.sentence}")
def test_a_wish_that_can_be_kept_is_kept(wish):
    """Each kind of wish holds in the solution, as the engine's own count sees it."""
    problem = problem_of(evening(14, 3, [DRILL, *[DOUBLES] * 5], [wish]))
    solution = first_solution(problem, 1, 10)
    assert broken(problem, solution, must=True) == []


def reasons(*args, **more):
    """Return the sentences of the refusal of an evening."""
    return refusal(evening(*args, **more)).conflict


def refusal(event):
    """Return the refusal of an evening, which must be proved."""
    with pytest.raises(NoPlan) as caught:
        first_solution(problem_of(event), 1, 10)
    assert caught.value.proven
    return caught.value


def played(problem, seatings, wishes):
    """Return a problem whose first rounds were played as given, with other wishes."""
    event = replace(problem.event, wishes=tuple(wishes))
    return replace(problem_of(event), played=tuple(seatings))


def let_rest(seating, player):
    """Return a seating with a player on the bench instead of the first one there."""
    other = seating.rest[0]
    swap = {player: other, other: player}
    blocks = tuple(tuple(swap.get(p, p) for p in block) for block in seating.blocks)
    return (
        replace(seating, blocks=blocks, rest=tuple(swap.get(p, p) for p in seating.rest))
        if player not in seating.rest
        else seating
    )


def test_partners_who_must_not_share_a_court_are_named_alone():
    """Wishes that contradict each other outright are the whole reason, whoever rests."""
    clash = [must("partners", "P0", "P1"), must("not same court", "P0", "P1")]
    others = [must("not partners", "P2", "P3"), must("on court", "P4", "Court 2")]
    for people in (16, 18, 22):
        assert reasons(people, 4, [DRILL, *[DOUBLES] * 5], [*others, *clash]) == tuple(
            wish.sentence for wish in clash
        )


@pytest.mark.parametrize(
    ("wishes", "more"),
    [
        ([must("partners", "P0", "P1"), must("partners", "P0", "P2")], ()),
        ([must("partners", "P0", "P1"), must("not partners", "P1", "P0")], ()),
        ([must("same court", "P0", "P1"), must("not same court", "P0", "P1")], ()),
        ([must("on court", "P0", "Court 1"), must("on court", "P0", "Court 2")], ()),
        (
            [
                must("same court", "P0", "P1"),
                must("on court", "P0", "Court 1"),
                must("on court", "P1", "Court 2"),
            ],
            (),
        ),
        (
            [must("rests", "P0", in_round=1)],
            ("round 1 (drill) has 3 courts for 14 players, nobody rests",),
        ),
        (
            [must("rests", f"P{i}", in_round=2) for i in range(3)],
            ("round 2 (doubles) has 3 courts for 14 players, 2 rest",),
        ),
        (
            [must("plays at most", "P0", number=3)],
            ("it would need P0 to rest more often than the fair share of 0.71",),
        ),
        (
            [must("rounds running at most", "P0", number=1)],
            ("it would need P0 to rest more often than the fair share of 0.71",),
        ),
        (
            [must("rests", "P0", in_round=2), must("rests", "P0", in_round=4)],
            ("it would need P0 to rest more often than the fair share of 0.71",),
        ),
    ],
)  # fmt: skip
def test_the_reason_is_a_smallest_clash_and_what_it_runs_into(wishes, more):
    """Musts that can be kept are not named; fair shares and courts are where they count."""
    others = [must("partners", "P7", "P8"), must("plays at most", "P9", number=6)]
    found = reasons(14, 3, [DRILL, *[DOUBLES] * 5], [*others, *wishes])
    assert set(found) == {*(wish.sentence for wish in wishes), *more}


def test_the_smallest_of_two_clashes_is_named():
    """Where three wishes clash and two others do, the two are named."""
    three = [must("rests", f"P{i}", in_round=2) for i in range(3)]
    two = [must("partners", "P5", "P6"), must("not partners", "P5", "P6")]
    assert set(reasons(14, 3, [DOUBLES] * 4, [*three, *two])) == {w.sentence for w in two}


def test_a_court_that_is_shut_is_said_to_be():
    """A wish for a court that is not used in a drill names the court and the round."""
    event = evening(12, 4, [DRILL, DOUBLES], [must("on court", "P0", "Court 4")])
    courts = (*event.courts[:3], replace(event.courts[3], opens=20))
    found = refusal(replace(event, courts=courts)).conflict
    assert found[0] == "P0 must be on Court 4"
    assert "Court 4 cannot be used in round 1 (drill)" in found


def test_a_meeting_that_comes_too_late_is_said_to():
    """A wish to meet once fails at once for two who did not and share no round to come."""
    event = evening(9, 2, [DOUBLES] * 4)
    leaving = replace(event.players[0], leaves=40)
    event = replace(event, players=(leaving, *event.players[1:]))
    first = first_solution(problem_of(event), 1, 10)[:2]
    met = count(problem_of(event), first).partners
    stranger = next(p for p in range(1, 9) if pair(0, p) not in met)
    again = played(problem_of(event), first, [must("partners once", "P0", f"P{stranger}")])
    with pytest.raises(NoPlan) as caught:
        first_solution(again, 1, 10)
    assert caught.value.conflict == (
        f"P0 and P{stranger} must be partners at least once",
        f"P0 and P{stranger} are not there together in any round still to come",
    )


@pytest.mark.parametrize("kind", ["partners once", "against once"])
def test_people_never_there_together_owe_nothing(kind):
    """A wish to meet once asks nothing of two who share no round."""
    event = evening(10, 2, [DOUBLES] * 4, [must(kind, "P0", "P1")])
    early, late = replace(event.players[0], leaves=40), replace(event.players[1], arrives=40)
    problem = problem_of(replace(event, players=(early, late, *event.players[2:])))
    assert broken(problem, first_solution(problem, 1, 10), must=True) == []


def test_a_wish_about_somebody_absent_asks_nothing():
    """Partners of whom one is late owe nothing to the rounds before."""
    event = evening(9, 2, [DOUBLES] * 4, [must("partners", "P0", "P1")])
    late = replace(event.players[1], arrives=40)
    problem = problem_of(replace(event, players=(event.players[0], late, *event.players[2:])))
    assert broken(problem, first_solution(problem, 1, 10), must=True) == []


def test_mixed_rounds_cannot_pair_two_of_one_group():
    """In a mixed round without rests two of one group cannot be partners."""
    found = reasons(8, 2, [DOUBLES, MIXED], [must("partners", "P0", "P2")])
    offer = "round 2 (mixed) has 2 courts for 8 players, nobody rests"
    assert found == (
        "P0 and P2 must be partners",
        f"{offer}, partners are of different groups",
    )


@pytest.mark.parametrize(("kind", "same"), [(MIXED, False), (AGAINST, True)])
def test_teams_are_of_the_groups_a_round_asks_for(kind, same):
    """Mixed teams have both groups; group against group sets two against two of the other."""
    problem = problem_of(evening(13, 3, [kind] * 3, [must("against once", "P0", "P1")]))
    for seating in first_solution(problem, 1, 10):
        for a, b, c, d in seating.blocks:
            assert (a % 2 == b % 2) is same
            assert (c % 2 == d % 2) is same
            assert a % 2 != (c if same else b) % 2


def test_pairs_stay_the_same_and_rest_together():
    """In pairs rounds the two of a team share a team or rest, and nobody plays with another."""
    event = evening(14, 3, [PAIRS] * 4, [must("partners", "P0", "P13")])
    problem = problem_of(event)
    solution = first_solution(problem, 1, 10)
    counts = count(problem, solution)
    assert set(counts.partners) <= {pair(*team) for team in problem.teams}
    assert (0, 13) in problem.teams


def test_other_pairs_are_tried_where_the_chosen_ones_break_a_must():
    """Two who must oppose but were made a team are paired with others, and the problem follows."""
    event = evening(8, 2, [PAIRS] * 3, [])
    problem = problem_of(event)
    one, other = problem.teams[0]
    event = evening(8, 2, [PAIRS] * 3, [must("against once", f"P{one}", f"P{other}")])
    problem = replace(problem_of(event), teams=problem.teams)
    solution = first_solution(problem, 1, 10)
    assert broken(problem, solution, must=True) == []
    assert pair(one, other) not in with_teams_of(problem, solution).teams


def test_played_rounds_count_and_stay():
    """After two rounds with a rest, no more are given than the fair share of the evening allows."""
    event = evening(9, 2, [DOUBLES] * 9, [must("rests", "P3", in_round=1)])
    problem = problem_of(event)
    first = first_solution(problem, 1, 10)
    again = played(problem, first[:4], [must("partners once", "P0", "P1")])
    second = first_solution(again, 1, 10)
    assert second[:4] == first[:4]
    rests = [sum(p in seating.rest for seating in second) for p in range(9)]
    assert rests == [1] * 9
    assert broken(again, second, must=True) == []


def test_rests_are_as_fair_as_what_was_played_allows():
    """Somebody who was made to rest too often already does not make the evening impossible."""
    problem = problem_of(evening(9, 2, [DOUBLES] * 9))
    first = first_solution(problem, 1, 10)
    shown = [let_rest(seating, 0) for seating in first[:3]]
    second = first_solution(played(problem, tuple(shown), []), 1, 10)
    rests = [sum(p in seating.rest for seating in second) for p in range(9)]
    assert rests[0] == 3
    assert sorted(rests[1:]) == [0, 0, 1, 1, 1, 1, 1, 1]


@pytest.mark.parametrize(
    "wishes",
    [
        [must("not same court", f"P{i}", f"P{j}") for i in range(6) for j in range(i)],
        [must("on court", f"P{i}", "Court 1") for i in range(6)],
        [must("partners", "P0", "P1"), must("not same court", "P0", "P1")],
    ],
)
def test_a_large_evening_is_explained_in_time(wishes):
    """24 players, 10 rounds: the reason is found within the ten seconds that are allowed."""
    others = [must("partners once", f"P{i}", f"P{i + 1}") for i in range(8, 20, 2)]
    problem = problem_of(evening(24, 5, [DRILL] * 2 + [DOUBLES] * 8, [*others, *wishes]))
    start = time.process_time()
    found = conflict(problem, 1, 6)
    assert time.process_time() - start < 10
    assert {w.sentence for w in wishes} == set(found[: len(wishes)])


@pytest.mark.parametrize(("rounds", "said"), [(1, "is only 1 round"), (2, "are only 2 rounds")])
def test_what_there_is_too_little_of_is_counted_in_good_english(rounds: int, said: str) -> None:
    """Three partners wanted once each in one or two rounds: one round is, two rounds are."""
    wishes = [must("partners once", "P0", other) for other in ("P1", "P2", "P3")]
    problem = problem_of(evening(4, 1, [DOUBLES] * rounds, wishes))
    assert counting_sentences(problem, problem.demands) == (f"there {said} for it",)
