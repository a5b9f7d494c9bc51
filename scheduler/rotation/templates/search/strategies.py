"""Ways to look for the schedule of one cell of the book."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from scheduler.rotation.templates.couples import couples_rounds
from scheduler.rotation.templates.meet_once import meet_once_rounds, with_extra_players
from scheduler.rotation.templates.recount import Rounds
from scheduler.rotation.templates.search.annealer import Annealer, Round
from scheduler.rotation.templates.search.cell import AGAINST, Cell
from scheduler.rotation.templates.whist import fewest_repeats, whist_rounds

FREE_MOVES, SHORT_RUN = 8_000_000, 100_000
HOPELESS = 5
"""Repeats above the bound, in orbits, at which a symmetry is given up after six runs."""


@dataclass(frozen=True, slots=True)
class Attempt:
    """A way to try a cell with a seed; `name` tells it apart from others in the checkpoint.

    It may have nothing to offer and return None.
    """

    name: str
    run: Callable[[Cell, int], Rounds | None]


def attempts(cell: Cell, effort: int) -> Iterator[Attempt]:
    """Yield the ways to try a cell at an effort (from 0), the likeliest first."""
    growth = 2 ** (effort + 1) if effort else 1
    starts = 8 if effort > 1 else 1
    whole = Attempt(f"free {effort}", lambda c, s: free(c, s, FREE_MOVES * growth * starts, starts))
    if effort == 0:
        yield from _families(cell)
        yield whole
        return
    for bases, lengths in symmetries(cell, cell.rounds):
        yield _symmetric(bases, lengths, 0, growth, effort)
    for more in (1, -1, 2):
        for bases, lengths in symmetries(cell, cell.rounds + more):
            if bases <= 3:
                yield _symmetric(bases, lengths, more, growth, effort)
    yield whole


# ---- searches -------------------------------------------------------------------------


def free(cell: Cell, seed: int, moves: int, starts: int = 1) -> Rounds:
    """Anneal all rounds at once from random starts, so many moves in all; return the best."""
    rng = random.Random(seed)  # noqa: S311  repeatable, not secret
    search = cell.annealer(cell.rounds, (1,) * cell.symmetric_labels(), seed)
    found = []
    for _ in range(starts):
        search.start(cell.shuffled(cell.rounds, rng))
        _cool(search, moves // starts, 0.6 * cell.scale, 0.13 * cell.scale, cell.goal)
        found.append(matches_of(search.rounds(), cell.courts))
        if cell.is_settled_by(cell.rate(found[-1])):
            break
    return min(found, key=cell.rate)


def polish(cell: Cell, rounds: Rounds, seed: int, moves: int) -> Rounds:
    """Anneal gently from a given schedule, filling up or leaving out rounds at random."""
    rng = random.Random(seed)  # noqa: S311
    start = seats_of(rounds, cell.players)
    rng.shuffle(start)
    missing = cell.rounds - len(start)
    start = start[: cell.rounds] + cell.shuffled(max(0, missing), rng)
    search = cell.annealer(cell.rounds, (1,) * cell.symmetric_labels(), seed)
    search.start(start)
    _cool(search, moves, 0.2 * cell.scale, 0.12 * cell.scale, cell.goal)
    return matches_of(search.rounds(), cell.courts)


def developed(cell: Cell, bases: int, lengths: tuple[int, ...], seed: int, starts: int) -> Rounds:
    """Anneal base rounds developed under a group; the best of many short runs.

    The cell's rounds are the base rounds times the order of the group. Short
    runs from many starts find more here than few long ones.
    """
    rng = random.Random(seed)  # noqa: S311
    search = cell.annealer(bases, lengths, seed)
    best: list[Round] = []
    least = 0
    for number in range(starts):
        search.start(cell.shuffled(bases, rng))
        hot = 2.0 * cell.scale * max(lengths) ** 0.5
        price = _cool(search, SHORT_RUN * bases, hot, 0.3 * cell.scale, cell.goal)
        if number == 0 or price < least:
            best, least = search.rounds(), price
        hopeless = number == 5 and least - cell.goal > HOPELESS * cell.scale * max(lengths)
        if price <= cell.goal or hopeless:
            break
    return matches_of(best, cell.courts)


def _cool(search: Annealer, moves: int, hot: float, cold: float, goal: int) -> int:
    steps = 24
    ratio = (cold / hot) ** (1 / (steps - 1))
    price = goal + 1
    for k in range(steps):
        price = search.anneal(moves // steps, hot * ratio**k, goal)
        if price <= goal:
            break
    return price


# ---- symmetry ----------------------------------------------------------------------------


def symmetries(cell: Cell, rounds: int) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield numbers of base rounds and cycle lengths of the labels, most symmetric first.

    All cycles are as long as the group has elements, but for a few labels that
    stay: no more than there are courts, as two that stay would meet in every round.
    """
    labels = cell.symmetric_labels()
    for bases in range(1, rounds // 2 + 1):
        order = rounds // bases
        if rounds % bases or order > labels:
            continue
        for fixed in range(labels % order, labels, order):
            if fixed > max(cell.courts, 2) or fixed > 2 * order:
                break
            yield bases, (order,) * ((labels - fixed) // order) + (1,) * fixed


def _symmetric(
    bases: int, lengths: tuple[int, ...], more: int, growth: int, effort: int
) -> Attempt:
    starts = 4 * growth if effort == 1 else 16 * growth

    def run(cell: Cell, seed: int) -> Rounds:
        sized = replace(cell, rounds=cell.rounds + more)
        found = developed(sized, bases, lengths, seed, starts)
        if more == 0 and cell.is_settled_by(cell.rate(found)):
            return found
        polished = polish(cell, found, seed, FREE_MOVES // 2)
        return min([polished, found] if more == 0 else [polished], key=cell.rate)

    return Attempt(f"{bases}x{lengths[0]} {len(lengths)} {more:+d} runs {effort}", run)


# ---- known designs ---------------------------------------------------------------------


def _families(cell: Cell) -> Iterator[Attempt]:
    """Yield what the known designs of the size give, improved gently."""
    if cell.courts != cell.players // 4 or cell.aim == AGAINST:
        return
    if cell.players % 2 == 0:
        yield Attempt("square rounds", _improved(_square_rounds))
    if cell.first == 0:
        yield Attempt("whist rounds", _improved(_whist_rounds))
        yield Attempt("meet-once rounds", _improved(_meet_once_rounds))


def _square_rounds(cell: Cell) -> Rounds | None:
    return couples_rounds(cell.players // 2)


def _whist_rounds(cell: Cell) -> Rounds | None:
    whole = whist_rounds(cell.players)
    return whole and fewest_repeats(whole, cell.rounds)


def _meet_once_rounds(cell: Cell) -> Rounds | None:
    seats = 4 * cell.courts
    once = meet_once_rounds(seats)
    if once is None or len(once) < cell.rounds:
        return None
    return with_extra_players(once, seats, cell.players - seats, cell.rounds, 20_000)


def _improved(design: Callable[[Cell], Rounds | None]) -> Callable[[Cell, int], Rounds | None]:
    def run(cell: Cell, seed: int) -> Rounds | None:
        rounds = design(cell)
        if rounds is None or len(rounds) < cell.rounds:
            return None
        rounds = rounds[: cell.rounds]
        if cell.is_settled_by(cell.rate(rounds)):
            return rounds
        return min([polish(cell, rounds, seed, FREE_MOVES), rounds], key=cell.rate)

    return run


# ---- seats and matches ------------------------------------------------------------------


def matches_of(rounds: Sequence[Round], courts: int) -> Rounds:
    """Cut rounds of seats into matches of four."""
    return tuple(
        tuple((s[m], s[m + 1], s[m + 2], s[m + 3]) for m in range(0, 4 * courts, 4)) for s in rounds
    )


def seats_of(rounds: Rounds, players: int) -> list[Round]:
    """Return rounds of matches as rounds of seats, those who rest at the end."""
    result = []
    for matches in rounds:
        on_court = [label for match in matches for label in match]
        playing = set(on_court)
        result.append((*on_court, *(x for x in range(players) if x not in playing)))
    return result
