"""Whom to practise with at home: two partners of near level, met as little as possible.

Every suggestion is mutual: if Ada is told to ring Bruno, Bruno is told to ring
Ada. So the suggestions are edges of a graph in which everybody has degree two
(a 2-factor), made of rings of three people or more. Three people make a ring;
of two, each gets the other; one alone gets nobody.

A pair costs the square of its gap in levels plus one for every time the two
met, tonight or on earlier evenings, in any role. Rings start as one ring in
order of level (up by every second person and down by the others, so that
neighbours differ little) and are improved by exchanging two edges for the two
others on the same four people, as long as that lowers the total. The result
cannot be improved by one such exchange; that no other suggestions are better
in all is not proved.

People whom a wish keeps apart are never suggested to each other; where numbers
leave no other way, somebody gets one suggestion fewer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from scheduler.domain.event import WishKind
from scheduler.domain.plan import Plan
from scheduler.exporters.meetings import count_meetings

_APART = frozenset({WishKind.NOT_PARTNERS, WishKind.NOT_SAME_COURT})
_KEPT_APART = 1e6  # more than any gap and any number of meetings
_LEAST_GAIN = 1e-9  # rounding never counts as an improvement

Edge = tuple[int, int]


@dataclass(frozen=True, slots=True)
class _Costs:
    """What it costs to suggest each two people, by their indices."""

    table: tuple[tuple[float, ...], ...]

    def of(self, edge: Edge) -> float:
        return self.table[edge[0]][edge[1]]


def practice_partners(plan: Plan) -> dict[str, tuple[str, ...]]:
    """Return for everybody who came the one or two people to practise with.

    Parameters
    ----------
    plan
        The plan; its meetings are counted, and those of earlier evenings.

    Returns
    -------
    dict
        Names by name, in the order of the players list; the cheaper
        suggestion first. Whoever is absent all evening is left out.
    """
    names = _came(plan)
    levels = [plan.event.player_by_name[name].level for name in names]
    costs = _costs(plan, names, levels)
    edges = _improved(_ring_by_level(levels), costs)
    kept = [edge for edge in edges if costs.of(edge) < _KEPT_APART]
    suggested: dict[int, list[int]] = {index: [] for index in range(len(names))}
    for a, b in sorted(kept, key=lambda edge: (costs.of(edge), edge)):
        suggested[a].append(b)
        suggested[b].append(a)
    return {names[a]: tuple(names[b] for b in others) for a, others in suggested.items()}


def _came(plan: Plan) -> list[str]:
    absent = [set(planned.absent) for planned in plan.rounds]
    return [
        player.name
        for player in plan.event.players
        if not absent or not all(player.name in names for names in absent)
    ]


def _costs(plan: Plan, names: Sequence[str], levels: Sequence[float]) -> _Costs:
    met = _meetings(plan)
    apart = {
        frozenset((wish.player, wish.other)) for wish in plan.event.wishes if wish.kind in _APART
    }

    def cost(a: int, b: int) -> float:
        pair = frozenset((names[a], names[b]))
        gap = levels[a] - levels[b]
        return gap * gap + met[pair] + (_KEPT_APART if pair in apart else 0)

    people = range(len(names))
    return _Costs(tuple(tuple(cost(a, b) for b in people) for a in people))


def _meetings(plan: Plan) -> Counter[frozenset[str]]:
    counted = count_meetings(plan)
    met: Counter[frozenset[str]] = Counter()
    for pairs in (counted.partners, counted.opponents, counted.drills):
        for pair, times in pairs.items():
            met[frozenset(pair)] += times
    for earlier in plan.event.earlier:
        times = earlier.partners + earlier.opponents + earlier.drills
        met[frozenset((earlier.player, earlier.other))] += times
    return met


def _ring_by_level(levels: Sequence[float]) -> list[Edge]:
    """Return a ring up by every second person in order of level, and down by the others."""
    order = sorted(range(len(levels)), key=lambda index: (levels[index], index))
    if len(order) < 3:
        return [(order[0], order[1])] if len(order) == 2 else []
    ring = order[::2] + order[1::2][::-1]
    return [_edge(ring[index - 1], ring[index]) for index in range(len(ring))]


def _edge(a: int, b: int) -> Edge:
    return (a, b) if a < b else (b, a)


def _improved(edges: list[Edge], costs: _Costs) -> list[Edge]:
    """Return the edges after every exchange that lowers their total cost."""
    taken = set(edges)
    improving = True
    while improving:
        improving = False
        for i, j in combinations(range(len(edges)), 2):
            better = _exchange(edges[i], edges[j], taken, costs)
            if better is not None:
                taken.difference_update((edges[i], edges[j]))
                taken.update(better)
                edges[i], edges[j] = better
                improving = True
    return edges


def _exchange(one: Edge, two: Edge, taken: set[Edge], costs: _Costs) -> tuple[Edge, Edge] | None:
    """Return the cheapest other way to join the four ends of two edges, if it is cheaper."""
    (a, b), (c, d) = one, two
    if len({a, b, c, d}) < 4:
        return None
    now = costs.of(one) + costs.of(two) - _LEAST_GAIN
    ways = [(_edge(a, c), _edge(b, d)), (_edge(a, d), _edge(b, c))]
    open_ways = [way for way in ways if taken.isdisjoint(way)]
    best = min(open_ways, key=lambda way: costs.of(way[0]) + costs.of(way[1]), default=None)
    if best is None or costs.of(best[0]) + costs.of(best[1]) >= now:
        return None
    return best
