"""The search for one fixture, held against a count of all line-ups and two reference libraries."""

from __future__ import annotations

import dataclasses
import itertools
import random
from collections import Counter

import networkx as nx
import numpy as np
import pytest
from lineup_oracle import POINT, count_all, random_season
from scipy.optimize import linear_sum_assignment

from scheduler.domain.errors import NoPlan
from scheduler.domain.fixture import Aim, Condition, ConditionKind
from scheduler.lineup.chance import win_chance
from scheduler.lineup.choose import choose
from scheduler.lineup.pair_rules import equal_key
from scheduler.lineup.price import Prices, Situation, line_price, pair_price

SIZES = [(4, 1), (4, 2), (5, 2), (6, 2), (6, 3), (7, 3), (8, 3), (8, 4), (9, 2), (9, 3), (10, 2)]


@pytest.mark.parametrize("block", range(10))
def test_the_best_line_up_is_the_best_of_all(block):
    """In 300 random fixtures with every condition the price found is the least of all line-ups."""
    seen = Counter()
    for case in range(30 * block, 30 * block + 30):
        rng = random.Random(case)
        players, lines = SIZES[case % len(SIZES)] if case % 50 else (10, 3)
        season = random_season(rng, players, lines, conditions=case % 10 > 0, answers=case % 3 > 0)
        prices = count_all(season)
        seen[bool(prices)] += 1
        if not prices:
            with pytest.raises(NoPlan):
                choose(Situation.of(season, season.fixtures[-1]))
            continue
        choice = choose(Situation.of(season, season.fixtures[-1]))
        assert choice.proven
        assert choice.costs[0] == min(prices.values()), case
        ours = tuple(tuple(sorted(pair)) for pair in choice.lineups[0])
        assert prices[ours] == choice.costs[0], case
    assert seen[True] >= 10


def test_alternatives_are_the_next_best_and_no_mere_swaps():
    """The line-ups kept are the cheapest of each kind, a kind being all swaps of equal players."""
    for case in range(60):
        rng = random.Random(1000 + case)
        season = random_season(rng, rng.choice([6, 7, 8]), rng.choice([2, 3]), conditions=case % 2)
        prices = count_all(season)
        if not prices:
            continue
        situation = Situation.of(season, season.fixtures[-1])
        choice = choose(situation, 8)
        key = {m.name: equal_key(m) for m in season.squad}
        cheapest: dict = {}
        for order, price in prices.items():
            kind = [tuple(sorted((key[a], key[b]))) for a, b in order]
            kind = tuple(sorted(kind) if choice.problem.ordered else kind)
            cheapest[kind] = min(price, cheapest.get(kind, price))
        assert list(choice.costs) == sorted(cheapest.values())[: len(choice.costs)]
        assert len(choice.costs) == min(8, len(cheapest))


def test_pairs_without_conditions_are_a_matching_of_greatest_weight():
    """With nothing but prices of pairs, networkx's max_weight_matching finds the same price.

    Whoever is left over is matched to one of as many stand-ins, each of whom
    matches anybody at the same great weight.
    """
    for case in range(300):
        rng = random.Random(2000 + case)
        players = rng.choice([7, 8, 9, 10, 11])
        lines = rng.choice([2, 3])
        aim = rng.choice([Aim.SETTLED, Aim.SHARE])
        season = random_season(rng, players, lines, step=0.1, aim=aim)
        season = dataclasses.replace(
            season,
            fixtures=(
                *season.fixtures[:-1],
                dataclasses.replace(season.fixtures[-1], their_sums=()),
            ),
        )
        situation = Situation.of(season, season.fixtures[-1])
        choice = choose(situation)
        assert choice.proven
        assert choice.costs[0] == _matching_price(season, situation, players, lines), case


def _matching_price(season, situation, players, lines):
    graph = nx.Graph()
    price = {}
    for first, second in itertools.combinations(season.squad, 2):
        total = round(100 * first.level) + round(100 * second.level)
        cost = pair_price(situation, first, second) + line_price(situation, total, 1)
        price[frozenset((first.name, second.name))] = cost
        graph.add_edge(first.name, second.name, weight=-cost)
    for stand_in in range(players - 2 * lines):
        for member in season.squad:
            graph.add_edge(stand_in, member.name, weight=10**9)
    matching = nx.max_weight_matching(graph, maxcardinality=True)
    kept = [frozenset(edge) for edge in matching if frozenset(edge) in price]
    assert len(kept) == lines
    return sum(price[pair] for pair in kept)


def test_line_order_against_known_opponents_is_an_assignment():
    """With the pairs bound and the level order off, scipy's assignment wins as many lines."""
    for case in range(300):
        rng = random.Random(3000 + case)
        lines = rng.randint(2, 5)
        season = random_season(rng, 2 * lines, lines, step=0.1, aim=Aim.STRONG)
        names = [m.name for m in season.squad]
        order = rng.sample(names, len(names))
        pairs = list(zip(order[::2], order[1::2], strict=True))
        theirs = tuple(round(rng.uniform(6, 15), 1) for _ in range(lines))
        fixture = dataclasses.replace(season.fixtures[-1], their_sums=theirs)
        bound = tuple(Condition(ConditionKind.PARTNERS, player=a, other=b) for a, b in pairs)
        season = dataclasses.replace(
            season, fixtures=(*season.fixtures[:-1], fixture), conditions=bound
        )
        choice = choose(Situation.of(season, fixture))
        level = {m.name: m.level for m in season.squad}
        wins = np.array(
            [
                [
                    round(10 * POINT * win_chance(level[a] + level[b] - t, season.scale))
                    for t in theirs
                ]
                for a, b in pairs
            ]
        )
        best = wins[linear_sum_assignment(wins, maximize=True)].sum()
        place = {frozenset(pair): i for i, pair in enumerate(pairs)}
        ours = sum(wins[place[frozenset(p)], line] for line, p in enumerate(choice.lineups[0]))
        assert ours == best, case


def test_the_aim_alone_decides_when_everything_else_is_free():
    """With the other prices at nothing, `even` has the least unevenness of all line-ups."""
    prices = Prices(other=0, soft=0)
    for case in range(40):
        rng = random.Random(4000 + case)
        season = random_season(rng, rng.choice([6, 7, 8]), 3, aim=Aim.EVEN)
        choice = choose(Situation.of(season, season.fixtures[-1], prices=prices))
        level = {m.name: m.level for m in season.squad}

        def unevenness(order, level=level):
            sums = [level[a] + level[b] for a, b in order]
            return sum((x - y) ** 2 for x, y in itertools.combinations(sums, 2))

        least = min(unevenness(order) for order in count_all(season))
        assert unevenness(choice.lineups[0]) == pytest.approx(least)
