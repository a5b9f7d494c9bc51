"""Up and down rounds: winners a court up, losers a court down, partners split, rests fair.

Common practice in clubs, no source.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from drawn_events import plain_event
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.checker import check
from scheduler.domain.errors import BadInput
from scheduler.domain.event import Event, Kind, Mixing, Wish, WishKind
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.rotation.effort import EFFORTS
from scheduler.workflow.next_round import seat_next
from scheduler.workflow.night import Night
from scheduler.workflow.plan import make_plan
from scheduler.workflow.replan import replan

LADDER = Kind.UP_AND_DOWN


@pytest.fixture(autouse=True, scope="module")
def tiny_effort() -> None:
    """Let every plan here take milliseconds."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(EFFORTS, "tiny", 30_000)
        yield


def ladder(players: int, courts: int, *kinds: Kind, **facts) -> Event:
    """Return an evening of people whose levels are all different, P0 the strongest."""
    event = plain_event(players, courts, len(kinds), *kinds, **facts)
    people = tuple(replace(p, level=10 - i / 4) for i, p in enumerate(event.players))
    return replace(event, players=people)


def planned(event: Event) -> Plan:
    """Return a plan of an event."""
    return make_plan(event, effort="tiny").plan


def after(plan: Plan, *scores: str) -> Plan:
    """Return the plan with its next round seated; the checker accepts it."""
    new = seat_next(plan, scores, effort="tiny").plan
    assert check(new).faults == ()
    return new


def rung_of(planned_round: PlannedRound) -> dict[str, int]:
    """Return the court of everybody in a match, 0 being the top."""
    return {name: int(match.court[1:]) for match in planned_round.matches for name in match.players}


# ---- the first round ------------------------------------------------------------------------


def test_the_first_round_is_by_level_and_the_later_ones_are_open() -> None:
    """The strongest four are on the first court; nobody is seated where results must come first."""
    plan = planned(ladder(12, 3, Kind.DOUBLES, LADDER, LADDER, LADDER))
    first = plan.rounds[1]
    assert [sorted(m.players, key=lambda n: int(n[1:])) for m in first.matches] == [
        [f"P{i}" for i in range(c, c + 4)] for c in (0, 4, 8)
    ]
    for waiting in plan.rounds[2:]:
        assert (waiting.open, waiting.courts, waiting.resting) == (True, (), ())


def test_levels_mixed_draws_the_first_round_like_doubles() -> None:
    """With Levels set to mixed the strongest four are not kept together."""
    event = ladder(16, 4, LADDER, LADDER)
    first = replace(event.rounds[0], levels=Mixing.MIXED)
    plan = planned(replace(event, rounds=(first, *event.rounds[1:])))
    top = {f"P{i}" for i in range(4)}
    assert all(set(match.players) != top for match in plan.rounds[0].matches)


def test_a_must_goes_before_the_order_by_level() -> None:
    """P0 must be on the last court, and is."""
    must = Wish(WishKind.ON_COURT, "P0", "C2")
    plan = planned(ladder(12, 3, LADDER, LADDER, wishes=(must,)))
    assert rung_of(plan.rounds[0])["P0"] == 2


# ---- moving ---------------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(
    st.integers(2, 4),
    st.integers(0, 3),
    st.lists(st.sampled_from(["6-4", "2-6", "5-5", None]), min_size=12, max_size=12),
)
def test_everybody_who_plays_on_moves_one_court(courts: int, more: int, typed: list) -> None:
    """Winners go one up, losers one down, the ends stay; whoever moves had a reason in the score.

    Partners of the round before are never partners again, and rests stay
    within one of the fair share, as the checker sees by itself.
    """
    plan = planned(ladder(4 * courts + more, courts, LADDER, LADDER, LADDER, LADDER))
    for number in (1, 2, 3):
        before = plan.rounds[number - 1]
        marks = [typed.pop() for _ in before.matches]
        scores = [f"{m.court}={s}" for m, s in zip(before.matches, marks, strict=True) if s]
        plan = after(plan, *scores)
        now = plan.rounds[number]
        levels = {p.name: p.level for p in plan.event.players}
        was, rung = rung_of(before), rung_of(now)
        for match, mark in zip(before.matches, marks, strict=True):
            winners = expected(match, mark, levels)
            for name in set(match.players) & set(rung):
                step = -1 if name in winners else 1
                assert rung[name] == min(max(was[name] + step, 0), courts - 1)
        teams = [set(team) for m in before.matches for team in (m.team_a, m.team_b)]
        assert all(set(t) not in teams for m in now.matches for t in (m.team_a, m.team_b))
        assert not now.open


def expected(match: Match, mark: str | None, levels: dict[str, float]) -> tuple[str, str]:
    """Return who counts as winner, by the rule of ``rota next --help``."""
    stronger, weaker = match.team_a, match.team_b
    if sum(levels[n] for n in match.team_a) <= sum(levels[n] for n in match.team_b):
        stronger, weaker = match.team_b, match.team_a
    if mark is None:
        return stronger
    a, b = map(int, mark.split("-"))
    if a == b:
        even = sum(levels[n] for n in match.team_a) == sum(levels[n] for n in match.team_b)
        return match.team_b if even else weaker
    return match.team_a if a > b else match.team_b


def test_those_who_rested_come_in_and_others_rest() -> None:
    """With nine on two courts nobody rests twice before everybody has rested."""
    plan = planned(ladder(9, 2, *[LADDER] * 9))
    for _ in range(8):
        plan = after(plan, "C0=6-4", "C1=3-6")
    resting = [r.resting[0] for r in plan.rounds]
    assert sorted(resting) == sorted(f"P{i}" for i in range(9))


def test_a_round_between_does_not_break_the_order() -> None:
    """Doubles between two such rounds change nothing: results of the last ladder round count."""
    plan = planned(ladder(8, 2, LADDER, Kind.DOUBLES, LADDER))
    new = after(plan, "C0=6-0", "C1=6-0")
    assert new.rounds[:2] == plan.rounds[:2]
    down = set(plan.rounds[0].matches[0].team_b)
    up = set(plan.rounds[0].matches[1].team_a)
    assert all(rung_of(new.rounds[2])[name] == 1 for name in down)
    assert all(rung_of(new.rounds[2])[name] == 0 for name in up)


def test_a_must_is_kept_when_results_say_otherwise() -> None:
    """Two who must not share a court would meet after these scores; somebody is moved."""
    must = Wish(WishKind.NOT_SAME_COURT, "P0", "P5")
    plan = planned(ladder(8, 2, LADDER, LADDER, wishes=(must,)))
    top, low = plan.rounds[0].matches
    a = "6-0" if "P0" in top.team_a else "0-6"
    b = "6-0" if "P5" in low.team_a else "0-6"
    rung = rung_of(after(plan, f"C0={a}", f"C1={b}").rounds[1])
    assert rung["P0"] != rung["P5"]


def test_replanning_keeps_a_round_that_results_have_seated() -> None:
    """Somebody leaves between results and the next round: who can stay stays on the court."""
    plan = after(planned(ladder(9, 2, *[LADDER] * 4)), "C0=6-4", "C1=6-4")
    gone = plan.rounds[1].matches[1].team_a[0]
    new = replan(plan, Night(after=1, absent=(gone,)), effort="tiny").plan
    before, now = rung_of(plan.rounds[1]), rung_of(new.rounds[1])
    assert all(now[name] == court for name, court in before.items() if name != gone)
    assert [r.open for r in new.rounds] == [False, False, True, True]


def test_replanning_before_its_results_opens_a_round_again() -> None:
    """If round 1 is played again after all, round 2 cannot stay seated from its results."""
    plan = after(planned(ladder(8, 2, *[LADDER] * 3)), "C0=6-4", "C1=6-4")
    new = replan(plan, Night(after=0), effort="tiny").plan
    assert [r.open for r in new.rounds] == [False, True, True]


# ---- scores ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "a_wins"),
    [
        ("C0=6-4", True),
        ("1 = 4:6", False),
        ("c0=7-6(5)", True),
        ("C0=6-4 3-6 7-10", False),
        ("C0=3-6, 6-4, 10-7", True),
        ("C0=5-1 A retired", False),
        ("C0=0-3 unfinished", False),
        ("rota 0123456789ab R1C1 2-6 # words", False),
    ],
)
def test_scores_are_read_as_people_write_them(typed: str, a_wins: bool) -> None:
    """Names or numbers of courts, several sets, tie-breaks, matches cut short, a phone's line."""
    plan = planned(ladder(8, 2, LADDER, LADDER))
    rung = rung_of(after(plan, typed).rounds[1])
    match = plan.rounds[0].matches[0]
    assert {rung[name] for name in match.team_a} == {0 if a_wins else 1}
    assert {rung[name] for name in match.team_b} == {1 if a_wins else 0}


def test_every_faulty_score_is_named() -> None:
    """All faults at once, and nothing is seated."""
    plan = planned(ladder(8, 2, LADDER, LADDER))
    with pytest.raises(BadInput) as refusal:
        seat_next(plan, ["C0=6-4", "C0=4-6", "C5=6-4", "C1=six", "C1"], effort="tiny")
    assert [str(fault) for fault in refusal.value.faults] == [
        '--scores "C0=4-6": C0 has the score 6-4 already',
        "--scores \"C5=6-4\": no court called 'C5' (there are C0, C1)",
        "--scores \"C1=six\": must be a score such as 6-4, got 'six'",
        "--scores \"C1\": must look like 'Court 1=6-4', or name a file of such lines",
    ]


def test_without_an_open_round_there_is_nothing_to_seat() -> None:
    """The message says why."""
    for event in (ladder(8, 2, Kind.DOUBLES), ladder(8, 2, LADDER)):
        with pytest.raises(BadInput, match="up and down"):
            seat_next(planned(event), [], effort="tiny")


def test_rests_stay_within_one_of_the_share_over_a_whole_evening() -> None:
    """Eleven people, two courts, seven rounds: three rest each time, shares are 21/11."""
    plan = planned(ladder(11, 2, *[LADDER] * 7))
    for number in range(6):
        plan = after(plan, f"C0=6-{number % 7}", f"C1={number % 7}-6")
    rests = [sum(p.name in r.resting for r in plan.rounds) for p in plan.event.players]
    assert all(abs(n - Fraction(21, 11)) < 1 for n in rests)


def test_a_ladder_match_somebody_never_came_to_still_moves_the_others() -> None:
    """Its score, if there was one, or else the levels decide; who never came is just not there."""
    plan = planned(ladder(13, 3, LADDER, LADDER, LADDER))
    lacking = plan.rounds[0].matches[1]
    gone = lacking.team_a[0]
    noticed = replan(plan, Night(after=1, no_shows=(gone,)), effort="tiny").plan
    for scores, winners in ((("2=3-6",), lacking.team_b), (("2=6-3",), lacking.team_a)):
        new = after(noticed, "1=6-4", "3=6-4", *scores)
        assert new.rounds[0] == noticed.rounds[0]
        assert gone in new.rounds[1].absent
        here = [name for name in winners if name != gone]
        assert all(rung_of(new.rounds[1])[name] == 0 for name in here)
        below = plan.rounds[0].matches[2].team_a
        assert all(rung_of(new.rounds[1])[name] == 1 for name in below)
