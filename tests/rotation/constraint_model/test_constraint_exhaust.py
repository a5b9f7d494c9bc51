"""The search through all evenings of a size, beside counting by hand and another method."""

from __future__ import annotations

from itertools import permutations
from math import comb

import pytest
from evenings_to_seat import DOUBLES, evening

from scheduler.rotation.constraint_model import prove
from scheduler.rotation.constraint_model.exhaust import Rounds, Search
from scheduler.rotation.constraint_model.proofs import counting_bound, least, repeats_of, table
from scheduler.rotation.shapes import problem_of

LEAST_SQUARES = {(5, 2): 10, (5, 4): 28, (6, 3): 14, (6, 5): 30, (7, 5): 22, (8, 4): 40, (9, 4): 36}
"""Known least sums of squared opponent counts, found and proved before this code by other means."""


@pytest.mark.parametrize("size", LEAST_SQUARES)
def test_known_optima_come_out(size):
    """The least value found by searching all evenings is the one known from other methods."""
    found = least(*size)
    assert found.squares == LEAST_SQUARES[size]
    assert repeats_of(found.evening) == found.value
    assert found.bound == counting_bound(*size[:1], size[0] // 4, size[1]) <= found.value


def test_nine_people_five_rounds_take_six_repeats():
    """Of nine people on two courts in five rounds at least six pairs oppose again: 52 squares."""
    found = least(9, 5)
    assert (found.bound, found.value, found.squares) == (4, 6, 52)
    resting = [set(range(9)) - {p for match in one for p in match} for one in found.evening]
    assert sorted(p for one in resting for p in one) == sorted(set().union(*resting))


@pytest.mark.parametrize(("people", "courts"), [(4, 1), (6, 1), (8, 2), (9, 2)])
def test_every_round_is_listed_once(people, courts):
    """There are C(n, 4c) (4c)! / (8^c c!) rounds, no two the same."""
    rounds = Rounds(people, courts)
    seatings = {1: 3, 2: 315}[courts]
    assert len(rounds.all) == comb(people, 4 * courts) * seatings
    shown = {
        frozenset(frozenset((frozenset(m[:2]), frozenset(m[2:]))) for m in r) for r in rounds.all
    }
    assert len(shown) == len(rounds.all)


def test_orbits_are_those_of_the_whole_group():
    """Two rounds are in one orbit exactly when one of all 128 renamings makes one the other."""
    rounds = Rounds(9, 2)
    shown = {_shown(found): index for index, found in enumerate(rounds.all)}
    first = _shown(rounds.all[0])
    group = [
        (*names, 8)
        for names in permutations(range(8))
        if {names[0], names[1]} in ({0, 1}, {2, 3}, {4, 5}, {6, 7})
        if _shown(_renamed(rounds.all[0], (*names, 8))) == first
    ]
    assert len(group) == 128
    for index in range(0, len(rounds.all), 41):
        images = {shown[_shown(_renamed(rounds.all[index], names))] for names in group}
        assert images == {i for i, o in enumerate(rounds.orbits) if o == rounds.orbits[index]}


def _renamed(found, names):
    return tuple(tuple(names[p] for p in match) for match in found)


def _shown(found):
    return frozenset(frozenset((frozenset(m[:2]), frozenset(m[2:]))) for m in found)


def test_both_methods_agree_on_seven():
    """Search and constraint model give the same answers for seven people and six rounds."""
    problem = problem_of(evening(7, 1, [DOUBLES] * 6))
    for value in (2, 3):
        found = Search(Rounds(7, 1), 6, value).run()
        assert prove(problem, "opponent_repeats", value, 20) is (found is None)


def test_the_table_has_a_line_for_each_size():
    """The script's table names the size, its bound, the least value and its squares."""
    lines = list(table(["5x3", "6x3"]))
    assert [line.split()[:4] for line in lines[1:]] == [
        ["5x3", "2", "3", "18"],
        ["6x3", "0", "1", "14"],
    ]
