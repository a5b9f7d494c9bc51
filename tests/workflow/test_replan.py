"""What happens on a night, case by case: people leave, come, swap; courts and matches are lost."""

from __future__ import annotations

from dataclasses import replace

import pytest
from drawn_events import plain_event

from scheduler.checker import check
from scheduler.checker.evening import Evening
from scheduler.checker.measures import opponent_counts, partner_counts
from scheduler.checker.shares import rest_balance
from scheduler.domain.errors import BadInput
from scheduler.domain.event import Event, Here, Kind, Wish, WishKind
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.rotation.effort import EFFORTS
from scheduler.workflow.night import Night
from scheduler.workflow.plan import make_plan
from scheduler.workflow.replan import Replanned, replan


@pytest.fixture(autouse=True)
def tiny_effort(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every plan here take milliseconds."""
    monkeypatch.setitem(EFFORTS, "tiny", 30_000)


def leveled(players: int, courts: int, rounds: int, *kinds: Kind, **facts) -> Event:
    """Return a plain evening of people of levels 1 to 10 in turn."""
    event = plain_event(players, courts, rounds, *kinds, **facts)
    people = tuple(replace(p, level=1 + i * 7 % 10) for i, p in enumerate(event.players))
    return replace(event, players=people)


def planned(event: Event) -> Plan:
    """Return a plan of an event."""
    return make_plan(event, effort="tiny").plan


def changed(plan: Plan, after: int, **what) -> Replanned:
    """Replan, and see that rounds played stay and the checker accepts the rest."""
    result = replan(plan, Night(after=after, **what), effort="tiny")
    assert result.plan.rounds[:after] == plan.rounds[:after] or "add" in what
    assert check(result.plan).faults == ()
    return result


def refused(plan: Plan, after: int, **what) -> list[str]:
    """Return the faults of a replan that is refused."""
    with pytest.raises(BadInput) as refusal:
        replan(plan, Night(after=after, **what), effort="tiny")
    return [str(fault) for fault in refusal.value.faults]


def place(planned_round: PlannedRound, name: str) -> str:
    """Return where somebody is in a round."""
    for entry in planned_round.courts:
        if name in entry.players:
            return entry.court
    return "rest" if name in planned_round.resting else "absent"


# ---- who leaves and comes -------------------------------------------------------------------


def test_who_leaves_is_absent_from_the_next_round_on() -> None:
    """Rounds played keep the one who left; every later one has them absent."""
    plan = changed(planned(leveled(10, 2, 5)), 2, absent=("P3",)).plan
    assert [place(r, "P3") == "absent" for r in plan.rounds] == [False, False, True, True, True]
    assert plan.event.changes == ("Revision 2, after round 2: P3 left",)
    assert (plan.revision, plan.settled) == (2, 2)


def test_a_no_show_is_not_here_at_all_and_may_come_after_all() -> None:
    """Absent before round 1, back from round 3 on, nothing played twice."""
    plan = changed(planned(leveled(9, 2, 4)), 0, absent=("P3",)).plan
    assert plan.event.player_by_name["P3"].here is Here.NO
    back = changed(plan, 2, add=("P3",)).plan
    assert [place(r, "P3") == "absent" for r in back.rounds] == [True, True, False, False]


def test_a_newcomer_is_last_on_the_list_and_absent_before() -> None:
    """Played rounds only get the new name among the absent; keys of the others stay."""
    plan = planned(leveled(8, 2, 4))
    new = changed(plan, 2, add=("Åsa, the elder,4.5",)).plan
    assert new.event.players[:-1] == plan.event.players
    assert new.event.players[-1].name == "Åsa, the elder"
    assert new.event.players[-1].level == 4.5
    for before, after in zip(plan.rounds[:2], new.rounds[:2], strict=True):
        assert after == replace(before, absent=(*before.absent, "Åsa, the elder"))


def test_a_newcomer_without_a_level_is_refused_with_a_hint() -> None:
    """Nobody is added by a slip of the pen: somebody new needs a level, and a near name is told."""
    with pytest.raises(BadInput, match=r"Zed is new and needs a level, as in --add \"Zed,5\""):
        changed(planned(leveled(9, 2, 3)), 1, add=("Zed",))


def test_names_may_be_numbers_and_accents_do_not_matter() -> None:
    """A number is a place in the players list, counted from 1, unless somebody is called that."""
    event = leveled(9, 2, 3)
    people = (replace(event.players[0], name="Zoë, B"), *event.players[1:])
    plan = planned(replace(event, players=people))
    assert changed(plan, 1, absent=("zoe, b",)).plan.event.players[0].leaves is not None
    assert changed(plan, 1, absent=("2",)).plan.event.players[1].leaves is not None


def test_everything_wrong_is_said_at_once() -> None:
    """Each fault names its option, with a hint where a name is near."""
    plan = planned(leveled(8, 2, 3))
    faults = refused(
        plan,
        1,
        absent=("P33", "Q"),
        add=("P1,4", "New,11", "Two,4,5"),
        lost_courts=("C7",),
        swaps=("P1", "P1,P1"),
        unfinished=("C9",),
    )
    assert faults == [
        "--unfinished \"C9\": no court called 'C9' (there are C0, C1)",
        "--absent \"P33\": no player called 'P33' (there are P0, P1, P2, P3, P4, P5, P6, P7)",
        "--absent \"Q\": no player called 'Q' (there are P0, P1, P2, P3, P4, P5, P6, P7)",
        '--add "P1,4": P1 is on the list and here already',
        '--add "New,11": level must be a number from 1 to 10, got "11"',
        '--add "Two,4,5": has two numbers; write a level with a point, such as 4.5',
        "--lost-court \"C7\": no court called 'C7' (there are C0, C1)",
        "--swap \"P1\": must be two names with a comma between, got 'P1'",
        '--swap "P1,P1": needs two people, but both are P1',
    ]


def test_a_round_that_does_not_exist_cannot_have_been_played() -> None:
    """With no round left there is nothing to plan."""
    assert refused(planned(leveled(8, 2, 3)), 3) == [
        "--after: the plan has 3 rounds, so none is left after 3"
    ]


def test_who_left_comes_back_under_the_same_name() -> None:
    """Absent in just the rounds between; twice as well, and what was played stays."""
    plan = changed(planned(leveled(9, 2, 6)), 1, absent=("P1",)).plan
    back = changed(plan, 2, add=("P1",)).plan
    assert back.event.changes[-1] == "Revision 3, after round 2: P1 is back"
    gone = changed(back, 3, absent=("P1",)).plan
    again = changed(gone, 4, add=("P1",)).plan
    there = [place(r, "P1") != "absent" for r in again.rounds]
    assert there == [True, False, True, False, True, True]


def test_who_was_to_leave_by_the_list_comes_back_to_stay() -> None:
    """The hour of the list is over; an arrival of the list still explains the rounds before it."""
    event = leveled(9, 2, 5)
    start, end = event.rounds[1].start, event.rounds[2].start
    people = (replace(event.players[0], arrives=start, leaves=end), *event.players[1:])
    back = changed(planned(replace(event, players=people)), 3, add=("P0",)).plan
    there = [place(r, "P0") != "absent" for r in back.rounds]
    assert there == [False, True, False, True, True]
    assert back.event.player_by_name["P0"].arrives == start


# ---- who never came -------------------------------------------------------------------------


def never_came(plan: Plan, after: int, name: str, **what) -> Plan:
    """Replan with somebody who never came; courts, rests and times of rounds played stay."""
    new = replan(plan, Night(after=after, no_shows=(name,), **what), effort="tiny").plan
    for was, now in zip(plan.rounds[:after], new.rounds[:after], strict=True):
        assert [(e.court, e.players) for e in now.courts] == [
            (e.court, e.players) for e in was.courts
        ]
        assert (now.resting, now.absent, now.start) == (was.resting, was.absent, was.start)
        assert now.missing == (() if name in was.absent else (name,))
    assert check(new).faults == ()
    return new


def test_who_never_came_is_marked_in_the_rounds_that_run_already() -> None:
    """The round stands as printed, the match is marked, and every later round is without them."""
    plan = planned(leveled(8, 2, 4))
    new = never_came(plan, 1, "P1")
    court = place(plan.rounds[0], "P1")
    marks = {match.court: match.unfinished for match in new.rounds[0].matches}
    assert marks == {match.court: match.court == court for match in plan.rounds[0].matches}
    assert [place(r, "P1") for r in new.rounds[1:]] == ["absent"] * 3
    head = "Revision 2, after round 1: "
    assert new.event.changes == (
        f"{head}P1 never came: round 1 stands as printed, but does not count for P1",
        f"{head}the match of round 1 on {court} counts as not played",
    )


def test_a_match_somebody_never_came_to_counts_for_nobody_as_one() -> None:
    """The three on the court have met nobody, and whoever did not come has no share of rests."""
    plan = planned(leveled(9, 2, 3))
    court = plan.rounds[0].courts[0]
    name = court.players[0]
    new = never_came(plan, 1, name)
    evening = Evening(new, new.event)
    met = partner_counts(evening) + opponent_counts(evening)
    by_round_1 = [both for both in met if set(both) <= set(court.players)]
    later = [m for r in new.rounds[1:] for m in r.matches]
    assert all(any(set(both) <= set(m.players) for m in later) for both in by_round_1)
    assert name not in rest_balance(evening)


def test_a_no_show_may_have_rested_drilled_or_been_in_several_rounds() -> None:
    """All rounds they stand in are marked, whatever they were to do there."""
    plan = planned(leveled(9, 2, 4, Kind.DRILL, Kind.DOUBLES, Kind.DOUBLES, Kind.DOUBLES))
    resting = plan.rounds[1].resting[0]
    new = never_came(plan, 3, resting)
    assert [r.missing for r in new.rounds] == [(resting,), (resting,), (resting,), ()]


def test_who_was_said_to_have_left_can_be_put_right_as_a_no_show() -> None:
    """The organiser's first word is not the last one."""
    plan = changed(planned(leveled(9, 2, 4)), 1, absent=("P2",)).plan
    new = never_came(plan, 2, "P2")
    assert [r.missing for r in new.rounds] == [("P2",), (), (), ()]


def test_a_no_show_may_come_at_last() -> None:
    """Back from then on; the rounds before stay marked."""
    plan = never_came(planned(leveled(9, 2, 4)), 1, "P2")
    back = changed(plan, 2, add=("P2",)).plan
    assert back.rounds[0].missing == ("P2",)
    assert [place(r, "P2") != "absent" for r in back.rounds[1:]] == [False, True, True]


def test_several_may_not_come_to_one_match() -> None:
    """Two of four are as good as singles, one alone rested, and the checker follows."""
    plan = planned(leveled(9, 2, 3))
    four = plan.rounds[0].matches[0].players
    night = Night(after=1, no_shows=four[:3])
    new = replan(plan, night, effort="tiny").plan
    assert check(new).faults == ()
    assert four[3] in new.rounds[0].as_it_was.resting
    assert new.rounds[0].missing == four[:3]


def test_a_no_show_before_the_first_round_is_told_the_plain_way() -> None:
    """Nothing was played, so the person is simply absent; a stranger is nobody's no-show."""
    plan = planned(leveled(9, 2, 3))
    assert refused(plan, 0, no_shows=("P1",)) == [
        '--no-show "P1": no round has been played; say --absent P1'
    ]
    gone = changed(plan, 0, absent=("P1",)).plan
    assert refused(gone, 1, no_shows=("P1",)) == ['--no-show "P1": P1 is not in the plan anyway']


def test_the_checker_refuses_a_no_show_in_a_round_to_come() -> None:
    """Only a round that is settled can have been missed, and only by somebody planned for."""
    plan = planned(leveled(9, 2, 2))
    marked = replace(plan.rounds[1], missing=("P1",))
    assert check(replace(plan, rounds=(plan.rounds[0], marked))).faults[0] == (
        "Round 2: P1 marked as not having come, but the round is still to be played"
    )


def test_a_mixed_round_asks_a_newcomer_for_a_group() -> None:
    """Without a group nobody can be placed in a mixed round to come."""
    event = leveled(8, 2, 2, Kind.MIXED, Kind.MIXED)
    people = tuple(replace(p, group="MW"[i % 2]) for i, p in enumerate(event.players))
    plan = planned(replace(event, players=people))
    assert "needs a group" in refused(plan, 1, add=("New,5",))[0]
    assert changed(plan, 1, add=("New,5,w",)).plan.event.players[-1].group == "W"


def test_rests_already_had_are_not_held_against_the_plan() -> None:
    """Two leave before the last round, in which nobody can rest any more: still sound.

    Ten people on two courts had ten rests in five rounds, so a share of one
    each. Somebody with none or two by then is one away from it for good, and
    without settled rounds the checker would call that a fault.
    """
    plan = planned(leveled(10, 2, 6))
    had = {p.name: sum(p.name in r.resting for r in plan.rounds[:5]) for p in plan.event.players}
    uneven = [name for name, rests in had.items() if rests != 1]
    gone = tuple(name for name, rests in had.items() if rests == 1)[:2]
    new = changed(plan, 5, absent=gone).plan
    assert new.rounds[5].resting == ()
    faults = check(replace(new, settled=0)).faults
    assert [fault.split()[0] for fault in faults] == uneven


# ---- courts, matches, wishes ----------------------------------------------------------------


def test_a_lost_court_is_not_used_again() -> None:
    """From the next round on its people are elsewhere; played rounds keep it."""
    plan = changed(planned(leveled(12, 3, 4)), 2, lost_courts=("2",)).plan
    used = [{entry.court for entry in r.courts} for r in plan.rounds]
    assert [("C1" in courts) for courts in used] == [True, True, False, False]


def test_an_unfinished_match_stands_and_is_marked() -> None:
    """The round keeps courts, teams and orders; only the mark is new."""
    plan = planned(leveled(8, 2, 3))
    new = replan(plan, Night(after=1, unfinished=("C1",), absent=("P2",)), effort="tiny").plan
    marked = [match.unfinished for match in new.rounds[0].matches]
    assert marked == [match.court == "C1" for match in plan.rounds[0].matches]
    bare = tuple(replace(match, unfinished=False) for match in new.rounds[0].matches)
    assert bare == plan.rounds[0].courts


def test_a_wish_that_nobody_can_keep_any_more_is_void_and_said_so() -> None:
    """One of two who must meet once leaves before they did: the plan goes on without the wish."""
    must = Wish(WishKind.AGAINST_ONCE, "P0", "P1", round=3, where="Wishes!A2")
    plan = planned(leveled(9, 2, 4, wishes=(must,)))
    result = changed(plan, 1, absent=("P0",))
    assert result.plan.event.wishes == ()
    assert result.plan.event.changes[-1].endswith(
        "void is the wish that " + replace(must, where="").sentence
    )


def test_partners_for_good_become_free_when_one_leaves() -> None:
    """A must to be partners asks nothing of who is there alone; it stays in the event."""
    must = Wish(WishKind.PARTNERS, "P0", "P1")
    plan = planned(leveled(9, 2, 4, wishes=(must,)))
    assert changed(plan, 1, absent=("P0",)).plan.event.wishes == (must,)


def test_who_must_be_partners_play_on_when_an_opponent_never_came() -> None:
    """The round played is let off, whether one or both opponents stayed away; the others not."""
    must = Wish(WishKind.PARTNERS, "P0", "P1", where="Wishes!A2")
    plan = planned(leveled(8, 2, 4, Kind.DOUBLES, Kind.DRILL, Kind.DOUBLES, wishes=(must,)))
    match = next(match for match in plan.rounds[0].matches if "P0" in match.players)
    opponents = tuple(name for name in match.players if name not in {"P0", "P1"})
    for gone in (opponents[:1], opponents):
        night = Night(after=1, no_shows=gone)
        new = replan(plan, night, effort="tiny").plan
        assert check(new).faults == ()
        assert new.event.wishes == (replace(must, round=3),)
        assert (
            "void is the wish that P0 and P1 must be partners in round 1" in new.event.changes[-1]
        )
        night = Night(after=2, absent=("P7",), add=("New,5",))
        assert replan(new, night, effort="tiny").plan.event.wishes == new.event.wishes


def test_a_wish_to_meet_once_is_void_where_a_no_show_spoilt_the_only_round_for_it() -> None:
    """Two must oppose in round 1 and did, in print; with three on court it was no match."""
    must = Wish(WishKind.AGAINST_ONCE, "P0", "P1", round=1, where="Wishes!A2")
    plan = planned(leveled(8, 2, 3, wishes=(must,)))
    match = next(match for match in plan.rounds[0].matches if "P0" in match.players)
    gone = next(name for name in match.players if name not in {"P0", "P1"})
    new = replan(plan, Night(after=1, no_shows=(gone,)), effort="tiny").plan
    assert check(new).faults == ()
    assert new.event.wishes == ()
    assert "void is the wish that P0 and P1 must oppose" in new.event.changes[-1]


# ---- the fewest moves -----------------------------------------------------------------------


def test_least_change_moves_just_those_who_fill_the_gap() -> None:
    """One of ten leaves: in each round where they played, one who rested takes the place.

    Nobody else changes court, and matches nobody left keep their orders.
    """
    plan = planned(leveled(10, 2, 5))
    result = changed(plan, 2, absent=("P4",), least_change=True)
    gaps = sum(place(r, "P4") != "rest" for r in plan.rounds[2:])
    assert result.moved.places == gaps
    for before, after in zip(plan.rounds[2:], result.plan.rounds[2:], strict=True):
        same = [m for m in before.matches if "P4" not in m.players]
        assert all(match in after.matches for match in same)
    assert "fewest people moved" in result.plan.event.changes[-1]


def test_least_change_keeps_everything_when_nothing_happened() -> None:
    """With no change there is nothing to read out."""
    plan = planned(leveled(11, 2, 4, Kind.DRILL, Kind.DOUBLES, Kind.PAIRS, Kind.DOUBLES))
    result = changed(plan, 1, least_change=True)
    assert result.plan.rounds == plan.rounds
    assert result.plan.changes == ()


def test_one_who_takes_a_place_takes_its_turn_to_serve() -> None:
    """The three who stay serve when they did; the new one serves when the old one did."""
    plan = planned(leveled(9, 2, 4))
    new = changed(plan, 1, absent=("P4",), least_change=True).plan
    checked = 0
    for before, after in zip(plan.rounds[1:], new.rounds[1:], strict=True):
        for old in before.matches:
            now = next((m for m in after.matches if m.court == old.court), None)
            if "P4" in old.players and now and len(set(now.players) & set(old.players)) == 3:
                instead = next(iter(set(now.players) - set(old.players)))
                order = [instead if name == "P4" else name for name in old.serving_order]
                assert list(now.serving_order) == order
                checked += 1
    assert checked


# ---- exchanged seats ------------------------------------------------------------------------


def test_a_swap_exchanges_two_seats_of_the_next_round_and_no_other() -> None:
    """Courts, turns to serve and sides change hands; the others of the round stay."""
    plan = planned(leveled(10, 2, 4))
    nxt = plan.rounds[2]
    one, other = nxt.matches[0].team_a[0], nxt.matches[1].team_b[1]
    new = changed(plan, 2, swaps=(f"{one},{other}",)).plan.rounds[2]
    swap = {one: other, other: one}
    for old, now in zip(nxt.matches, new.matches, strict=True):
        assert now.serving_order == tuple(swap.get(n, n) for n in old.serving_order)
        assert now.deuce_receivers == tuple(swap.get(n, n) for n in old.deuce_receivers)
    assert new.resting == nxt.resting


def test_a_swap_may_send_somebody_to_rest() -> None:
    """Even where that makes rests unfair, in the last round: the organiser has said so."""
    plan = planned(leveled(10, 2, 4))
    last = plan.rounds[3]
    one, other = last.resting[0], last.matches[0].team_a[0]
    new = changed(plan, 3, swaps=(f"{one},{other}",)).plan
    assert other in new.rounds[3].resting
    assert place(new.rounds[3], one) == last.matches[0].court


def test_a_swap_that_breaks_a_must_is_refused_in_words() -> None:
    """The fault names the wish with its cell."""
    event = leveled(8, 2, 3, wishes=(Wish(WishKind.PARTNERS, "P0", "P1", where="Wishes!A2"),))
    plan = planned(event)
    match = next(m for m in plan.rounds[1].matches if "P0" not in m.players)
    (fault,) = refused(plan, 1, swaps=(f"P0,{match.team_a[0]}",))
    assert "P0 and P1 must be partners (Wishes!A2)" in fault


def test_a_swap_that_breaks_the_kind_of_round_is_refused() -> None:
    """Two partners of a mixed round cannot become two of one group."""
    event = leveled(8, 2, 2, Kind.MIXED, Kind.MIXED)
    people = tuple(replace(p, group="MW"[i % 2]) for i, p in enumerate(event.players))
    plan = planned(replace(event, players=people))
    one, two = plan.rounds[1].matches
    group = {p.name: p.group for p in people}
    other = next(name for name in two.team_a if group[name] != group[one.team_a[0]])
    assert (
        "each team must have one player" in refused(plan, 1, swaps=(f"{one.team_a[0]},{other}",))[1]
    )


def test_a_swap_with_somebody_who_is_not_there_is_refused() -> None:
    """Absent people have no seat to exchange, and partners none worth exchanging."""
    plan = changed(planned(leveled(9, 2, 4)), 1, absent=("P0",)).plan
    assert refused(plan, 2, swaps=("P0,P1",)) == ['--swap "P0,P1": P0 is not there in round 3']
    both = plan.rounds[2].matches[0].team_a
    assert "nothing to exchange" in refused(plan, 2, swaps=(",".join(both),))[0]


# ---- what is read out -----------------------------------------------------------------------


def test_changes_tell_each_person_where_they_were_and_are() -> None:
    """Nobody whose court, partner or opponents differ is missing, nobody else is there."""
    plan = planned(leveled(10, 2, 4))
    new = changed(plan, 2, absent=("P4",), least_change=True).plan
    told = {(change.player, change.round) for change in new.changes}
    for before, after in zip(plan.rounds[2:], new.rounds[2:], strict=True):
        for player in new.event.players:
            name = player.name
            was = next(
                (
                    frozenset(map(frozenset, (m.team_a, m.team_b)))
                    for m in before.matches
                    if name in m.players
                ),
                None,
            )
            now = next(
                (
                    frozenset(map(frozenset, (m.team_a, m.team_b)))
                    for m in after.matches
                    if name in m.players
                ),
                None,
            )
            differs = was != now or place(before, name) != place(after, name)
            assert ((name, before.number) in told) is differs
    gone = [change for change in new.changes if change.player == "P4"]
    assert {change.now for change in gone} == {"not here"}


def test_the_same_night_gives_the_same_plan() -> None:
    """Replanning is repeatable, in both ways."""
    plan = planned(leveled(11, 2, 5))
    for least_change in (False, True):
        one, other = (
            changed(plan, 2, absent=("P4",), least_change=least_change).plan for _ in range(2)
        )
        assert one == other
