"""Round robins of fixed pairs: everybody once, courts in turn."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import pytest

from scheduler.rotation.templates import pairs_round_robin

NOT_BALANCED = {4, 22, 28, 34}


def counts(teams, rounds):
    """Return how often teams met, came to each court, and played."""
    met, visits, turns = Counter(), Counter(), Counter(dict.fromkeys(range(teams), 0))
    for games in rounds:
        for court, *pair in games:
            met[frozenset(pair)] += 1
            visits.update((team, court) for team in pair)
            turns.update(pair)
    return met, visits, turns


@pytest.mark.parametrize("teams", range(2, 25))
def test_everybody_once_before_anybody_twice(teams):
    """On any courts and for any number of rounds, meetings and rests are as even as can be."""
    for courts in range(1, teams // 2 + 1):
        for wanted in (1, 2, 3, 5, 8, teams - 1, teams + 2):
            rounds = pairs_round_robin(teams, courts, wanted)
            assert len(rounds) == wanted
            for games in rounds:
                assert [game[0] for game in games] == list(range(courts))
                assert len({team for game in games for team in game[1:]}) == 2 * courts
            met, _, turns = counts(teams, rounds)
            times = [met[frozenset(pair)] for pair in combinations(range(teams), 2)]
            assert max(times) - min(times) <= 1
            assert max(turns.values()) - min(turns.values()) <= 1


@pytest.mark.parametrize("teams", [t for t in range(2, 37) if t not in NOT_BALANCED])
def test_balanced_tournament(teams):
    """Everybody meets everybody once, and nobody is on a court more than twice.

    Balanced tournament designs exist for 2n teams on n courts unless n = 2 (Haselgrove and Leech
    1977; Schellenberg, van Rees and Vanstone 1977); with one team left out they serve odd numbers.
    """
    wanted = teams - 1 + teams % 2
    met, visits, _ = counts(teams, pairs_round_robin(teams, teams // 2, wanted))
    assert set(met.values()) == {1}
    assert len(met) == teams * (teams - 1) // 2
    assert max(visits.values()) <= 2


@pytest.mark.parametrize("teams", sorted(NOT_BALANCED))
def test_not_balanced(teams):
    """Where we have no balanced design, nobody is on a court more than four times."""
    _, visits, _ = counts(teams, pairs_round_robin(teams, teams // 2, teams - 1))
    assert max(visits.values()) <= 4


def test_eight_pairs():
    """Eight pairs, seven rounds, four courts: everybody once, no pair three times on a court."""
    met, visits, turns = counts(8, pairs_round_robin(8, 4, 7))
    assert len(met) == 28
    assert set(met.values()) == {1}
    assert max(visits.values()) == 2
    assert set(turns.values()) == {7}
