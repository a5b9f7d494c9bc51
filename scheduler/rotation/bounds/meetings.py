"""What nobody can beat in partners, opponents and meetings."""

from __future__ import annotations

from itertools import combinations

from scheduler.domain.event import Kind, WishKind
from scheduler.rotation.bounds.pigeonhole import Bound, best_of, pairs_and_players, spread
from scheduler.rotation.bounds.reach import (
    OTHER_GROUP,
    OWN_GROUP,
    is_pure,
    matches_of,
    met,
    turns_of,
    whom_of,
)
from scheduler.rotation.problem import Problem, Shape


def partners_bound(problem: Problem) -> Bound:
    """Bound partner repeats.

    Fixed teams of ``pairs`` rounds count once and are left out, which can
    only lower the bound; so are the partnerships that a must makes.
    """

    def counts(shape: Shape) -> bool:
        return not shape.is_drill and not shape.keeps_teams

    total = 2 * sum(matches_of(shape) for shape in problem.shapes if counts(shape))
    for one, other in problem.uncounted_partners:
        total -= sum({one, other} <= set(s.players) for s in problem.shapes if counts(s))
    barred = {WishKind.NOT_PARTNERS, WishKind.NOT_SAME_COURT}
    mates = met(problem, counts, barred, lambda shape: whom_of(shape, "partners"))
    return best_of(*pairs_and_players(max(total, 0), 1, mates, turns_of(problem, counts)))


def opponents_bound(problem: Problem) -> Bound:
    """Bound opponent repeats; people who must be partners never oppose.

    Where all rounds are mixed doubles, everybody opposes one of each group in
    every match, so the two sorts of pairs are bounded apart and added.
    """

    def counts(shape: Shape) -> bool:
        return not shape.is_drill

    total = 4 * sum(matches_of(shape) for shape in problem.shapes)
    barred = {WishKind.NOT_SAME_COURT, WishKind.PARTNERS}
    turns = turns_of(problem, counts)
    rounds = [shape for shape in problem.shapes if matches_of(shape)]
    if rounds and all(shape.kind is Kind.MIXED and is_pure(shape) for shape in rounds):
        apart = [
            max(pairs_and_players(total // 2, 1, met(problem, counts, barred, whom), turns))
            for whom in (lambda _: OWN_GROUP, lambda _: OTHER_GROUP)
        ]
        return best_of(sum(apart))
    mates = met(problem, counts, barred, lambda shape: whom_of(shape, "opponents"))
    return best_of(*pairs_and_players(total, 2, mates, turns))


def meetings_bound(problem: Problem) -> Bound:
    """Bound meetings in either role; teams that count once or not at all are left out."""

    def counts(shape: Shape) -> bool:
        return not shape.is_drill

    if problem.uncounted_partners or problem.all_teams:
        return opponents_bound(problem)
    total = 6 * sum(matches_of(shape) for shape in problem.shapes)
    mates = met(problem, counts, {WishKind.NOT_SAME_COURT})
    by_pairs, by_players = pairs_and_players(total, 3, mates, turns_of(problem, counts))
    rounds = [(set(s.players), matches_of(s)) for s in problem.shapes if counts(s)]
    return best_of(by_pairs, by_players, _round_pairs(rounds))


def _round_pairs(rounds: list[tuple[set[int], int]]) -> int:
    """Bound the pairs that share a court twice, two rounds at a time.

    The sum of M(M-1)/2 counts, over every two rounds, the pairs together in
    both. At least x people play a match in both, where x is those present in
    both less those without a match in the one and in the other; they fall
    into a * b cells, one for each court of the first and of the second round, and
    two in one cell are together in both: ``spread(x, a * b)``.
    """
    total = 0
    for (one, a), (other, b) in combinations(rounds, 2):
        off = len(one) - 4 * a + len(other) - 4 * b
        total += spread(max(0, len(one & other) - off), a * b)
    return total
