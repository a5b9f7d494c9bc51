"""Who plays with whom all through the ``pairs`` rounds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from scheduler.domain.event import WishKind
from scheduler.rotation.problem import LEVEL_UNITS, BlockKind, Problem, Shape, Solution, pair

Team = tuple[int, int]

_SHOULD = 100 * LEVEL_UNITS
_MUST = 1000 * _SHOULD
_APART = frozenset({WishKind.NOT_PARTNERS, WishKind.NOT_SAME_COURT})


def fixed_teams(problem: Problem) -> tuple[Team, ...]:
    """Return the teams of the ``pairs`` rounds; empty where there are none.

    Teams that have played a pairs round stay as they are. Of the others
    there for all pairs rounds to come, wished partners go together and people
    who must not be partners do not; beyond that the sums of levels are to lie
    close together: strongest with weakest (common practice, no source), then
    mates are exchanged between two teams as long as that makes it better.
    Where no such round is to come, these are the teams there were, and people
    who could only rest in all of them are paired the same way.
    """
    every = [shape for shape in problem.shapes if shape.keeps_teams]
    if not every:
        return ()
    ahead = [problem.shapes[r] for r in problem.free if problem.shapes[r].keeps_teams]
    here = set.intersection(*(set(shape.players) for shape in ahead or every))
    played = teams_in(problem, problem.played)
    settled = {player for team in played for player in team}
    people = sorted(here - settled, key=lambda p: (-problem.levels[p], p))
    kept = tuple(team for team in played if here.issuperset(team))
    return kept + _paired(problem, people)


def with_teams_of(problem: Problem, solution: Solution) -> Problem:
    """Return the problem with the teams that a solution of it shows in its ``pairs`` rounds.

    People of the problem's teams whom the solution never lets play a pairs
    round are paired anew among themselves.
    """
    teams = teams_in(problem, solution)
    seen = {player for team in teams for player in team}
    idle = [p for team in problem.teams for p in team if p not in seen]
    idle.sort(key=lambda p: (-problem.levels[p], p))
    return replace(problem, teams=teams + _paired(problem, idle))


def teams_in(problem: Problem, solution: Solution) -> tuple[Team, ...]:
    """Return the teams a solution (or its first rounds) shows in ``pairs`` rounds."""
    found = {
        pair(*team): None
        for shape, seating in zip(problem.shapes, solution, strict=False)
        if shape.keeps_teams
        for team in _match_teams(shape, seating.blocks)
    }
    return tuple(found)


def _match_teams(shape: Shape, blocks: Iterable[tuple[int, ...]]) -> Iterator[Team]:
    for block, seats in zip(shape.blocks, blocks, strict=True):
        if block.kind is BlockKind.MATCH:
            a, b, c, d = seats
            yield from ((a, b), (c, d))


def _paired(problem: Problem, people: Sequence[int]) -> tuple[Team, ...]:
    """Pair people, given by falling level.

    With an odd number one is left over who has no wish for a partner, if
    there is such a one: the middle one or who is nearest to the middle.
    """
    wished = _wished(problem)
    mean = 2 * sum(problem.levels[p] for p in people) // max(1, len(people))

    def price(team: Team) -> int:
        sum_of_levels = problem.levels[team[0]] + problem.levels[team[1]]
        return wished.get(pair(*team), 0) + abs(sum_of_levels - mean)

    if len(people) % 2:
        people = _without_one(people, wished)
    half = len(people) // 2
    teams = list(zip(people[:half], reversed(people[half:]), strict=True))
    while _exchange(teams, price):
        pass
    return tuple(teams)


def _without_one(people: Sequence[int], wished: dict[Team, int]) -> list[int]:
    here = set(people)
    wanted = {
        p for team, price in wished.items() if price < 0 and here.issuperset(team) for p in team
    }
    middle = len(people) // 2
    at = min(range(len(people)), key=lambda i: (people[i] in wanted, abs(i - middle), i))
    return [*people[:at], *people[at + 1 :]]


def _exchange(teams: list[Team], price: Callable[[Team], int]) -> bool:
    """Exchange mates between two teams where that is better; return whether it ever was."""
    better = False
    for one, other in combinations(range(len(teams)), 2):
        (a, b), (c, d) = teams[one], teams[other]
        ways = [((a, b), (c, d)), ((a, c), (b, d)), ((a, d), (c, b))]
        best = min(ways, key=lambda way: price(way[0]) + price(way[1]))
        better |= best != ways[0]
        teams[one], teams[other] = best
    return better


def _wished(problem: Problem) -> dict[Team, int]:
    """Return what it costs to make a team of two people who have wishes about each other."""
    prices: dict[Team, int] = {}
    for demand in problem.demands:
        weight = _MUST if demand.must else _SHOULD
        rounds = [problem.shapes[r] for r in demand.rounds if r in problem.free]
        if not any(shape.keeps_teams for shape in rounds):
            continue
        only_here = all(shape.keeps_teams for shape in rounds)
        sign = _sign(demand.kind, only_here=only_here)
        if sign:
            team = pair(demand.player, demand.other)
            prices[team] = prices.get(team, 0) + sign * weight
    return prices


def _sign(kind: WishKind, *, only_here: bool) -> int:
    """Return -1 for a wish that asks for a team, 1 for one against it.

    To be partners or opponents once can wait for a round of another kind.
    """
    if kind in _APART:
        return 1
    if kind is WishKind.PARTNERS or (kind is WishKind.PARTNERS_ONCE and only_here):
        return -1
    return 1 if kind is WishKind.AGAINST_ONCE and only_here else 0
