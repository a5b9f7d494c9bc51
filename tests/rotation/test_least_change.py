"""The fewest people moved, against every seating of two courts there is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, product

import pytest
from drawn_events import minute, plain_event
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.event import Event, Player
from scheduler.domain.plan import PlannedRound
from scheduler.rotation.effort import EFFORTS
from scheduler.rotation.engine import solve
from scheduler.rotation.shapes import problem_of

COURTS = 2
Places = dict[str, str]


@pytest.fixture(autouse=True, scope="module")
def little_effort() -> Iterator[None]:
    """Let every plan here take some milliseconds."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(EFFORTS, "quick", 150_000)
        yield


def places(planned: PlannedRound) -> Places:
    """Return where everybody taking part is."""
    found = {name: entry.court for entry in planned.courts for name in entry.players}
    return found | dict.fromkeys(planned.resting, "rest")


def moves(before: Places, now: Places) -> int:
    """Return how many of those in both rounds have another place."""
    return sum(before[name] != place for name, place in now.items() if name in before)


@st.composite
def nights(draw: st.DrawFn) -> tuple[Event, Event, int]:
    """Draw an evening on two courts, and what becomes of it: people leave or come, a court goes."""
    people, rounds = draw(st.integers(8, 10)), draw(st.integers(2, 3))
    played = draw(st.integers(1, rounds - 1))
    event = plain_event(people, COURTS, rounds)
    gone = draw(st.sets(st.integers(0, people - 1), max_size=2))
    players = [
        Player(f"P{i}", 5.0, leaves=minute(played) if i in gone else None) for i in range(people)
    ]
    players += [
        Player(f"N{i}", 5.0, arrives=minute(played)) for i in range(draw(st.integers(0, 1)))
    ]
    return event, Event("night", event.start, tuple(players), event.courts, event.rounds), played


def fewest(event: Event, printed: PlannedRound) -> dict[tuple[str, ...], int]:
    """Return for each choice of who rests the fewest moves that seat the others."""
    asked = event.rounds[printed.number - 1]
    here = [p.name for p in event.players if p.is_present(asked.start, asked.end)]
    courts = min(COURTS, len(here) // 4)
    before = places(printed)
    best: dict[tuple[str, ...], int] = {}
    for resting in combinations(here, len(here) - 4 * courts):
        playing = [name for name in here if name not in resting]
        options = [("C0", "C1")] if courts == COURTS else [("C0",), ("C1",)]
        for used in options:
            for four in combinations(playing, 4):
                now = {name: used[0] if name in four else used[-1] for name in playing}
                count = moves(before, now | dict.fromkeys(resting, "rest"))
                best[resting] = min(count, best.get(resting, count))
    return best


@settings(max_examples=25, deadline=None)
@given(nights(), st.integers(0, 9))
def test_no_seating_moves_fewer_people(night: tuple[Event, Event, int], seed: int) -> None:
    """Among all seatings with rests as fair as can be, none moves fewer people than the engine's.

    With one place a person and round, to change rounds is to change a place:
    counted are places, summed over the rounds to come.
    """
    event, now, played = night
    plan = solve(event, seed=seed, effort="quick").rounds
    newcomers = tuple(p.name for p in now.players if p.name not in event.player_by_name)
    done = tuple(
        replace(planned, absent=(*planned.absent, *newcomers)) for planned in plan[:played]
    )
    printed = {at: plan[at] for at in range(played, len(plan))}
    found = solve(now, played=done, printed=printed, least_change=True, seed=seed, effort="quick")
    made = sum(moves(places(plan[at]), places(found.rounds[at])) for at in printed)
    ranges = problem_of(now, done).rest_ranges
    names = [player.name for player in now.players]
    had = [sum(name in planned.resting for planned in done) for name in names]
    choices = [list(fewest(now, plan[at]).items()) for at in printed]
    best = min(
        sum(count for _, count in ways)
        for ways in product(*choices)
        if all(
            low <= n + sum(name in resting for resting, _ in ways) <= high
            for name, n, (low, high) in zip(names, had, ranges, strict=True)
        )
    )
    assert made == best
