"""Why nothing is possible: the set named is a conflict, and none is smaller."""

from __future__ import annotations

import dataclasses
import itertools
import random

import pytest
from lineup_oracle import count_all, random_season

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import Here, Player
from scheduler.domain.fixture import Condition, ConditionKind, Fixture, SquadMember, TeamSeason
from scheduler.lineup.choose import choose
from scheduler.lineup.conflict import smallest_conflict
from scheduler.lineup.price import Situation
from scheduler.lineup.season import answer_season


def test_the_conflict_is_smallest_by_trying_every_subset():
    """In random families of forbidden subsets no smaller subset is impossible."""
    for case in range(200):
        rng = random.Random(case)
        items = list(range(rng.randint(1, 7)))
        bad = [set(rng.sample(items, rng.randint(1, len(items)))) for _ in range(rng.randint(1, 4))]

        def possible(kept, bad=bad):
            return not any(group <= set(kept) for group in bad)

        found = smallest_conflict(items, possible)
        assert not possible(found)
        assert len(found) == min(len(group) for group in bad)


def test_the_conditions_named_are_a_smallest_set_by_counting_line_ups():
    """For impossible random fixtures the count of all line-ups agrees on the conflict's size."""
    seen = 0
    for case in range(400):
        rng = random.Random(9000 + case)
        season = random_season(rng, rng.choice([6, 7]), 3, conditions=True)
        if not season.conditions or count_all(season):
            continue
        numbered = tuple(
            dataclasses.replace(c, where=f"Conditions!A{row}")
            for row, c in enumerate(season.conditions, 2)
        )
        season = dataclasses.replace(season, conditions=numbered)
        with pytest.raises(NoPlan) as caught:
            choose(Situation.of(season, season.fixtures[-1]))
        named = [c for c in numbered if c.sentence in caught.value.conflict]
        assert len(named) == len(caught.value.conflict) - 1
        assert not count_all(dataclasses.replace(season, conditions=tuple(named)))
        for fewer in itertools.combinations(numbered, len(named) - 1):
            assert count_all(dataclasses.replace(season, conditions=fewer))
        seen += 1
        if seen == 25:
            break
    assert seen == 25


def squad(levels: list[float], group: str = "") -> tuple[SquadMember, ...]:
    """Return people named A, B, C … with these levels."""
    return tuple(
        SquadMember(Player(chr(ord("A") + i), level, group=group)) for i, level in enumerate(levels)
    )


def test_too_few_people_are_named_by_number():
    """Seven people free for four pairs are said to be just that."""
    people = squad([5] * 8)
    fixture = Fixture("2031-05-03", 4, availability={"A": Here.NO}, where="Fixtures!A2")
    with pytest.raises(NoPlan) as caught:
        answer_season(TeamSeason("Team", people, (fixture,)))
    assert caught.value.conflict == (
        "Fixtures!A2: only 7 available players for 4 pairs on 2031-05-03",
    )
    assert caught.value.proven


def test_a_season_without_room_names_the_limit():
    """Six people, three fixtures of two pairs: 12 places, and at most one match each is six."""
    people = squad([5, 5, 5, 6, 6, 6])
    fixtures = tuple(Fixture(f"2031-05-0{day}", 2) for day in (1, 2, 3))
    limits = (
        Condition(ConditionKind.LEVEL_ORDER, where="Conditions!A2"),
        Condition(ConditionKind.HIGHEST_SUM, 12, where="Conditions!A3"),
        Condition(ConditionKind.PLAYS_AT_MOST, 1, where="Conditions!A4"),
    )
    with pytest.raises(NoPlan) as caught:
        answer_season(TeamSeason("Team", people, fixtures, conditions=limits))
    assert caught.value.conflict == (
        "3 fixtures with 12 places in all are still to be filled",
        "Conditions!A4: everyone may play at most 1 fixtures",
    )
