"""The fewest people moved: the printed plan, mended only where it has to be.

The search is that of a new plan, with one more price: a place other than the
one printed costs more than anything but musts and fair rests. It starts from
the printed seats with the gaps filled, so whoever can stay does from the
beginning, and only what must be mended is looked for.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace

from scheduler.rotation.construct import random_solution
from scheduler.rotation.effort import EFFORTS, Budget, Report
from scheduler.rotation.kernel import Kernel, Moves
from scheduler.rotation.price import LEVEL, Prices
from scheduler.rotation.problem import Block, BlockKind, Problem, Seating, Shape, Solution
from scheduler.rotation.rest_ranges import with_rests_of
from scheduler.rotation.search import Found, keeps_musts
from scheduler.rotation.teams import with_teams_of

_STEPS = 50
_UNITS_FOR_MUSTS = 20.0
_SHARE = 0.4
"""How much of an effort is spent: here each move looks at courts and printed seats as well."""
_STARTS = (0.02, 0.3, 1.2)
"""How hot each run begins, in prices of one move: from gentle to shaken up."""


def mend(problem: Problem, *, seed: int, effort: str, report: Report | None = None) -> Found:
    """Return the solution nearest to the printed rounds that was found.

    Raises
    ------
    NoPlan
        If the musts cannot be kept.
    KeyboardInterrupt
        If interrupted before any solution was found.
    """
    prices = replace(Prices(), opponent=round(problem.event.exchange * LEVEL))
    budget = Budget(round(_SHARE * EFFORTS[effort]), report)
    start = _patched(problem, random.Random(seed))  # noqa: S311  repeatable, not secret
    best: Found | None = None
    try:
        for hot in _STARTS:
            found = _polished(problem, prices, seed, start, hot, budget)
            if keeps_musts(problem, found.solution) and (best is None or found.cost < best.cost):
                best = found
        return best or _from_the_model(problem, prices, seed, budget)
    except KeyboardInterrupt:
        if best is None:
            raise
        return replace(best, interrupted=True)


def _from_the_model(problem: Problem, prices: Prices, seed: int, budget: Budget) -> Found:
    """Ask the constraint model for seats that keep the musts, and move people back home."""
    from scheduler.rotation.constraint_model import first_solution  # noqa: PLC0415  slow to load

    start = first_solution(problem, seed, _UNITS_FOR_MUSTS)
    problem = with_rests_of(with_teams_of(problem, start), start)
    found = _polished(problem, prices, seed, start, _STARTS[0], budget)
    if keeps_musts(problem, found.solution):
        return found
    return Found(start, Kernel(problem, prices, seed).start(start), problem)


def _polished(  # noqa: PLR0913, PLR0917  one run, fully described
    problem: Problem, prices: Prices, seed: int, start: Solution, hot: float, budget: Budget
) -> Found:
    kernel = Kernel(problem, prices, seed)
    kernel.start(start)
    rests = 60 if any(shape.rest for shape in problem.shapes) else 0
    mix = Moves(teams=20, courts=30, rests=rests, people=5, near=200, span=3)
    moves = max(1, budget.total // len(_STARTS) // _STEPS)
    warm, cold = hot * prices.moved, 0.02 * LEVEL
    for step in range(_STEPS):
        temperature = round(warm * (cold / warm) ** (step / (_STEPS - 1)))
        kernel.anneal(moves, max(1, temperature), mix)
        budget.spend(moves, "moving as few people as possible")
    kernel.back_to_best()
    return Found(kernel.solution(), kernel.best, problem)


# ---- the printed seats, gaps filled -----------------------------------------------------


def _patched(problem: Problem, rng: random.Random) -> Solution:
    """Return the printed rounds with gaps filled, random rounds where that fails."""
    result = list(random_solution(problem, rng))
    for number in problem.free:
        if number in problem.printed and not problem.shapes[number].keeps_teams:
            result[number] = _patched_round(problem, number) or result[number]
    return tuple(result)


def _patched_round(problem: Problem, number: int) -> Seating | None:
    shape, printed = problem.shapes[number], problem.printed[number]
    told: dict[int, list[int]] = {}
    for player, place in printed.places:
        told.setdefault(place, []).append(player)
    mates = {one: other for both in printed.partners for one, other in (both, both[::-1])}
    courts = _courts_kept(shape, told)
    bit = dict(zip(shape.players, shape.bits, strict=True))
    seats = [
        _seated(block.masks, _by_team(told.get(court, []), mates), bit)
        for block, court in zip(shape.blocks, courts, strict=True)
    ]
    seats.append(_seated(shape.rest, told.get(problem.courts, []), bit))
    if not _fill(shape, seats, bit):
        return None
    *blocks, rest = (tuple(people) for people in seats)
    return Seating(tuple(blocks), courts, tuple(sorted(rest)))


def _courts_kept(shape: Shape, told: dict[int, list[int]]) -> tuple[int, ...]:
    """Return a court for each block: those with most people told to be there, like with like."""
    fullest = sorted(shape.courts, key=lambda court: (-len(told.get(court, [])), court))
    kept = fullest[: len(shape.blocks)]
    largest = sorted(range(len(shape.blocks)), key=lambda at: (-shape.blocks[at].size, at))
    court_of = dict(zip(largest, kept, strict=True))
    return tuple(court_of[at] for at in range(len(shape.blocks)))


def _by_team(people: Sequence[int], mates: dict[int, int]) -> list[int]:
    """Return people with partners next to each other, whole teams first."""
    result: list[int] = []
    alone = [p for p in people if mates.get(p) not in people]
    for player in people:
        if player not in alone and player not in result:
            result.extend((player, mates[player]))
    return result + alone


def _seated(masks: Sequence[int], people: Sequence[int], bit: dict[int, int]) -> list[int]:
    """Return who takes each seat, -1 for none; who finds no seat is left over."""
    seats = [-1] * len(masks)
    for player in people:
        fits = [s for s, mask in enumerate(masks) if seats[s] < 0 and mask & bit[player]]
        if fits:
            seats[fits[0]] = player
    return seats


def _fill(shape: Shape, seats: list[list[int]], bit: dict[int, int]) -> bool:
    """Fill empty seats with whoever has none; return whether that went well."""
    placed = {player for people in seats for player in people}
    left = [player for player in shape.players if player not in placed]
    every = (*shape.blocks, Block(BlockKind.REST, shape.rest))
    for block, people in zip(every, seats, strict=True):
        for at, mask in enumerate(block.masks):
            if people[at] >= 0:
                continue
            player = next((p for p in left if mask & bit[p]), None)
            if player is None:
                return False
            people[at] = player
            left.remove(player)
    return not left
