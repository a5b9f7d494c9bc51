"""First serves: never one whole away from a quarter of anybody's matches, and as even as can be."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.rotation import first_servers


def matches(people: int, most: int) -> st.SearchStrategy[list[tuple[str, ...]]]:
    """Draw matches of four among so many people."""
    names = [f"P{i}" for i in range(people)]
    four = st.permutations(names).map(lambda order: tuple(order[:4]))
    return st.lists(four, min_size=1, max_size=most)


def unfairness(played: list[tuple[str, ...]], first: tuple[str, ...] | list[str]) -> Fraction:
    """Return the most that anybody's first serves differ from a quarter of their matches."""
    times = Counter(name for four in played for name in four)
    serves = Counter(first)
    return max(abs(serves[name] - Fraction(n, 4)) for name, n in times.items())


@settings(max_examples=90, deadline=None)
@given(st.integers(4, 12).flatmap(lambda people: matches(people, 25)))
def test_nobody_is_a_whole_serve_away_from_a_quarter(played) -> None:
    """Serving a quarter of each match is a fair flow in fractions, so a whole one is within 1.

    (Integrality of network flows: Ford and Fulkerson, Flows in Networks, 1962.)
    """
    first = first_servers(played, [])
    assert all(name in four for name, four in zip(first, played, strict=True))
    assert unfairness(played, first) < 1


@settings(max_examples=50, deadline=None)
@given(st.integers(4, 6).flatmap(lambda people: matches(people, 5)))
def test_no_choice_of_first_servers_is_fairer(played) -> None:
    """With up to five matches all choices are tried, and none does better."""
    best = min(unfairness(played, choice) for choice in product(*played))
    assert unfairness(played, first_servers(played, [])) == best


@settings(max_examples=50, deadline=None)
@given(st.integers(4, 6).flatmap(lambda people: matches(people, 6)), st.data())
def test_serves_already_made_stay_and_count(played, data) -> None:
    """First serves of matches played stay, and the others make the best that is left of it."""
    done = data.draw(st.integers(0, len(played)))
    fixed = [data.draw(st.sampled_from(four)) for four in played[:done]]
    first = first_servers(played, fixed)
    assert first[:done] == fixed
    best = min(unfairness(played, (*fixed, *choice)) for choice in product(*played[done:]))
    assert unfairness(played, first) == best


def test_who_served_first_before_does_not_again() -> None:
    """P0 served first in the one match so far; of the same four somebody else does now."""
    four = ("P0", "P1", "P2", "P3")
    assert sorted(first_servers([four] * 4, ["P0"])) == sorted(four)


def test_who_served_first_three_times_is_done() -> None:
    """P3 served first in all three matches so far: nobody evens that out, P3 serves no more."""
    four = ("P0", "P1", "P2", "P3")
    assert sorted(first_servers([four] * 6, ["P3"] * 3)[3:]) == ["P0", "P1", "P2"]


def test_no_matches_have_no_servers() -> None:
    """An evening of drills needs no first server."""
    assert first_servers([], []) == []
