"""Who plays with whom all through the ``pairs`` rounds."""

from __future__ import annotations

from scheduler.domain.event import Kind, WishKind
from scheduler.rotation.problem import Problem, pair


def fixed_teams(problem: Problem) -> tuple[tuple[int, int], ...]:
    """Return the teams of the ``pairs`` rounds; empty where there are none.

    Wished partners come first. The others are paired so that the sums of
    levels lie close together: strongest with weakest (common practice, no
    source), passing over people who must not be partners.
    """
    present = [set(s.players) for s in problem.shapes if s.kind is Kind.PAIRS]
    if not present:
        return ()
    people = sorted(set.intersection(*present), key=lambda p: (-problem.levels[p], p))
    apart = _pairs_of(problem, {WishKind.NOT_PARTNERS, WishKind.NOT_SAME_COURT})
    wished = _pairs_of(problem, {WishKind.PARTNERS, WishKind.PARTNERS_ONCE})
    teams = []
    free = list(people)
    for one, other in sorted(wished):
        if one in free and other in free:
            teams.append((one, other))
            free.remove(one)
            free.remove(other)
    while len(free) > 1:
        one = free.pop(0)
        mate = next((p for p in reversed(free) if pair(one, p) not in apart), free[-1])
        free.remove(mate)
        teams.append((one, mate))
    return tuple(teams)


def _pairs_of(problem: Problem, kinds: set[WishKind]) -> set[tuple[int, int]]:
    return {pair(d.player, d.other) for d in problem.demands if d.kind in kinds}
