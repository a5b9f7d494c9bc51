"""On the day: the fewest people moved, within the conditions, at once."""

from __future__ import annotations

import dataclasses
import random
import time

import pytest
from lineup_oracle import count_all, random_season

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import Here
from scheduler.lineup.choose import choose
from scheduler.lineup.price import Situation
from scheduler.lineup.withdrawal import after_withdrawal


def test_no_line_up_moves_fewer_people():
    """Of all line-ups without the withdrawn, none moves fewer, and of those none is cheaper."""
    seen = 0
    for case in range(150):
        rng = random.Random(case)
        season = random_season(
            rng, rng.choice([6, 7, 8]), rng.choice([2, 3]), conditions=case % 2, answers=case % 3
        )
        fixture = season.fixtures[-1]
        try:
            announced = choose(Situation.of(season, fixture)).lineups[0]
        except NoPlan:
            continue
        gone = rng.choice([name for pair in announced for name in pair])
        answers = {
            **fixture.availability,
            **{name: Here.YES for pair in announced for name in pair},
            gone: Here.NO,
        }
        today = dataclasses.replace(fixture, availability=answers)
        changed = dataclasses.replace(season, fixtures=(*season.fixtures[:-1], today))
        everything = count_all(changed)
        if not everything:
            with pytest.raises(NoPlan):
                after_withdrawal(season, fixture, announced, [gone])
            continue
        best = min((moves(announced, o, gone), price) for o, price in everything.items())
        answer = after_withdrawal(season, fixture, announced, [gone])
        now = tuple(tuple(sorted(pair.players)) for pair in answer.chosen.pairs)
        assert (moves(announced, now, gone), everything[now]) == best, case
        assert len(answer.moved) == best[0]
        seen += 1
    assert seen >= 60


def moves(before, now, gone: str) -> int:
    """Return how many people change lines, come in, or are left out without withdrawing."""
    line = {name: i for i, pair in enumerate(before) for name in pair}
    after = {name: i for i, pair in enumerate(now) for name in pair}
    return sum(line.get(n) != i for n, i in after.items()) + sum(
        n not in after for n in line if n != gone
    )


def test_a_squad_of_thirty_is_mended_within_a_second():
    """30 players, 6 lines: the change is found well inside a second of work."""
    season = random_season(random.Random(4), 30, 6)
    fixture = season.fixtures[-1]
    announced = choose(Situation.of(season, fixture)).lineups[0]
    before = time.process_time()
    answer = after_withdrawal(season, fixture, announced, [announced[2][0]])
    assert time.process_time() - before < 1
    assert len(answer.moved) == 1
    assert answer.chosen.proven
