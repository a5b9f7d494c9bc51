"""Who serves first in each match, so that nobody always does."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import count
from math import ceil, floor

from ortools.graph.python.max_flow import SimpleMaxFlow  # type: ignore[import-untyped]

Four = tuple[str, str, str, str]


def first_servers(matches: Sequence[Four], fixed: Sequence[str]) -> list[str]:
    """Choose a first server for each match, spread as evenly as can be.

    The most that anybody's first serves differ from a quarter of their
    matches is made as small as possible. Each limit tried is a flow problem:
    every match gives one unit to one of its four players, and each player
    takes a whole number within the limit of their quarter. Giving every
    player exactly a quarter of each match is a flow in fractions, so some
    whole flow keeps everybody within less than one. Where matches played have
    left somebody further away than that, wider limits are tried, and whoever
    is beyond a limit already serves first no more.

    Parameters
    ----------
    matches
        The four players of every match, played ones first.
    fixed
        First servers of the matches already played.

    Returns
    -------
    list of str
        The first server of every match, the fixed ones included.
    """
    played = Counter(name for four in matches for name in four)
    given = Counter(fixed)
    quarters = {name: Fraction(times, 4) for name, times in played.items()}
    for fourths in count():
        limit = Fraction(fourths, 4)
        wanted = {
            name: (max(given[name], ceil(part - limit)), max(given[name], floor(part + limit)))
            for name, part in quarters.items()
        }
        chosen = _choose(matches, fixed, wanted)
        if chosen is not None:
            return chosen
    raise AssertionError("a limit as wide as the evening lets any choice through")


def _choose(
    matches: Sequence[Four], fixed: Sequence[str], wanted: dict[str, tuple[int, int]]
) -> list[str] | None:
    """Return first servers within everybody's least and most, or None if there are none.

    A flow from the matches through the players to the sink. A player's least
    goes by an arc of its own and all the rest through one common arc as wide
    as what is left over, so a flow that uses every match fills every least.
    """
    if any(low > high for low, high in wanted.values()):
        return None
    flow = SimpleMaxFlow()
    names = list(wanted)
    node = {name: 2 + i for i, name in enumerate(names)}
    source, sink, common = 0, 1, 2 + len(names)
    arcs: dict[int, tuple[int, str]] = {}
    for match, four in enumerate(matches):
        here = common + 1 + match
        flow.add_arc_with_capacity(source, here, 1)
        for name in fixed[match : match + 1] or four:
            arcs[flow.add_arc_with_capacity(here, node[name], 1)] = (match, name)
    for name, (low, high) in wanted.items():
        flow.add_arc_with_capacity(node[name], sink, low)
        flow.add_arc_with_capacity(node[name], common, high - low)
    left_over = len(matches) - sum(low for low, _ in wanted.values())
    if left_over < 0:
        return None
    flow.add_arc_with_capacity(common, sink, left_over)
    flow.solve(source, sink)
    if flow.optimal_flow() < len(matches):
        return None
    servers = dict(arcs[arc] for arc in arcs if flow.flow(arc))
    return [servers[match] for match in range(len(matches))]
