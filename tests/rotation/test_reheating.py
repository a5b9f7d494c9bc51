"""Cooling until the search is frozen, then warming the best seating up again."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import pytest
from drawn_events import plain_event

from scheduler.domain.event import Emphasis, Event
from scheduler.rotation.construct import random_solution
from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.local_search import STEP
from scheduler.rotation.local_search.reheating import Reheating, reheat
from scheduler.rotation.price import LEVEL, prices_of
from scheduler.rotation.shapes import problem_of


def _leveled(event: Event) -> Event:
    """Return the event with everybody half a level above the one before."""
    players = (replace(player, level=1 + at / 2) for at, player in enumerate(event.players))
    return replace(event, players=tuple(players))


def _search(moves: int, seed: int = 1) -> tuple[Kernel, Reheating]:
    problem = problem_of(_leveled(plain_event(16, 4, 6)))
    kernel = Kernel(problem, prices_of(Emphasis.BLEND, 2.0), seed)
    kernel.start(random_solution(problem, random.Random(seed)))
    plan = Reheating(moves, 8_000_000, 0.7 * LEVEL, 0.2 * LEVEL, Moves(near=600, kin=40, span=4))
    return kernel, plan


def test_no_fall_loses_what_an_earlier_one_found() -> None:
    """The cost after each fall is never above that after the one before, and ends at the least."""
    kernel, plan = _search(12_000_000)
    start = kernel.restart(courts=False)
    costs = list(reheat(kernel, plan, lambda _moves: None))
    assert len(costs) > 1
    assert all(after <= before for before, after in pairwise(costs))
    assert costs[-1] == kernel.restart(courts=False) < start


@pytest.mark.parametrize("moves", [1, STEP, 7 * STEP, 2_000_000])
def test_moves_are_counted_to_the_step(moves: int) -> None:
    """All the moves of the plan are made, in whole steps of one size, and no more."""
    kernel, plan = _search(moves)
    made: list[int] = []
    list(reheat(kernel, plan, made.append))
    assert sum(made) == moves
    assert set(made) == {min(STEP, moves)}


def test_a_search_that_cannot_move_is_reheated_at_once() -> None:
    """Two pairs of equals on one court always cost the same: each fall ends with its window."""
    problem = problem_of(plain_event(4, 1, 1))
    kernel = Kernel(problem, prices_of(Emphasis.BLEND, 2.0), 1)
    kernel.start(random_solution(problem, random.Random(1)))
    plan = Reheating(200 * STEP, 200 * STEP, LEVEL, 0.1 * LEVEL, Moves())
    assert len(list(reheat(kernel, plan, lambda _moves: None))) == 5


def test_the_same_seed_reheats_to_the_same_seats() -> None:
    """Two searches from one seed go through the same costs to the same seating."""
    runs = []
    for _ in range(2):
        kernel, plan = _search(6_000_000, seed=3)
        runs.append((list(reheat(kernel, plan, lambda _moves: None)), kernel.solution()))
    assert runs[0] == runs[1]
