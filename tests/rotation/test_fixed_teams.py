"""Who is made a team for the pairs rounds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from drawn_events import events, minute, plain_event
from hypothesis import given, settings

from scheduler.domain.event import Event, Kind, Strength, Wish, WishKind
from scheduler.rotation.problem import pair
from scheduler.rotation.shapes import problem_of
from scheduler.rotation.teams import fixed_teams

PAIRS = (Kind.PAIRS, Kind.PAIRS)


def with_levels(event: Event, *levels: float) -> Event:
    """Return the event with other levels."""
    people = zip(event.players, levels, strict=True)
    return replace(event, players=tuple(replace(p, level=level) for p, level in people))


def test_the_strongest_plays_with_the_weakest() -> None:
    """Sums of levels lie close together: 1 to 8 pair up to nine each (common practice)."""
    event = with_levels(plain_event(8, 2, 0, *PAIRS), 1, 2, 3, 4, 5, 6, 7, 8)
    teams = sorted(pair(*team) for team in fixed_teams(problem_of(event)))
    assert teams == [(0, 7), (1, 6), (2, 5), (3, 4)]


@pytest.mark.parametrize("other", range(1, 7))
@pytest.mark.parametrize("kind", [WishKind.PARTNERS, WishKind.PARTNERS_ONCE])
def test_wished_partners_are_a_team_though_the_number_is_odd(kind: WishKind, other: int) -> None:
    """Of seven people one is left over, and never one of the two who asked for each other."""
    event = plain_event(7, 1, 0, *PAIRS, wishes=(Wish(kind, "P0", f"P{other}"),))
    assert pair(0, other) in {pair(*team) for team in fixed_teams(problem_of(event))}


def test_people_to_be_kept_apart_are_no_team() -> None:
    """Strongest with weakest would pair P0 and P3, whom a must keeps apart."""
    event = plain_event(4, 1, 0, *PAIRS, wishes=(Wish(WishKind.NOT_PARTNERS, "P0", "P3"),))
    teams = fixed_teams(problem_of(with_levels(event, 1, 4, 6, 9)))
    assert len(teams) == 2
    assert (0, 3) not in {pair(*team) for team in teams}


def test_who_misses_a_pairs_round_has_no_team() -> None:
    """A team plays all pairs rounds, so somebody late for the first is in none."""
    event = plain_event(5, 1, 0, *PAIRS)
    late = replace(event.players[0], arrives=minute(1))
    teams = fixed_teams(problem_of(replace(event, players=(late, *event.players[1:]))))
    assert sorted(p for team in teams for p in team) == [1, 2, 3, 4]


@settings(max_examples=50, deadline=None)
@given(events(people=(4, 14), kinds=(Kind.PAIRS, Kind.DOUBLES), strengths=(Strength.SHOULD,)))
def test_everybody_there_throughout_is_in_one_team_but_for_an_odd_one(event: Event) -> None:
    """Teams share nobody, hold only people there for every pairs round, and miss at most one."""
    problem = problem_of(event)
    rounds = [shape for shape in problem.shapes if shape.keeps_teams]
    seated = [player for team in fixed_teams(problem) for player in team]
    there = set.intersection(*(set(shape.players) for shape in rounds)) if rounds else set()
    assert len(seated) == len(set(seated))
    assert set(seated) <= there
    assert len(there) - len(seated) == len(there) % 2
