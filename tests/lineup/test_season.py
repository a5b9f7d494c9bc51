"""The whole season: fairness held against every plan, a flow, and a plain recount."""

from __future__ import annotations

import dataclasses
import itertools
import random
import subprocess
import sys
import time
from collections import Counter

import networkx as nx
import pytest
from lineup_oracle import count_all

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import Here, Player, Side
from scheduler.domain.fixture import (
    Aim,
    Condition,
    ConditionKind,
    Fixture,
    Partnering,
    PlayedPair,
    SquadMember,
    TeamSeason,
)
from scheduler.lineup.season import answer_season
from scheduler.lineup.season_model import SeasonModel, regulars
from scheduler.lineup.work import Work

K = ConditionKind
QUICK = Work(fair=3.0, pairs=0.3)


def made_season(seed: int, players: int, fixtures: int, lines: int, **more) -> TeamSeason:
    """Return a made-up season with about three in four free each time."""
    rng = random.Random(seed)
    squad = tuple(
        SquadMember(
            Player(
                f"P{i:02d}",
                round(rng.uniform(3, 8) * 2) / 2,
                group=rng.choice("MW"),
                side=rng.choice(list(Side)),
            )
        )
        for i in range(players)
    )
    calendar = tuple(
        Fixture(
            f"2031-{4 + k // 4:02d}-{1 + 7 * (k % 4):02d}",
            lines,
            availability={
                m.name: rng.choices([Here.YES, Here.NO, Here.IF_NEEDED], [15, 3, 2])[0]
                for m in squad
            },
        )
        for k in range(fixtures)
    )
    return TeamSeason("Made-up team", squad, calendar, **more)


def recount(season: TeamSeason, answer) -> Counter:
    """Return everyone's matches, after checking every line-up against the sheet."""
    counts = Counter({m.name: m.matches for m in season.squad})
    for each in answer.fixtures:
        names = each.chosen.players
        assert len(set(names)) == 2 * len(each.chosen.pairs)
        counts.update(names)
        if each.played:
            continue
        assert len(each.chosen.pairs) == each.fixture.lines
        assert all(each.fixture.answer(name) is not Here.NO for name in names)
        for lineup in each.lineups:
            alone = dataclasses.replace(season, fixtures=(each.fixture,), played=())
            alone = dataclasses.replace(
                alone, conditions=tuple(c for c in season.conditions if c.kind not in _COUNTING)
            )
            assert _keeps(alone, [pair.players for pair in lineup.pairs])
    return counts


_COUNTING = {K.PLAYS_AT_MOST, K.PLAYS_AT_LEAST, K.LEFT_OUT_AT_MOST}


def _keeps(season: TeamSeason, pairs) -> bool:
    member = {m.name: m for m in season.squad}
    sums = [member[a].level + member[b].level for a, b in pairs]
    together = {frozenset(pair) for pair in pairs}
    names = {name for pair in pairs for name in pair}
    for c in season.conditions:
        women = [sum(member[n].player.group == c.group for n in pair) for pair in pairs]
        broken = {
            K.LEVEL_ORDER: sums != sorted(sums, reverse=True),
            K.HIGHEST_SUM: max(sums) > c.number,
            K.LOWEST_SUM: min(sums) < c.number,
            K.GREATEST_DIFFERENCE: any(
                abs(member[a].level - member[b].level) > c.number for a, b in pairs
            ),
            K.GROUP_IN_TEAM: sum(women) < c.number,
            K.GROUP_IN_PAIR: any(
                w < c.number and (not c.lines or line in c.lines) for line, w in enumerate(women, 1)
            ),
            K.NOT_PARTNERS: frozenset((c.player, c.other)) in together,
            K.PARTNERS: bool({c.player, c.other} & names)
            and all(season.fixtures[0].answer(n) is not Here.NO for n in (c.player, c.other) if n)
            and frozenset((c.player, c.other)) not in together,
        }
        if broken[c.kind]:
            return False
    return True


def test_the_target_size_is_fair_fast_and_sound():
    """24 players, 12 fixtures of 4 pairs under five conditions: proved, recounted, under 20 s."""
    limits = (
        Condition(K.LEVEL_ORDER),
        Condition(K.GREATEST_DIFFERENCE, 3),
        Condition(K.GROUP_IN_TEAM, 3, group="W"),
        Condition(K.GROUP_IN_PAIR, 1, group="W", lines=(4,)),
        Condition(K.PLAYS_AT_MOST, 6),
    )
    season = made_season(1, 24, 12, 4, conditions=limits, partnering=Partnering.VARY)
    before = time.process_time()
    answer = answer_season(season)
    assert time.process_time() - before < 20
    counts = recount(season, answer)
    assert dict(counts) == dict(answer.appearances)
    assert max(counts.values()) <= 6
    spread = answer.measures["appearance_spread"]
    assert spread.proven
    assert spread.value == max(counts.values()) - min(counts.values()) <= 1
    assert all(len(each.lineups) == 5 for each in answer.fixtures)


@pytest.mark.parametrize("seed", range(12))
def test_small_seasons_are_as_fair_as_any_plan(seed):
    """Over every choice of teams, none calls fewer people, or as few with fairer appearances."""
    rng = random.Random(seed)
    limits = tuple(
        rng.sample(
            [
                Condition(K.GREATEST_DIFFERENCE, 2),
                Condition(K.GROUP_IN_PAIR, 1, group="W"),
                Condition(K.HIGHEST_SUM, 12),
                Condition(K.PLAYS_AT_MOST, 2, player="P01"),
                Condition(K.PLAYS_AT_LEAST, 2, player="P02"),
                Condition(K.LEFT_OUT_AT_MOST, 1, player="P03"),
                Condition(K.PARTNERS, player="P04", other="P05"),
                Condition(K.GROUP_IN_PAIR, 1, group="M", lines=(seed % 2 + 1,)),
            ],
            2,
        )
    ) + ((Condition(K.LEVEL_ORDER),) if seed % 3 else ())
    season = made_season(100 + seed, 7, 3, 2, conditions=limits)
    best = _fairest_of_all(season)
    if best is None:
        with pytest.raises(NoPlan):
            answer_season(season, QUICK)
        return
    answer = answer_season(season, QUICK)
    counts = recount(season, answer)
    called = sum(
        each.fixture.answer(name) is Here.IF_NEEDED
        for each in answer.fixtures
        for name in each.chosen.players
    )
    assert (called, sum(n * n for n in counts.values())) == best


def _fairest_of_all(season: TeamSeason):
    plain = tuple(c for c in season.conditions if c.kind not in _COUNTING)
    teams = []
    for fixture in season.fixtures:
        # Every team the conditions of one fixture allow, however many are called.
        free = {n: Here.YES for n, here in fixture.availability.items() if here is not Here.NO}
        everyone = {m.name: free.get(m.name, Here.NO) for m in season.squad}
        asked = dataclasses.replace(fixture, availability=everyone)
        alone = dataclasses.replace(season, fixtures=(asked,), conditions=plain)
        found = count_all(alone)
        teams.append({frozenset(n for pair in order for n in pair) for order in found})
    best = None
    for chosen in itertools.product(*teams):
        counts = Counter(name for team in chosen for name in team)
        if not _counts_allowed(season, chosen, counts):
            continue
        called = sum(
            fixture.answer(name) is Here.IF_NEEDED
            for fixture, team in zip(season.fixtures, chosen, strict=True)
            for name in team
        )
        price = (called, sum(n * n for n in counts.values()))
        best = price if best is None else min(best, price)
    return best


def _counts_allowed(season, chosen, counts) -> bool:
    for c in season.conditions:
        left_out = sum(
            f.answer(c.player) is Here.YES and c.player not in team
            for f, team in zip(season.fixtures, chosen, strict=True)
        )
        if (
            (c.kind is K.PLAYS_AT_MOST and counts[c.player] > c.number)
            or (c.kind is K.PLAYS_AT_LEAST and counts[c.player] < c.number)
            or (c.kind is K.LEFT_OUT_AT_MOST and left_out > c.number)
        ):
            return False
    return True


def test_fair_appearances_are_a_cheapest_flow():
    """Without conditions the sum of squares is networkx's min_cost_flow, each match dearer."""
    for seed in range(6):
        rng = random.Random(seed)
        season = made_season(200 + seed, 12, 6, 3)
        free = {
            f.date: {
                n: Here.YES if here is Here.IF_NEEDED else here
                for n, here in f.availability.items()
            }
            for f in season.fixtures
        }
        season = dataclasses.replace(
            season,
            squad=tuple(dataclasses.replace(m, matches=rng.randint(0, 3)) for m in season.squad),
            fixtures=tuple(
                dataclasses.replace(f, availability=free[f.date]) for f in season.fixtures
            ),
        )
        graph = nx.DiGraph()
        for f in season.fixtures:
            graph.add_node(f.date, demand=-6)
            for m in season.squad:
                if f.answer(m.name) is Here.YES:
                    graph.add_edge(f.date, m.name, capacity=1, weight=0)
        graph.add_node("end", demand=36)
        for m in season.squad:
            for k in range(6):
                step = f"{m.name} {k}"
                weight = 2 * (m.matches + k) + 1
                graph.add_edge(m.name, step, capacity=1, weight=weight)
                graph.add_edge(step, "end", capacity=1, weight=0)
        flow = nx.min_cost_flow_cost(graph)
        answer = answer_season(season, QUICK)
        counts = recount(season, answer)
        before = sum(m.matches**2 for m in season.squad)
        assert sum(n * n for n in counts.values()) == flow + before


def test_what_was_played_stays_and_counts():
    """After a fixture played otherwise than planned, only the fixtures to come change."""
    season = made_season(7, 12, 5, 3)
    planned = answer_season(season, QUICK)
    first = planned.fixtures[0]
    names = list(first.chosen.players)
    names[0] = first.chosen.reserves[0]
    pairs = list(zip(names[::2], names[1::2], strict=True))
    played = tuple(PlayedPair(first.fixture.date, i, p) for i, p in enumerate(pairs, 1))
    again = dataclasses.replace(season, played=played)
    answer = answer_season(again, QUICK)
    assert answer.fixtures[0].played
    assert [set(p.players) for p in answer.fixtures[0].chosen.pairs] == [set(p) for p in pairs]
    counts = recount(again, answer)
    assert dict(counts) == dict(answer.appearances)
    assert counts[names[0]] >= 1
    spread = [counts[name] for name in regulars(again)]
    assert max(spread) - min(spread) == answer.measures["appearance_spread"].value


def test_partners_are_kept_or_varied_as_asked():
    """Keeping partners needs fewer different pairs over a season than varying them."""
    different = {}
    for partnering in (Partnering.KEEP, Partnering.VARY):
        season = made_season(3, 10, 6, 3, partnering=partnering, aim=Aim.SHARE)
        answer = answer_season(season, Work(fair=3.0, pairs=0.5))
        pairs = [frozenset(p.players) for each in answer.fixtures for p in each.chosen.pairs]
        different[partnering] = len(set(pairs))
        assert answer.measures["different_pairs"].value == len(set(pairs))
    assert different[Partnering.KEEP] < different[Partnering.VARY]
    assert different[Partnering.VARY] >= 16


def test_alternatives_of_a_season_really_differ():
    """No two line-ups shown for a fixture are swaps of players of one level, group, side, hand."""
    season = made_season(5, 14, 4, 3)
    member = season.member_by_name
    for each in answer_season(season, QUICK).fixtures:
        kinds = []
        for lineup in each.lineups:
            players = [[member[n].player for n in pair.players] for pair in lineup.pairs]
            kinds.append(
                sorted(
                    sorted((p.level, p.group, str(p.side), str(p.hand)) for p in pair)
                    for pair in players
                )
            )
        assert all(a != b for a, b in itertools.combinations(kinds, 2))


def test_the_model_is_built_the_same_under_every_hash_seed():
    """Nothing in the model depends on the order of a set of strings."""
    script = (
        "import sys; sys.path.insert(0, sys.argv[1]);"
        "from test_season import made_season;"
        "from scheduler.lineup.season_model import SeasonModel;"
        "from scheduler.lineup.season_price import season_price;"
        "from scheduler.lineup.work import Work;"
        "from scheduler.domain.fixture import Partnering;"
        "import hashlib;"
        "m = SeasonModel(made_season(9, 12, 3, 3, partnering=Partnering.VARY), (), Work());"
        "m.model.minimize(m.squares() + season_price(m.model, m.season, m.fixtures));"
        "print(hashlib.sha256(str(m.model).encode()).hexdigest())"
    )
    folder = str(__import__("pathlib").Path(__file__).parent)
    prints = {
        subprocess.run(
            [sys.executable, "-c", script, folder],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(p for p in sys.path if p)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(prints) == 1


def test_the_bound_of_the_spread_holds_for_the_model_without_pairs():
    """Who plays when, without pairs, cannot be spread less than the bound says."""
    season = made_season(11, 9, 4, 2)
    answer = answer_season(season, QUICK)
    model = SeasonModel(season, (), QUICK, with_pairs=False)
    bound = answer.measures["appearance_spread"].bound
    calls = answer.measures["people_called"].value
    model.model.add(model.calls() <= int(calls))
    model.model.add(model.spread() <= int(bound) - 1)
    with pytest.raises(NoPlan) as caught:
        model.solve(5.0)
    assert caught.value.proven
