"""Counts of who met whom in a plan: as partners, as opponents, in drill groups.

Partners and opponents are counted on courts with two against two, drills in
drill groups. Pairs are unordered and stand in the order of the players list.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import combinations, product

from scheduler.domain.event import Kind, Strength, WishKind
from scheduler.domain.plan import Group, Match, Plan

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Meetings:
    """How often each two people met.

    `partners`, `opponents` and `drills` count what happens on the courts.
    `partners_by_choice` leaves out partners who are fixed by the event: a pair
    with a ``partners`` must-wish, and all but one of the ``pairs`` rounds.
    """

    partners: Counter[Pair]
    opponents: Counter[Pair]
    drills: Counter[Pair]
    partners_by_choice: Counter[Pair]


def count_meetings(plan: Plan) -> Meetings:
    """Return how often each two people met in the whole plan."""
    place = {player.name: index for index, player in enumerate(plan.event.players)}
    partners: Counter[Pair] = Counter()
    opponents: Counter[Pair] = Counter()
    drills: Counter[Pair] = Counter()
    chosen: Counter[Pair] = Counter()
    fixed: set[Pair] = set()
    wished = _wished(plan, place)
    for planned in plan.rounds:
        for entry in planned.as_it_was.courts:
            if isinstance(entry, Group):
                drills.update(_pair(a, b, place) for a, b in combinations(entry.players, 2))
            if not isinstance(entry, Match):
                continue
            teams = [_pair(*entry.team_a, place), _pair(*entry.team_b, place)]
            partners.update(teams)
            opponents.update(_pair(a, b, place) for a, b in product(entry.team_a, entry.team_b))
            for team in teams:
                again = planned.kind is Kind.PAIRS and team in fixed
                if team not in wished and not again:
                    chosen[team] += 1
                if planned.kind is Kind.PAIRS:
                    fixed.add(team)
    return Meetings(partners, opponents, drills, chosen)


def _wished(plan: Plan, place: dict[str, int]) -> set[Pair]:
    return {
        _pair(wish.player, wish.other, place)
        for wish in plan.event.wishes
        if wish.kind is WishKind.PARTNERS and wish.strength is Strength.MUST
    }


def _pair(a: str, b: str, place: dict[str, int]) -> Pair:
    return (a, b) if place.get(a, 0) <= place.get(b, 0) else (b, a)
