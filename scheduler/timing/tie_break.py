"""Tie-breaks to any number of points with a lead of two.

The server of point 1 serves once, then everyone serves two points in the
set's rotation (ITF Rules of Tennis, Rule 5b): point n, counted from 1, falls
into serving turn n // 2. Model and closed form of the points after the
last-but-one: Newton and Keller (2005), O'Malley (2008).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.timing.servers import CYCLE, Servers
from scheduler.timing.two_clear import PairOfTrials, two_clear
from scheduler.timing.window import NEGLIGIBLE, Window

#: Longest tie-break whose chance is listed; what is longer stays in `beyond`.
LONGEST = 2000


@dataclass(frozen=True, slots=True)
class TieBreakMeans:
    """The first team's chance of a tie-break and the mean number of points."""

    chance: float
    points: float


def tie_break_means(servers: Servers, to: int = 7, first_turn: int = 0) -> TieBreakMeans:
    """Return chance and mean length of a tie-break, exactly where chances are fractions.

    Parameters
    ----------
    servers
        The four servers.
    to
        Points that win with a lead of two: 7 or 10.
    first_turn
        The serving turn of point 1 in the set's rotation, 0 being the first
        server of the set; 2 at three games all.

    Raises
    ------
    BadInput
        If the chances never let anyone get two ahead.
    """
    chance: float = 0
    points: float = 0
    level: float = 1
    for played, scores in _walk(servers, to, first_turn):
        chance += scores.get((to, played - to), 0)
        level = scores.get((to - 1, to - 1), 0)
        live = (mass for score, mass in scores.items() if max(score) < to)
        points += sum(live)
    points -= level
    cycle = [_pair(servers, 2 * (to - 1) + 2 * j, first_turn) for j in range(CYCLE)]
    beyond, visits = two_clear(cycle)
    return TieBreakMeans(chance + level * beyond, points + level * 2 * sum(visits))


def tie_break_points(servers: Servers, to: int = 7, first_turn: int = 0) -> tuple[Window, Window]:
    """Return the distributions of points of tie-breaks the first and the second team wins."""
    won, lost = [0.0] * (2 * to - 1), [0.0] * (2 * to - 1)
    level = 0.0
    for played, scores in _walk(servers, to, first_turn):
        won[played] = scores.get((to, played - to), 0.0)
        lost[played] = scores.get((played - to, to), 0.0)
        level = scores.get((to - 1, to - 1), 0.0)
    while level >= NEGLIGIBLE and len(won) < LONGEST:
        pair = _pair(servers, len(won) - 1, first_turn)
        won += [0.0, level * pair.first_both]
        lost += [0.0, level * pair.second_both]
        level *= 1 - pair.over
    return Window(0, won).trimmed(), Window(0, lost).trimmed()


def _walk(
    servers: Servers, to: int, first_turn: int
) -> Iterator[tuple[int, dict[tuple[int, int], float]]]:
    """Yield the chances of the scores after 0, 1, ... points, until `to` - 1 points each."""
    scores: dict[tuple[int, int], float] = {(0, 0): 1}
    yield 0, scores
    for played in range(2 * (to - 1)):
        p = servers.first_team_wins(_turn(played, first_turn))
        after: dict[tuple[int, int], float] = {}
        for (first, second), mass in scores.items():
            if max(first, second) < to:
                after[first + 1, second] = after.get((first + 1, second), 0) + mass * p
                after[first, second + 1] = after.get((first, second + 1), 0) + mass * (1 - p)
        scores = after
        yield played + 1, scores


def _turn(played: int, first_turn: int) -> int:
    """Return the serving turn of the point after so many played."""
    return first_turn + (played + 1) // 2


def _pair(servers: Servers, played: int, first_turn: int) -> PairOfTrials:
    """Return the next two points, which different teams serve after an even number played."""
    one, other = (servers.first_team_wins(_turn(played + j, first_turn)) for j in range(2))
    return PairOfTrials.of((one, 1 - one), (other, 1 - other))
