"""The families of designs keep what their definitions promise."""

from __future__ import annotations

import numpy as np
import pytest
from label_counts import assert_is_schedule, matrices, repeats, spread_of

from scheduler.rotation.templates import find, mixed
from scheduler.rotation.templates.couples import couples_rounds
from scheduler.rotation.templates.fields import field_of
from scheduler.rotation.templates.labels import LETTERS, rounds_of, text_of
from scheduler.rotation.templates.meet_once import (
    meet_once_rounds,
    sloped_rounds,
    with_extra_players,
)
from scheduler.rotation.templates.whist import fewest_repeats, whist_rounds

WHIST_SIZES = [v for v in range(4, 102) if v % 4 <= 1]

# OEIS A107431, the most rounds in which foursomes of 4g golfers meet nobody twice, g = 1 to 10.
MOST_GOLF_ROUNDS = {4: 1, 8: 1, 12: 1, 16: 5, 20: 5, 24: 7, 28: 9, 32: 10, 36: 11, 40: 13}


@pytest.mark.parametrize("players", WHIST_SIZES)
def test_whist(players):
    """In a whist tournament each two partner once and oppose twice (I. Anderson 1997)."""
    rounds = whist_rounds(players)
    rests = players % 4
    assert_is_schedule(players, players // 4, rounds, players - 1 + rests)
    partners, opponents, turns = matrices(players, rounds)
    assert (partners == 1 - np.eye(players, dtype=int)).all()
    assert (opponents == 2 - 2 * np.eye(players, dtype=int)).all()
    assert (turns == players - 1).all()


@pytest.mark.parametrize("players", [6, 7, 10, 11, 3, 0])
def test_no_whist(players):
    """No whist tournament has 2 or 3 modulo 4 players: tables of four leave two or three."""
    assert whist_rounds(players) is None


@pytest.mark.parametrize("players", WHIST_SIZES[4::5])
@pytest.mark.parametrize("share", [0.3, 0.6])
def test_chosen_whist_rounds(players, share):
    """Some rounds of a whist tournament: no partners twice, and no worse than the first so many."""
    whole = whist_rounds(players)
    wanted = round(share * len(whole))
    chosen = fewest_repeats(whole, wanted)
    assert len(set(chosen) & set(whole)) == wanted
    partners, opponents, turns = matrices(players, chosen)
    assert partners.max() == 1
    assert opponents.max() <= 2
    assert spread_of(turns) <= 1
    assert repeats(opponents) <= repeats(matrices(players, whole[:wanted])[1])


@pytest.mark.parametrize("players", range(4, 101, 4))
def test_meet_once(players):
    """Nobody meets anybody twice, in as many rounds as are known (OEIS A107431 to 40 players).

    Beyond, (n - 1) // 3 rounds are the most there can be; with 68 one less is known to us.
    """
    rounds = meet_once_rounds(players)
    most = MOST_GOLF_ROUNDS.get(players, (players - 1) // 3)
    assert_is_schedule(players, players // 4, rounds, most - (players == 68))
    partners, opponents, _ = matrices(players, rounds)
    assert (partners + opponents).max() == 1


@pytest.mark.parametrize("courts", [1, 2, 3, 7, 50, 51, 52, 250])
def test_sloped_rounds(courts):
    """Lines of small slope give a third as many rounds as courts without a second meeting."""
    rounds = sloped_rounds(courts)
    assert_is_schedule(4 * courts, courts, rounds, -(-courts // 3))
    partners, opponents, _ = matrices(4 * courts, rounds)
    assert (partners + opponents).max() == 1


@pytest.mark.parametrize("extra", [1, 2, 3])
@pytest.mark.parametrize("players", range(16, 61, 8))
def test_extra_players(players, extra):
    """One to three more than fill the courts: still nobody twice, and no two rests for one."""
    once = meet_once_rounds(players)
    wanted = len(once) * 2 // 3
    rounds = with_extra_players(once, players, extra, wanted)
    assert_is_schedule(players + extra, players // 4, rounds, wanted)
    partners, opponents, turns = matrices(players + extra, rounds)
    assert (partners + opponents).max() == 1
    assert spread_of(turns) <= 1


def test_no_room_for_extra_players():
    """Where a newcomer would have to meet somebody twice, there is no such schedule."""
    assert with_extra_players(meet_once_rounds(20), 20, 5, 5) is None


@pytest.mark.parametrize("couples", [q for q in range(4, 50) if field_of(q) is not None])
def test_couples_from_fields(couples):
    """Spouse-avoiding mixed doubles as Brayton, Coppersmith and Hoffman (1974) define it.

    Spouses never meet, every other man and woman partner once and oppose once, every two of
    one sex oppose once.
    """
    rounds = couples_rounds(couples)
    assert_is_schedule(2 * couples, couples // 2, rounds, couples - 1 + couples % 2)
    partners, opponents, turns = matrices(2 * couples, rounds)
    others = 1 - np.eye(couples, dtype=int)
    assert (partners[:couples, couples:] == others).all()
    assert not partners[:couples, :couples].any()
    assert not partners[couples:, couples:].any()
    assert (opponents == np.block([[others, others], [others, others]])).all()
    assert spread_of(turns) == 0
    assert all(a < couples <= b and c < couples <= d for r in rounds for a, b, c, d in r)


@pytest.mark.parametrize("couples", [1, 2, 3, 6, 10, 12])
def test_no_couples_from_fields(couples):
    """No self-orthogonal square of order 2, 3, 6 exists; 10 and 12 are no prime powers."""
    assert couples_rounds(couples) is None


def test_eight_couples():
    """Eight couples, seven rounds: spouses never on one court, the others as the design says."""
    template = mixed(8, 7, 4)
    partners, opponents, _ = matrices(16, template.rounds)
    assert not (partners + opponents)[range(8), range(8, 16)].any()
    assert partners.max() == opponents.max() == 1
    assert template.status == "proven"


@pytest.mark.parametrize("order", [4, 8, 9, 25, 27])
def test_field(order):
    """In a field every nonzero element times the nonzero ones gives each of them once."""
    field = field_of(order)
    units = range(1, order)
    for x in units:
        assert sorted(field.multiply(x, y) for y in units) == list(units)
        assert field.add(x, field.minus(x)) == 0
        y, z = (x * 7 + 3) % order, (x * 5 + 1) % order
        assert field.multiply(x, field.add(y, z)) == field.add(
            field.multiply(x, y), field.multiply(x, z)
        )


def test_labels_as_text():
    """A schedule survives being written and read; each of 128 labels has its own letter."""
    rounds = whist_rounds(100)
    assert rounds_of(text_of(rounds)) == rounds
    assert len(set(LETTERS)) == 128


@pytest.mark.parametrize(
    ("players", "courts", "rounds"),
    [
        (44, 11, 14),
        (45, 11, 9),
        (64, 16, 21),
        (100, 25, 33),
        (200, 50, 12),
        (202, 50, 12),
        (1000, 250, 10),
    ],
)
def test_large_evenings_meet_once(players, courts, rounds):
    """Large evenings come out of the designs with no meeting repeated, hence proven."""
    for aim in ("opponents", "meetings"):
        template = find(players, courts, rounds, aim)
        assert_is_schedule(players, courts, template.rounds, rounds)
        partners, opponents, turns = matrices(players, template.rounds)
        assert (partners + opponents).max() == 1
        assert spread_of(turns) <= 1
        assert template.status == "proven"


@pytest.mark.parametrize(
    ("players", "courts", "rounds"),
    [(8, 2, 20), (13, 3, 20), (16, 4, 40), (57, 14, 60), (44, 11, 44)],
)
def test_longer_than_once_through(players, courts, rounds):
    """After everybody has met everybody it goes on, rests still fair."""
    template = find(players, courts, rounds, "opponents")
    assert_is_schedule(players, courts, template.rounds, rounds)
    partners, _, turns = matrices(players, template.rounds)
    assert spread_of(turns) <= 1
    assert partners.max() <= -(-rounds // (players - 1))


@pytest.mark.parametrize("size", [(3, 1, 1), (8, 3, 2), (8, 0, 2), (8, 2, 0), (200, 3, 5)])
def test_nothing_for_what_cannot_be(size):
    """Sizes that cannot be, or for which we have nothing, are answered with None."""
    assert find(*size, "opponents") is None


def test_one_round():
    """One round repeats nothing, on however many courts."""
    template = find(23, 3, 1, "meetings")
    assert_is_schedule(23, 3, template.rounds, 1)
    assert template.status == "proven"
