"""The compiled search against the same price written out by hand (``plain_price``)."""

from __future__ import annotations

import random
from dataclasses import fields, replace

import pytest
from drawn_events import events, minute, plain_event
from hypothesis import given, settings
from hypothesis import strategies as st
from plain_price import plain_price

from scheduler.domain.event import Emphasis, Event, Kind, Mixing, SpareCourt, Wish, WishKind
from scheduler.rotation.construct import random_solution
from scheduler.rotation.counts import count, values_of
from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.price import Prices, prices_of
from scheduler.rotation.problem import Problem, Solution, pair
from scheduler.rotation.publish import rounds_of
from scheduler.rotation.shapes import problem_of

MIXES = (
    Moves(),
    Moves(teams=200, courts=200, rests=200, people=200, kin=50, near=100, span=2),
    Moves(teams=1024),
    Moves(courts=1024),
    Moves(rests=1024),
    Moves(people=1024),
    Moves(kin=1024),
    Moves(near=1024, span=3),
    Moves(near=1024, span=20),
)
HOT, COLD = 10**9, 1
_MULTIPLES = {"wide_from": 500}
ODD_PRICES = Prices(
    **{
        f.name: _MULTIPLES.get(f.name, 10 ** (i % 3) * 101 + 7 * i)
        for i, f in enumerate(fields(Prices))
    }
)
"""Prices all of one size and all different, so that no mistake hides behind a dear thing."""
FREE = Prices(**{f.name: 0 for f in fields(Prices)})


@st.composite
def problems(draw: st.DrawFn) -> tuple[Problem, Solution, Prices]:
    """Draw a problem, perhaps with rounds already played or printed, and seats for it."""
    event = draw(events(people=(4, 12)))
    lots = random.Random(draw(st.integers(0, 999)))
    problem = problem_of(event)
    start = random_solution(problem, lots)
    rounds = rounds_of(problem, start, ())
    known = sum(not planned.open for planned in rounds)
    played = draw(st.integers(0, known)) if known == len(rounds) else 0
    if played or draw(st.booleans()):
        told = {at: rounds[at] for at in range(played, known) if draw(st.booleans())}
        problem = problem_of(event, rounds[:played], told)
        start = random_solution(problem, lots)
    prices = draw(st.sampled_from([ODD_PRICES, prices_of(event.emphasis, event.exchange)]))
    return problem, start, prices


@settings(max_examples=90, deadline=None)
@given(problems())
def test_a_start_costs_what_the_plain_price_says(drawn: tuple[Problem, Solution, Prices]) -> None:
    """The kernel prices any seating of any problem as the price written out by hand does."""
    problem, start, prices = drawn
    kernel = Kernel(problem, prices, seed=1)
    assert kernel.start(start) == plain_price(problem, prices, start)
    assert kernel.solution() == tuple(
        replace(seating, rest=tuple(sorted(seating.rest))) for seating in start
    )


@settings(max_examples=90, deadline=None)
@given(
    problems(),
    st.lists(st.tuples(st.sampled_from(MIXES), st.sampled_from([HOT, 50_000, COLD])), max_size=4),
    st.booleans(),
    st.integers(0, 99),
)
def test_the_running_cost_is_that_of_the_seats(drawn, steps, courts, seed) -> None:
    """After any exchanges the cost kept move by move is the cost of the seats they led to."""
    problem, start, prices = drawn
    kernel = Kernel(problem, prices, seed)
    kernel.start(start)
    cost = kernel.restart(courts=courts)
    best = cost
    for mix, temperature in steps if any(problem.shapes[r].players for r in problem.free) else []:
        cost = kernel.anneal(400, temperature, mix)
        assert cost == plain_price(problem, prices, kernel.solution(), courts=courts)
        best = min(best, cost)
    assert kernel.best <= best
    least = kernel.best
    assert kernel.back_to_best() == least
    assert least == plain_price(problem, prices, kernel.solution(), courts=courts)


@settings(max_examples=60, deadline=None)
@given(problems(), st.integers(0, 99))
def test_exchanges_keep_everybody_in_one_seat_that_lets_them_in(drawn, seed) -> None:
    """Each round goes on seating the same people, where they may sit; the past stays."""
    problem, start, prices = drawn
    kernel = Kernel(problem, prices, seed)
    kernel.start(start)
    if any(problem.shapes[r].players for r in problem.free):
        kernel.anneal(2000, HOT, MIXES[1])
    seated = kernel.solution()
    assert [s.blocks for s in seated[: len(problem.played)]] == [s.blocks for s in problem.played]
    for shape, seating in zip(problem.shapes, seated, strict=True):
        people = sorted([*seating.rest, *(p for block in seating.blocks for p in block)])
        assert people == sorted(shape.players)
        bit = dict(zip(shape.players, shape.bits, strict=True))
        for block, who in zip(shape.blocks, seating.blocks, strict=True):
            assert all(bit[p] & mask for p, mask in zip(who, block.masks, strict=True))
        assert len(set(seating.courts)) == len(seating.courts)
        assert set(seating.courts) <= set(shape.courts)
        if shape.keeps_teams:
            teams = [(who[i], who[i + 1]) for who in seating.blocks for i in (0, 2)]
            assert {pair(*team) for team in teams} <= set(problem.all_teams)


def test_two_who_must_be_partners_are_no_team_in_pairs_rounds_for_that() -> None:
    """Two who came after the first pairs round are no team and rest, whatever is exchanged."""
    must = Wish(WishKind.PARTNERS, "P4", "P5")
    event = plain_event(6, 1, 0, Kind.PAIRS, Kind.PAIRS, Kind.DOUBLES, wishes=(must,))
    late = tuple(replace(p, arrives=minute(1)) for p in event.players[4:])
    problem = problem_of(replace(event, players=event.players[:4] + late))
    kernel = Kernel(problem, FREE, seed=1)
    kernel.start(random_solution(problem, random.Random(1)))
    kernel.anneal(2000, HOT, MIXES[1])
    assert kernel.solution()[1].rest == (4, 5)


def test_people_at_rest_are_put_where_they_may_change_with_others_of_their_group() -> None:
    """Of four men and four women on one mixed court all come to play, though rests are sorted."""
    event = plain_event(8, 1, 0, Kind.MIXED)
    groups = zip(event.players, "WMWMWMWM", strict=True)
    problem = problem_of(
        replace(event, players=tuple(replace(p, group=group) for p, group in groups))
    )
    kernel = Kernel(problem, FREE, seed=1)
    kernel.start(random_solution(problem, random.Random(1)))
    played = set()
    for _ in range(60):
        kernel.start(kernel.solution())
        kernel.anneal(20, HOT, Moves())
        played.update(kernel.solution()[0].blocks[0])
    assert played == set(range(8))


def _plain(kinds: tuple[Kind, ...], players: int, levels: list[float], **facts) -> Event:
    event = plain_event(players, 3, 0, *kinds, **facts)
    people = zip(event.players, levels, strict=True)
    return replace(event, players=tuple(replace(p, level=level) for p, level in people))


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.sampled_from([Kind.DOUBLES, Kind.DRILL]), min_size=1, max_size=5),
    st.integers(4, 14),
    st.data(),
)
def test_relabelling_keeps_every_repeat(kinds, players, data) -> None:
    """People exchanged in every round change gaps alone: the counts of meetings stay."""
    levels = data.draw(st.lists(st.integers(1, 10), min_size=players, max_size=players))
    event = _plain(
        tuple(kinds), players, levels, spare_court=data.draw(st.sampled_from(SpareCourt))
    )
    mixing = data.draw(st.sampled_from([None, *Mixing]))
    event = replace(event, rounds=tuple(replace(r, levels=mixing) for r in event.rounds))
    problem = problem_of(event)
    assert problem.is_plain
    kernel = Kernel(problem, ODD_PRICES, seed=3)
    kernel.start(random_solution(problem, random.Random(players)))
    before = count(problem, kernel.solution())
    measured = values_of(problem, kernel.solution())
    cost = kernel.relabel(500, data.draw(st.sampled_from([HOT, COLD])))
    after = count(problem, kernel.solution())
    assert cost == plain_price(problem, ODD_PRICES, kernel.solution())
    for table in ("partners", "opponents", "drills", "visits"):
        assert sorted(getattr(before, table).values()) == sorted(getattr(after, table).values())
    again = values_of(problem, kernel.solution())
    for name in ("partner_repeats", "opponent_repeats", "meeting_repeats", "drill_repeats"):
        assert again[name] == measured[name]
    for name in ("rest_unfairness", "back_to_back_rests", "court_repeats", "station_repeats"):
        assert again[name] == measured[name]


@settings(max_examples=120, deadline=None)
@given(problems(), st.booleans(), st.sampled_from([HOT, 50_000, COLD]), st.integers(0, 99))
def test_relabelling_any_evening_costs_what_its_seats_cost(drawn, courts, heat, seed) -> None:
    """With wishes, earlier evenings, couples and absences the cost is still that of the seats."""
    problem, start, prices = drawn
    kernel = Kernel(problem, prices, seed)
    kernel.start(start)
    first = kernel.restart(courts=courts)
    cost = kernel.relabel(300, heat)
    assert cost == plain_price(problem, prices, kernel.solution(), courts=courts)
    least = kernel.best
    assert kernel.back_to_best() == least <= first
    assert least == plain_price(problem, prices, kernel.solution(), courts=courts)


def test_relabelling_leaves_no_count_but_whose_it_is() -> None:
    """Late-comers change places among themselves only, and repeats stay what they were."""
    event = _plain((Kind.DOUBLES,) * 5, 12, [float(i % 9 + 1) for i in range(12)])
    late = tuple(replace(p, arrives=minute(2)) for p in event.players[:4])
    problem = problem_of(replace(event, players=late + event.players[4:]))
    assert len(set(problem.kin)) == 2
    kernel = Kernel(problem, ODD_PRICES, seed=5)
    kernel.start(random_solution(problem, random.Random(5)))
    before = kernel.solution()
    kernel.relabel(500, HOT)
    assert kernel.solution() != before
    repeats = ("partner_repeats", "opponent_repeats", "meeting_repeats", "rest_unfairness")
    measured = values_of(problem, before), values_of(problem, kernel.solution())
    assert [measured[0][name] for name in repeats] == [measured[1][name] for name in repeats]


def test_a_cold_relabelling_lowers_the_gaps() -> None:
    """With levels 1 to 12 on a random pattern, relabelling at no temperature finds smaller gaps."""
    event = _plain((Kind.DOUBLES,) * 4, 12, [float(i) for i in range(1, 11)] + [5.0, 6.0])
    problem = problem_of(event)
    kernel = Kernel(problem, prices_of(Emphasis.VARIETY, 2.0), seed=1)
    kernel.start(random_solution(problem, random.Random(5)))
    before = sum(count(problem, kernel.solution()).gaps)
    kernel.relabel(20_000, 1)
    assert sum(count(problem, kernel.solution()).gaps) < before


@pytest.mark.parametrize("seed", [0, 1, -5, 2**31, 2**63 - 1, -(2**63), 2**64, 10**30])
def test_any_whole_number_is_a_seed(seed: int) -> None:
    """A seed of any size starts the random numbers, and the same one gives the same seats."""
    problem = problem_of(plain_event(9, 2, 4))
    start = random_solution(problem, random.Random(1))
    seats = []
    for _ in range(2):
        kernel = Kernel(problem, Prices(), seed)
        kernel.start(start)
        kernel.anneal(500, HOT, MIXES[1])
        seats.append(kernel.solution())
    assert seats[0] == seats[1]
