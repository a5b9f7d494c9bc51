"""What nobody can beat in returns to a court and to a station."""

from __future__ import annotations

from scheduler.domain.event import WishKind
from scheduler.rotation.bounds.pigeonhole import TRIVIAL, Bound
from scheduler.rotation.problem import Demand, Problem, Shape


def stations_bound(problem: Problem) -> Bound:
    """Bound visits to a station again: k drills on a stations cost ``spread(k, a)``.

    Holds only where every court of the drills is a station; else people may
    be elsewhere.
    """
    stationed = problem.event.station_by_court
    if not all(court.name in stationed for court in problem.event.courts):
        return TRIVIAL
    return _visits(problem, [shape for shape in problem.shapes if shape.is_drill])


def courts_bound(problem: Problem) -> Bound:
    """Bound returns to a court."""
    return _visits(problem, list(problem.shapes))


def _ties_to_a_court(demand: Demand) -> bool:
    return demand.must and demand.kind is WishKind.ON_COURT and demand.wish.round is None


def _visits(problem: Problem, shapes: list[Shape]) -> Bound:
    """Bound returns to a court.

    Somebody on court k times, with a courts open to them in all, returns at
    least ``spread(k, a)`` times. Who plays how often is free up to presence
    and the number of seats; the greedy of `pairs_and_players` applies.
    """
    tied = {d.player: 1 << d.other for d in problem.demands if _ties_to_a_court(d)}
    open_to = [0] * problem.players
    most = [0] * problem.players
    for shape in shapes:
        courts = sum(1 << court for court in shape.courts)
        for player in shape.players:
            open_to[player] |= courts & tied.get(player, courts)
            most[player] += 1
    seats = sum(block.size for shape in shapes for block in shape.blocks)
    rises = sorted(
        k // open_to[player].bit_count()
        for player in range(problem.players)
        for k in range(most[player])
        if open_to[player]
    )
    value = sum(rises[:seats])
    return Bound(value, "pigeonhole of visits over open courts") if value else TRIVIAL
