"""Rounds seated anew: priced as the kernel prices them, and never worse."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from evenings_to_seat import DOUBLES, DRILL, MIXED, PAIRS, evening, must

from scheduler.domain.event import Earlier, Emphasis, Mixing, SpareCourt, Station, Strength
from scheduler.rotation.constraint_model import first_solution, polish
from scheduler.rotation.constraint_model.parameters import Budget
from scheduler.rotation.constraint_model.polishing import PolishModel
from scheduler.rotation.counts import broken
from scheduler.rotation.kernel import Kernel
from scheduler.rotation.price import prices_of
from scheduler.rotation.shapes import problem_of

MUSTS = [
    must("partners", "P0", "P5"),
    must("not same court", "P1", "P2"),
    must("on court", "P3", "Court 2"),
]
SHOULDS = [
    must("partners once", "P6", "P7"),
    must("against once", "P6", "P8"),
    must("on court", "P4", "Court 1"),
    must("not same court", "P8", "P9"),
    must("rests", "P2", in_round=2),
    must("rounds running at most", "P8", number=2),
    must("plays at most", "P9", number=3),
    must("partners", "P1", "P10", in_round=3),
]


@pytest.fixture(scope="module")
def everything():
    """Return an evening in which every sort of price has its place, and a solution of it."""
    wishes = [*MUSTS, *(replace(wish, strength=Strength.SHOULD) for wish in SHOULDS)]
    event = evening(14, 3, [DRILL, DOUBLES, DOUBLES, MIXED, PAIRS, DOUBLES, DRILL], wishes)
    levels = [None, Mixing.ALIKE, Mixing.MIXED]
    event = replace(
        event,
        rounds=tuple(replace(r, levels=levels[i % 3]) for i, r in enumerate(event.rounds)),
        stations=(Station("Court 1", "serve"), Station("Court 3", "volley")),
        earlier=(Earlier("P1", "P6", 2, 1, 3, 1.5, 0.7, 2.1),),
        spare_court=SpareCourt.SINGLES,
    )
    problem = problem_of(event)
    return problem, first_solution(problem, 1, 10)


@pytest.mark.parametrize("rounds", [[0], [1], [3], [4], [1, 2], [4, 5], [0, 6], [1, 2, 5]])
def test_the_model_prices_a_change_as_the_kernel_does(everything, rounds):
    """Between two solutions the model's price and the kernel's differ by exactly the same."""
    problem, before = everything
    prices = replace(prices_of(Emphasis.BLEND, 2.0), court=0, station=0)
    model = PolishModel(problem, prices, before, rounds)
    after = model.solve(1, Budget(0.4))
    if after == before:
        after = another(problem, before, rounds)
    kernel = Kernel(problem, prices, 1)
    said = model.price_of(after, 1, Budget(5)) - model.price_of(before, 1, Budget(5))
    assert said == kernel.start(after) - kernel.start(before) != 0


def another(problem, before, rounds):
    """Return another solution that seats these rounds otherwise and the rest the same."""
    for seed in range(2, 9):
        after = list(before)
        other = first_solution(replace(problem, demands=problem.demands), seed, 10)
        for number in rounds:
            after[number] = other[number]
        if not broken(problem, tuple(after), must=True):
            return tuple(after)
    raise AssertionError("no other seating keeps the musts")


@pytest.mark.parametrize("emphasis", list(Emphasis))
def test_polish_is_never_worse_and_keeps_the_musts(everything, emphasis):
    """What comes back costs no more by the kernel's count, and breaks no must."""
    problem, before = everything
    prices = prices_of(emphasis, 2.0)
    kernel = Kernel(problem, prices, 1)
    after = polish(problem, prices, before, [1], 0.5)
    assert kernel.start(after) < kernel.start(before)
    assert broken(problem, after, must=True) == []
    assert [s for r, s in enumerate(after) if r != 1] == [s for r, s in enumerate(before) if r != 1]


def test_polish_finds_the_best_round_there_is():
    """With all rounds but the last held fast, the last is as good as any of all its seatings."""
    problem = problem_of(evening(5, 1, [DOUBLES] * 3))
    prices = prices_of(Emphasis.BLEND, 2.0)
    before = first_solution(problem, 1, 10)
    after = polish(problem, prices, before, [2], 5)
    kernel = Kernel(problem, prices, 1)
    assert kernel.start(after) == min(
        kernel.start((*before[:2], replace(before[2], blocks=((*one, *other),), rest=rest)))
        for rest in [(p,) for p in range(5)]
        for one in combinations([p for p in range(5) if p not in rest], 2)
        for other in [tuple(p for p in range(5) if p not in rest and p not in one)]
        if sum(rest[0] in seating.rest for seating in before[:2]) == 0
    )


def test_a_solution_that_breaks_a_must_is_left_alone(everything):
    """Polish promises nothing for what is broken already, and hands it back."""
    problem, _ = everything
    plain = problem_of(replace(problem.event, wishes=()))
    solution = first_solution(plain, 3, 10)
    assert broken(problem, solution, must=True)
    assert polish(problem, prices_of(Emphasis.BLEND, 2.0), solution, [1], 1) is solution
