"""Drills where people go on to other stations: how few pairs can share a group again."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
from drawn_events import events, plain_event
from driven_plans import driven
from every_seating import every_plan
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from made_plans import plan_of

from scheduler.checker import recount
from scheduler.domain.event import Court, Event, Kind, Station, Strength
from scheduler.public import read_event
from scheduler.rotation.bounds import bounds_of, drills_beside_stations
from scheduler.rotation.construct import random_solution
from scheduler.rotation.engine import measures_of, solve
from scheduler.rotation.search import keeps_musts
from scheduler.rotation.shapes import problem_of

SAMPLE = Path(__file__).parents[3] / "sample_data" / "club_evening.xlsx"


def drills(people: int, courts: int, rounds: int, stations: int, size: int = 4) -> Event:
    """Return an evening of drills with stations on the first courts."""
    event = plain_event(people, courts, 0, *(Kind.DRILL,) * rounds)
    return replace(
        event,
        rounds=tuple(replace(asked, group_size=size) for asked in event.rounds),
        stations=tuple(Station(court.name, "Lobs") for court in event.courts[:stations]),
    )


def late_court(event: Event) -> Event:
    """Return the event with its last court open from the second round on."""
    *courts, last = event.courts
    return replace(event, courts=(*courts, Court(last.name, event.rounds[1].start)))


TINY = {
    "two stations, two rounds": (drills(6, 2, 2, stations=2), {0, 2, 4, 6}),
    "two stations, three rounds": (drills(4, 2, 3, stations=2, size=2), {4, 6, 8, 12}),
    "three stations, two rounds": (drills(6, 3, 2, stations=3, size=2), {0, 2, 3, 4, 6}),
    "one station of two courts": (drills(6, 2, 2, stations=1), {1, 2}),
    "three stations for two groups": (drills(4, 3, 2, stations=3, size=2), {1, 2, 4}),
    "a station that opens late": (late_court(drills(6, 3, 2, stations=3, size=2)), {0, 2, 4}),
    "one group": (drills(5, 2, 2, stations=2), {0, 5}),
    "no stations": (drills(6, 2, 2, stations=0), {0}),
}
"""Evenings with the numbers of returns at which the bound is the very minimum."""


@pytest.mark.parametrize(("event", "exact"), TINY.values(), ids=TINY)
def test_least_repeats_for_every_number_of_returns(event: Event, exact: set[int]) -> None:
    """All plans tried: whatever the returns, none repeats less, often some repeats as little."""
    best: dict[int, float] = {}
    for plan in every_plan(event, most=10_000) or ():
        counted = recount(plan, event)
        returns = round(counted["station_repeats"])
        best[returns] = min(best.get(returns, 99), counted["drill_repeats"])
    bounds = {returns: drills_beside_stations(problem_of(event), returns) for returns in best}
    assert all(bounds[returns] <= best[returns] for returns in best)
    assert {returns for returns in best if bounds[returns] == best[returns]} == exact


@settings(max_examples=40, deadline=None)
@given(
    events(
        people=(4, 20),
        kinds=(Kind.DRILL, Kind.DRILL, Kind.DRILL, Kind.DOUBLES),
        most_wishes=2,
        strengths=(Strength.MUST,),
    ),
    st.sampled_from([0, 300, 1000, 3000]),
    st.integers(0, 99),
)
def test_no_plan_repeats_less_beside_its_returns(event: Event, price: int, seed: int) -> None:
    """Plans made for few repeats, at several prices of a return, stay at or above the bound."""
    problem = problem_of(event)
    assume(any(shape.is_drill and shape.players for shape in problem.shapes))
    start = random_solution(problem, random.Random(seed))
    solution = driven(problem, start, drill=1000, station=price)
    assume(keeps_musts(problem, solution))
    counted = recount(plan_of(problem, solution), event)
    least = drills_beside_stations(problem, round(counted["station_repeats"]))
    assert least <= counted["drill_repeats"]
    assert bounds_of(problem)["drill_repeats"].value <= counted["drill_repeats"]


def test_the_sample_evening_has_the_fewest_its_stations_leave() -> None:
    """Three drills of about 21 people: rounds 1 and 2 force 7 pairs, 1 and 3 three, 2 and 3 four.

    By hand: whoever is not tied to a court goes on, 19 of 20 people into
    4 x 4 - 4 = 12 cells, then 19 of 20 into 4 x 5 - 4 = 16 and 20 of 21 into
    16. The one tied to a court returns three times.
    """
    event = read_event(SAMPLE)
    result = solve(event, effort="quick")
    drills, stations = result.measures["drill_repeats"], result.measures["station_repeats"]
    assert (stations.value, stations.proven) == (3, True)
    assert drills.value == drills_beside_stations(problem_of(event), 3) == 7 + 3 + 4
    assert drills.best_given_above
    assert not drills.proven


def test_without_stations_nothing_is_claimed() -> None:
    """Where there are no stations, the mark rests on the plain bound alone."""
    event = drills(12, 3, 3, stations=0)
    problem = problem_of(event)
    solution = random_solution(problem, random.Random(1))
    assert not measures_of(problem, solution)["drill_repeats"].best_given_above
