"""Practice partners: two each, mutual, near in level, and never people who are kept apart."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import networkx as nx
import pytest
from exporter_plans import make_plan

from scheduler.domain.event import Earlier, Wish, WishKind
from scheduler.domain.plan import Plan
from scheduler.exporters.meetings import count_meetings
from scheduler.exporters.practice import practice_partners


def cost(plan: Plan, one: str, other: str) -> float:
    """Return what a pair costs, counted once more from the plan: gap squared plus meetings."""
    levels = {player.name: player.level for player in plan.event.players}
    met = count_meetings(plan)
    times = sum(
        number
        for counts in (met.partners, met.opponents, met.drills)
        for pair, number in counts.items()
        if set(pair) == {one, other}
    )
    return (levels[one] - levels[other]) ** 2 + times


def total(plan: Plan, suggested: dict[str, tuple[str, ...]]) -> float:
    """Return the cost of all suggestions, each pair once."""
    pairs = {frozenset((one, other)) for one, others in suggested.items() for other in others}
    return sum(cost(plan, *sorted(pair)) for pair in pairs)


def cheapest(plan: Plan, names: list[str]) -> float:
    """Return the least cost of any graph on these people in which everybody has degree two.

    Every such graph of six people or fewer is one ring or two rings of three.
    """
    graph = nx.complete_graph(len(names))
    best = float("inf")
    for edges in combinations(graph.edges, len(names)):
        if all(sum(node in edge for edge in edges) == 2 for node in graph):
            best = min(best, sum(cost(plan, names[a], names[b]) for a, b in edges))
    return best


@pytest.mark.parametrize("players", [5, 6, 9, 16, 22, 40])
def test_everybody_gets_two_and_every_suggestion_is_mutual(players: int) -> None:
    """From three people on each gets two others, and is suggested to both."""
    suggested = practice_partners(make_plan(players, max(1, players // 4), 1, 3))
    assert len(suggested) == players
    for name, others in suggested.items():
        assert len(set(others) - {name}) == 2
        assert all(name in suggested[other] for other in others)


def test_few_people_get_what_numbers_allow() -> None:
    """Three make a ring, two get each other, one alone gets nobody."""
    plan = make_plan(4, 1, 1, 0)
    for count, each in ((3, 2), (2, 1), (1, 0)):
        people = plan.event.players[:count]
        few = replace(plan, event=replace(plan.event, players=people), rounds=())
        assert [len(others) for others in practice_partners(few).values()] == [each] * count


@pytest.mark.parametrize("seed", range(8))
def test_small_groups_come_near_the_cheapest_suggestions(seed: int) -> None:
    """For six people no way is cheaper by more than a tenth, all ways being tried (networkx)."""
    plan = make_plan(6, 1, 1, 4, seed=seed)
    suggested = practice_partners(plan)
    least = cheapest(plan, list(suggested))
    assert least <= total(plan, suggested) <= 1.1 * least


def test_no_exchange_of_two_pairs_is_cheaper() -> None:
    """Nobody could swap partners with somebody and make the whole cheaper, as promised."""
    plan = make_plan(24, 6, 2, 5)
    suggested = practice_partners(plan)
    pairs = sorted({tuple(sorted((a, b))) for a, others in suggested.items() for b in others})
    for (a, b), (c, d) in combinations(pairs, 2):
        if len({a, b, c, d}) < 4:
            continue
        now = cost(plan, a, b) + cost(plan, c, d)
        for (p, q), (r, s) in (((a, c), (b, d)), ((a, d), (b, c))):
            if tuple(sorted((p, q))) not in pairs and tuple(sorted((r, s))) not in pairs:
                assert cost(plan, p, q) + cost(plan, r, s) >= now - 1e-6


def test_people_kept_apart_are_never_suggested_to_each_other() -> None:
    """A wish that keeps two people apart holds at home too, even at one suggestion fewer."""
    plan = make_plan(9, 2, 2, 2)
    one, *others, last = practice_partners(plan)
    kinds = (WishKind.NOT_SAME_COURT, WishKind.NOT_PARTNERS)
    apart = tuple(Wish(kinds[i % 2], *sorted((one, name))) for i, name in enumerate(others))
    suggested = practice_partners(replace(plan, event=replace(plan.event, wishes=apart)))
    assert suggested[one] == (last,)
    assert one in suggested[last]


def test_earlier_evenings_count() -> None:
    """Two people who met on many earlier evenings are not suggested to each other."""
    plan = make_plan(8, 2, 1, 1)
    one = plan.event.players[0].name
    friend = practice_partners(plan)[one][0]
    earlier = (Earlier(one, friend, partners=200),)
    again = practice_partners(replace(plan, event=replace(plan.event, earlier=earlier)))
    assert friend not in again[one]


def test_who_is_absent_all_evening_is_left_out() -> None:
    """Only people who come are suggested."""
    plan = make_plan(8, 2, 0, 1)
    gone = plan.rounds[0].absent
    assert gone
    suggested = practice_partners(plan)
    assert not set(gone) & set(suggested)
