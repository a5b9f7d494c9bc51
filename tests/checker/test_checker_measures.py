"""Measures against published designs, against sums done by hand, and against a second count."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import comb

import checker_plans as plans
import networkx as nx
import pandas as pd
import pytest
from checker_plans import START, courts, group, match, people, planned, rounds
from hypothesis import assume, given, settings
from naive_plans import doubles_plans

from scheduler.checker import check, recount
from scheduler.domain.event import Event, Kind, Player, Strength, Wish, WishKind
from scheduler.domain.plan import Plan

Table = tuple[int, int, int, int]  # partners, then their opponents

# First rounds of whist tournaments: each later round adds 1 modulo v - 1 (the last player stays)
# or modulo v. A whist tournament Wh(v) has every two players partner once and oppose twice:
# I. Anderson, Combinatorial Designs and Tournaments, Oxford UP 1997, the whist chapters.
WHIST_STARTERS: dict[int, list[Table]] = {
    8: [(7, 0, 1, 5), (2, 3, 4, 6)],
    12: [(11, 0, 7, 10), (5, 9, 3, 8), (1, 2, 4, 6)],
    13: [(1, 12, 5, 8), (2, 11, 10, 3), (4, 9, 7, 6)],
}


def whist(players: int) -> Iterator[list[Table]]:
    """Yield the rounds of a cyclic whist tournament."""
    modulus = players if players % 4 == 1 else players - 1
    for step in range(modulus):
        yield [
            tuple(seat if seat == modulus else (seat + step) % modulus for seat in table)  # type: ignore[misc]
            for table in WHIST_STARTERS[players]
        ]


def affine_plane_of_order_4() -> Iterator[list[Table]]:
    """Yield the five parallel classes of the affine plane over the field of four elements."""
    times = [[0, 0, 0, 0], [0, 1, 2, 3], [0, 2, 3, 1], [0, 3, 1, 2]]
    for slope in range(4):
        yield [
            tuple(4 * x + (times[slope][x] ^ shift) for x in range(4))  # type: ignore[misc]
            for shift in range(4)
        ]
    yield [tuple(4 * x + y for y in range(4)) for x in range(4)]  # type: ignore[misc]


def plan_of(tables: Iterable[list[Table]], players: int, kind: Kind = Kind.DOUBLES) -> Plan:
    """Return a plan that seats a design, table i on court i."""
    tables = list(tables)
    names = [f"P{i}" for i in range(players)]
    event = Event(
        "Design",
        START,
        people(" ".join(names)),
        courts(players // 4),
        rounds(*[kind] * len(tables)),
    )
    seated = []
    for number, table in enumerate(tables, 1):
        texts = ["{} {} / {} {}".format(*(names[seat] for seat in seats)) for seats in table]
        entries = [
            match(f"C{i}", text) if kind is Kind.DOUBLES else group(f"C{i}", text.replace("/", ""))
            for i, text in enumerate(texts, 1)
        ]
        playing = {names[seat] for seats in table for seat in seats}
        resting = [name for name in names if name not in playing]
        seated.append(planned(event, number, entries, " ".join(resting)))
    return Plan(event, tuple(seated))


@pytest.mark.parametrize("players", WHIST_STARTERS)
def test_a_whist_tournament_has_partners_once_and_opponents_twice(players):
    """Wh(v): no partner again, every pair opposes twice and so repeats once (Anderson 1997)."""
    verdict = check(plan_of(whist(players), players))

    assert verdict.faults == ()
    assert verdict.measures["partner_repeats"] == 0
    assert verdict.measures["opponent_repeats"] == comb(players, 2)
    assert verdict.measures["meeting_repeats"] == 3 * comb(players, 2)
    assert verdict.measures["rest_unfairness"] == 0
    assert verdict.measures["back_to_back_rests"] == 0


def test_whist_for_13_is_on_every_court_four_times():
    """A cyclic Wh(4n+1), table i on court i, puts everybody on each court 4 times (derived)."""
    assert check(plan_of(whist(13), 13)).measures["court_repeats"] == 13 * 3 * comb(4, 2)


@pytest.mark.parametrize("kind", [Kind.DOUBLES, Kind.DRILL])
def test_sixteen_players_meet_nobody_twice_in_five_rounds(kind):
    """16 players in fours for 5 rounds without meeting twice: OEIS A107431, a(4) = 5."""
    verdict = check(plan_of(affine_plane_of_order_4(), 16, kind))

    assert verdict.faults == ()
    assert verdict.measures["meeting_repeats"] == 0
    assert verdict.measures["drill_repeats"] == 0


@pytest.mark.parametrize("kind", [Kind.DOUBLES, Kind.DRILL])
def test_a_sixth_round_repeats_as_many_pairs_as_it_has(kind):
    """After five rounds of the plane all 120 pairs have met, so a sixth repeats 4 x 6 of them."""
    tables = [*affine_plane_of_order_4(), next(affine_plane_of_order_4())]
    measures = check(plan_of(tables, 16, kind)).measures

    assert (measures["meeting_repeats"], measures["drill_repeats"]) == (
        (24, 0) if kind is Kind.DOUBLES else (0, 24)
    )


def test_social_evening_by_hand():
    """The three rounds of the social evening, counted with a pencil."""
    measures = recount(plans.social(), plans.social().event)

    assert measures == {
        "partner_repeats": 0,
        "opponent_repeats": 3,  # Bo and Di, Eva and Hal, Ana and Cy
        "meeting_repeats": 10,  # Ana and Cy three times: 3; seven pairs twice
        "drill_repeats": 0,
        "rest_unfairness": pytest.approx(2 / 3),  # one rest, share 3 x 1/9
        "back_to_back_rests": 0,
        "level_gap_mean": 0,
        "level_gap_max": 0,
        "court_repeats": 8,  # Fay three times on C2: 3; Ana, Bo, Cy, Di and Eva twice on one
        "station_repeats": 0,
        "first_serve_unfairness": 2.25,  # Ana serves first in 3 of 3
        "wishes_missed": 0,
        "blend_price": 6,  # 2 levels x 3
    }


def test_stations_and_drills_by_hand():
    """Ana and Bo, Cy and Di, Hal and Ida, and three pairs of Eva, Fay, Gus drill together twice."""
    measures = recount(plans.drills(), plans.drills().event)

    assert measures["drill_repeats"] == 6
    assert measures["court_repeats"] == 2  # Hal and Ida twice on C3 ...
    assert measures["station_repeats"] == 0  # ... which is no station
    assert measures["partner_repeats"] == measures["meeting_repeats"] == 0


def test_a_station_visited_again_counts_in_drills_only():
    """Four people twice at the station on C1 are four repeats; their doubles there are none."""
    drill = plans.drills()
    event = replace(drill.event, rounds=rounds(Kind.DRILL, Kind.DRILL, Kind.DOUBLES, group_size=4))
    first = drill.rounds[0]
    third = planned(event, 3, [match("C1", "Ana Bo / Cy Di"), match("C2", "Eva Fay / Gus Hal")])
    plan = Plan(event, (first, replace(first, number=2), third))

    assert recount(plan, event)["station_repeats"] == 4
    assert recount(plan, event)["court_repeats"] == 4 * 3 + 5


def test_rest_share_is_within_the_group_in_mixed_rounds():
    """Hal rests as one of eight of his group: 1 - 1/8, though 13 people are there."""
    assert recount(plans.mixed(), plans.mixed().event)["rest_unfairness"] == 1 - 1 / 8


def test_rest_share_is_per_pair_in_pairs_rounds():
    """One pair of three rests each round; Gus without a partner can only rest, so that is fair."""
    measures = recount(plans.pairs(), plans.pairs().event)

    assert measures["rest_unfairness"] == 0
    assert measures["back_to_back_rests"] == 2  # Gus, after rounds 1 and 2


def test_partners_of_pairs_rounds_count_once():
    """Ana and Bo partner in two pairs rounds: once; a doubles round beside makes it twice."""
    pairs = plans.pairs()
    event = replace(pairs.event, rounds=rounds(*[Kind.PAIRS] * 3, Kind.DOUBLES))
    fourth = planned(event, 4, [match("C1", "Ana Bo / Cy Eva")], "Di Fay Gus")

    assert recount(pairs, pairs.event)["partner_repeats"] == 0
    measures = recount(Plan(event, (*pairs.rounds, fourth)), event)
    assert measures["partner_repeats"] == 1
    assert measures["opponent_repeats"] == 4  # Ana and Bo each meet Cy and Eva again


def test_partners_by_must_wish_are_not_counted():
    """Two people with a must to be partners repeat nothing as partners, but do as opponents."""
    event = Event("Six", START, people("Ana Bo Cy Di"), courts(1), rounds(*[Kind.DOUBLES] * 3))
    seats = ["Ana Bo / Cy Di", "Di Cy / Bo Ana", "Ana Cy / Bo Di"]
    plan = Plan(event, tuple(planned(event, i, [match("C1", s)]) for i, s in enumerate(seats, 1)))
    must = Wish(WishKind.PARTNERS, "Bo", "Ana", round=1)
    should = replace(must, strength=Strength.SHOULD)

    free = recount(plan, event)
    bound = recount(plan, replace(event, wishes=(must,)))
    wished = recount(plan, replace(event, wishes=(should,)))

    assert free["partner_repeats"] == 2  # Ana and Bo, Cy and Di
    assert bound["partner_repeats"] == 1  # Cy and Di
    assert wished["partner_repeats"] == 2
    # M = P + O: Ana-Bo 2 + 1, Cy-Di 2 + 1, Ana-Cy 1 + 2, Bo-Di 1 + 2, Ana-Di 3, Bo-Cy 3
    assert free["meeting_repeats"] == 6 * 3
    assert bound["meeting_repeats"] == 5 * 3  # Ana and Bo: 0 + 1


def test_levels_in_tenths_add_up_exactly():
    """1.1 + 2.2 and 1.2 + 2.1 are equal sums, though not as binary fractions."""
    players = (Player("Ana", 1.1), Player("Bo", 2.2), Player("Cy", 1.2), Player("Di", 2.1))
    event = Event("Tenths", START, players, courts(1), rounds(Kind.DOUBLES))
    plan = Plan(event, (planned(event, 1, [match("C1", "Ana Bo / Cy Di")]),))

    assert 1.1 + 2.2 != 1.2 + 2.1
    assert recount(plan, event)["level_gap_max"] == 0


def test_blend_price_is_exchange_times_repeats_plus_gaps():
    """Two rounds of one foursome: 4 opponent repeats at 1.5 levels, and gaps of 2 and 2."""
    players = (Player("Ana", 4), Player("Bo", 5), Player("Cy", 3), Player("Di", 4))
    event = Event("Four", START, players, courts(1), rounds(*[Kind.DOUBLES] * 2), exchange=1.5)
    again = [planned(event, i, [match("C1", "Ana Bo / Cy Di")]) for i in (1, 2)]
    measures = recount(Plan(event, tuple(again)), event)

    assert (measures["level_gap_mean"], measures["level_gap_max"]) == (2, 2)
    assert measures["blend_price"] == 1.5 * 4 + 4


def test_open_rounds_count_nothing():
    """A round not yet seated adds no rests, matches or visits."""
    plan = plans.up_and_down()
    measures = recount(plan, plan.event)

    assert measures["opponent_repeats"] == measures["back_to_back_rests"] == 0
    assert measures["rest_unfairness"] == 0
    assert measures["first_serve_unfairness"] == 0.75


@settings(max_examples=60, deadline=None)
@given(doubles_plans())
def test_measures_agree_with_a_second_count(plan):
    """Pair counts by networkx multigraphs and visits by pandas give the same figures."""
    measures = recount(plan, plan.event)
    partners, opponents = nx.MultiGraph(), nx.MultiGraph()
    rows = []
    for item in plan.rounds:
        for seated in item.matches:
            partners.add_edges_from([seated.team_a, seated.team_b])
            opponents.add_edges_from((a, b) for a in seated.team_a for b in seated.team_b)
            rows += [
                {
                    "round": item.number,
                    "court": seated.court,
                    "team": team,
                    "name": name,
                    "level": plan.event.player_by_name[name].level,
                    "first": seated.serving_order[0] == name,
                }
                for team, names in (("a", seated.team_a), ("b", seated.team_b))
                for name in names
            ]
    assume(rows)
    seats = pd.DataFrame(rows)
    sums = seats.groupby(["round", "court", "team"])["level"].sum().unstack()
    gaps = (sums["a"] - sums["b"]).abs()
    by_name = seats.groupby("name")["first"]

    assert measures["partner_repeats"] == _repeats(partners)
    assert measures["opponent_repeats"] == _repeats(opponents)
    assert measures["meeting_repeats"] == _repeats(
        nx.MultiGraph([*partners.edges(), *opponents.edges()])
    )
    assert measures["court_repeats"] == (
        seats.groupby(["name", "court"]).size().map(lambda n: comb(n, 2)).sum()
    )
    assert measures["level_gap_mean"] == pytest.approx(gaps.mean())
    assert measures["level_gap_max"] == pytest.approx(gaps.max())
    assert measures["first_serve_unfairness"] == (by_name.sum() - by_name.size() / 4).abs().max()
    assert measures["blend_price"] == pytest.approx(2 * _repeats(opponents) + gaps.sum())


def _repeats(graph: nx.MultiGraph) -> int:
    return sum(comb(graph.number_of_edges(*both), 2) for both in nx.Graph(graph).edges())


@settings(max_examples=60, deadline=None)
@given(doubles_plans())
def test_rests_agree_with_a_second_count(plan):
    """A table of people by rounds, resting or not, gives the same rests and shares."""
    names = [player.name for player in plan.event.players]
    table = pd.DataFrame(
        [
            [
                float(name in item.resting) if name not in item.absent else float("nan")
                for name in names
            ]
            for item in plan.rounds
        ],
        columns=names,
    )
    share = table.mean(axis="columns")
    expected = table.notna().mul(share.fillna(0), axis="index").sum()
    running = (table.eq(1) & table.shift().eq(1)).to_numpy().sum()
    measures = recount(plan, plan.event)

    assert measures["rest_unfairness"] == pytest.approx((table.sum() - expected).abs().max())
    assert measures["back_to_back_rests"] == running
