"""Every schedule of the book, counted again."""

from __future__ import annotations

from time import process_time

import numpy as np
import pytest
from label_counts import assert_is_schedule, least, matrices, repeats, spread_of

from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.rotation.bounds import bounds_of
from scheduler.rotation.settled_cases import FEWEST_OPPONENT_REPEATS
from scheduler.rotation.shapes import problem_of
from scheduler.rotation.templates import book, find, group_against_group, mixed, mixed_strangers
from scheduler.rotation.templates.limits import (
    ON_ONE_COURT,
    group_limits,
    meeting_limit,
    mixed_limits,
    opponent_limit,
    partner_limit,
)

PAGES = {}
for _chapter, _size, _entry in book.entries():
    PAGES.setdefault((_chapter, _size), []).append(_entry)


def sizes_of(chapter):
    """Return the sizes a chapter has pages for."""
    return [size for name, size in PAGES if name == chapter]


def limits_of(players, entry, aim):
    """Return the bounds on partner repeats and on the aim's, with the cases settled one by one."""
    size = players, entry.courts, entry.rounds
    if aim == "meetings":
        bound, settled = meeting_limit(*size), 0
    else:
        bound = opponent_limit(*size)
        settled = FEWEST_OPPONENT_REPEATS.get((players, entry.rounds), 0)
    if entry.courts != players // 4:
        settled = 0
    if entry.courts == 1:
        settled = max(settled, ON_ONE_COURT[aim].get((players, entry.rounds), 0))
    return partner_limit(*size), max(bound, settled)


def assert_counts(players, entry, kinds):
    """Check the stated repeats, and that everybody rests as much as the others of their kind."""
    rounds = entry.schedule()
    assert_is_schedule(players, entry.courts, rounds, entry.rounds)
    partners, opponents, turns = matrices(players, rounds)
    assert repeats(partners) == entry.partner
    for kind in kinds:
        assert spread_of(turns[kind]) <= 1
    return partners, opponents


@pytest.mark.parametrize("size", sizes_of("opponents"))
def test_opponents(size):
    """Repeats are as stated, rests fair; 'proven' stands exactly at the pigeonhole bounds."""
    n = int(size)
    for entry in PAGES["opponents", size]:
        _, opponents = assert_counts(n, entry, [slice(None)])
        assert repeats(opponents) == entry.second
        limits = limits_of(n, entry, "opponents")
        template = find(n, entry.courts, entry.rounds, "opponents")
        assert template.rounds == entry.schedule()
        assert (template.status == "proven") == ((entry.partner, entry.second) == limits)
        assert entry.partner >= limits[0]
        if entry.partner == limits[0]:
            assert entry.second >= limits[1]


@pytest.mark.parametrize("size", sizes_of("meetings"))
def test_meetings(size):
    """Repeats are as stated, rests fair; 'proven' stands exactly at the bounds."""
    n = int(size)
    for entry in PAGES["meetings", size]:
        partners, opponents = assert_counts(n, entry, [slice(None)])
        assert repeats(partners + opponents) == entry.second
        limits = limits_of(n, entry, "meetings")
        template = find(n, entry.courts, entry.rounds, "meetings")
        assert (template.status == "proven") == ((entry.partner, entry.second) == limits)
        assert entry.partner >= limits[0]
        if entry.partner == limits[0]:
            assert entry.second >= limits[1]


@pytest.mark.parametrize("chapter", ["couples", "strangers"])
def test_mixed(chapter):
    """Each team is a man and a woman, couples never meet, repeats are as stated."""
    for size in sizes_of(chapter):
        k = int(size)
        for entry in PAGES[chapter, size]:
            partners, opponents = assert_counts(2 * k, entry, [slice(0, k), slice(k, None)])
            seats = np.array(entry.schedule()).reshape(-1, 2)
            assert (seats[:, 0] < k).all()
            assert (seats[:, 1] >= k).all()
            assert repeats(opponents) == entry.second
            if chapter == "couples":
                assert not (partners + opponents)[range(k), range(k, 2 * k)].any()
            limits = mixed_limits(k, entry.courts, entry.rounds, couples=chapter == "couples")
            answer = (mixed if chapter == "couples" else mixed_strangers)(
                k, entry.rounds, entry.courts
            )
            assert (answer.status == "proven") == ((entry.partner, entry.second) == limits)
            assert entry.partner >= limits[0]
            assert entry.second >= limits[1]


@pytest.mark.parametrize("turned", [False, True])
def test_group_against_group(turned):
    """Two of one group meet two of the other, whichever group is the larger."""
    for size in sizes_of("against"):
        a, b = map(int, size.split("-"))
        for entry in PAGES["against", size]:
            one, other = (b, a) if turned else (a, b)
            template = group_against_group(one, other, entry.courts, entry.rounds)
            assert_is_schedule(a + b, entry.courts, template.rounds, entry.rounds)
            seats = np.array(template.rounds).reshape(-1, 4)
            assert (seats[:, :2] < one).all()
            assert (seats[:, 2:] >= one).all()
            partners, opponents, turns = matrices(a + b, template.rounds)
            assert spread_of(turns[:one]) <= 1
            assert spread_of(turns[one:]) <= 1
            assert (repeats(partners), repeats(opponents)) == (entry.partner, entry.second)
            limits = group_limits(a, b, entry.courts, entry.rounds)
            assert (template.status == "proven") == ((entry.partner, entry.second) == limits)
            assert entry.second >= limits[1]


# Published: two players of a foursome meet at most once in so many rounds (OEIS A107431), for
# 32 players ten rounds by Aguado (2004).
@pytest.mark.parametrize(
    ("players", "rounds"), [(16, 5), (20, 5), (24, 7), (28, 9), (32, 10), (36, 11), (40, 13)]
)
def test_nobody_twice(players, rounds):
    """Up to the most rounds known, nobody meets anybody twice in any role."""
    for some in range(2, rounds + 1):
        template = find(players, players // 4, some, "meetings")
        partners, opponents, _ = matrices(players, template.rounds)
        assert (partners + opponents).max() == 1


@pytest.mark.parametrize("players", [v for v in range(4, 41) if v % 4 <= 1])
def test_whist_sizes_once_through(players):
    """Where whist tournaments exist, the book holds everybody partner once, oppose twice."""
    rounds = players - 1 + players % 4
    template = find(players, players // 4, rounds, "opponents")
    partners, opponents, _ = matrices(players, template.rounds)
    assert (partners + np.eye(players, dtype=int) == 1).all()
    assert (opponents + 2 * np.eye(players, dtype=int) == 2).all()


def plain_bounds(players, courts, rounds):
    """Return the engine's bounds for a plain evening of doubles."""
    event = Event(
        name="plain",
        start=0,
        players=tuple(Player(f"P{i}", 5) for i in range(players)),
        courts=tuple(Court(f"C{i}") for i in range(courts)),
        rounds=tuple(Round(Kind.DOUBLES, 20 * r, 20) for r in range(rounds)),
    )
    return bounds_of(problem_of(event))


@pytest.mark.parametrize(
    "size",
    [
        (n, c, r)
        for n in (4, 5, 8, 9, 11, 14, 16)
        for c in range(1, n // 4 + 1)
        for r in (2, 3, 5, 8, 16)
    ]
    + [(24, 6, 9), (27, 5, 14), (40, 10, 16)],
)
def test_limits_are_the_engines_bounds(size):
    """The quick formulas say what the engine's bounds say."""
    bounds = plain_bounds(*size)
    assert partner_limit(*size) == bounds["partner_repeats"].value
    assert opponent_limit(*size) == bounds["opponent_repeats"].value
    assert meeting_limit(*size) == bounds["meeting_repeats"].value


@pytest.mark.parametrize("size", [2, 3, 5, 8, 11])
@pytest.mark.parametrize("rounds", [1, 4, 7])
def test_mixed_limits_by_dealing_out(size, rounds):
    """The limits of mixed doubles are at least what dealing meetings out over all pairs gives."""
    courts = size // 2
    for couples in (False, True):
        partner, opponent = mixed_limits(size, courts, rounds, couples=couples)
        across = size * (size - couples)
        same = size * (size - 1) // 2
        assert partner >= least(2 * courts * rounds, across)
        assert opponent >= least(2 * courts * rounds, across) + 2 * least(courts * rounds, same)


def test_small_optima():
    """No limit exceeds the least sums known for small sizes (design theory and exhaustive search).

    All 7 rounds of 8 are a whist tournament: 28 pairs oppose twice. Two rounds of five repeat
    one pair at least: the four on court in round two include three of the first four.
    """
    assert opponent_limit(8, 2, 7) == 28
    assert opponent_limit(5, 1, 2) <= 1
    assert meeting_limit(8, 2, 2) == 4


def test_fast():
    """Any page of the book is opened and answered from in under 30 ms of processor time."""
    slowest = 0.0
    for (chapter, size), entries in PAGES.items():
        if chapter in {"opponents", "meetings"}:
            longest = entries[-1]
            slowest = max(
                slowest,
                min(cold_find(int(size), longest, chapter) for _ in range(3)),
            )
    assert slowest < 0.03


def cold_find(players, entry, aim):
    """Return the processor time of an answer, the page not yet read."""
    book._page.cache_clear()
    since = process_time()
    find(players, entry.courts, entry.rounds, aim)
    return process_time() - since
