"""What counts as fair once rounds were played, against every way to rest in the rounds ahead."""

from __future__ import annotations

from itertools import combinations, product
from math import ceil, floor

from drawn_events import minute, plain_event
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from scheduler.checker import check
from scheduler.checker.evening import Evening
from scheduler.checker.forced_rests import could_be_fairer
from scheduler.checker.shares import rest_balance
from scheduler.domain.event import Event, Player
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.rotation.shapes import problem_of


def excess(rests: int, share) -> int:
    """Return the square of how far rests are from the whole numbers beside a share."""
    return max(0, floor(share) - rests, rests - ceil(share)) ** 2


def seated(event: Event, number: int, playing: tuple[str, ...]) -> PlannedRound:
    """Return a round of one court on which four given people play, in lawful order."""
    asked = event.rounds[number - 1]
    here = [p.name for p in event.players if p.is_present(asked.start, asked.end)]
    a, b, c, d = playing
    return PlannedRound(
        number=number,
        kind=asked.kind,
        start=asked.start,
        minutes=asked.minutes,
        courts=(Match("C0", (a, b), (c, d), (a, c, b, d), (a, c)),),
        resting=tuple(name for name in here if name not in playing),
        absent=tuple(p.name for p in event.players if p.name not in here),
    )


@st.composite
def nights(draw: st.DrawFn) -> tuple[Event, tuple[PlannedRound, ...]]:
    """Draw an evening on one court of which some rounds were played; then people leave or come."""
    people, rounds = draw(st.integers(5, 7)), draw(st.integers(2, 4))
    played = draw(st.integers(1, rounds - 1))
    event = plain_event(people, 1, rounds)
    players = [
        Player(f"P{i}", 5.0, leaves=draw(st.sampled_from([None, None, minute(played)])))
        for i in range(people)
    ]
    players += [
        Player(f"N{i}", 5.0, arrives=minute(played)) for i in range(draw(st.integers(0, 2)))
    ]
    event = Event("night", event.start, tuple(players), event.courts, event.rounds)
    names = [f"P{i}" for i in range(people)]
    fours = [tuple(draw(st.permutations(names))[:4]) for _ in range(played)]
    return event, tuple(seated(event, n, four) for n, four in enumerate(fours, 1))


def all_rests_ahead(event: Event, played: int) -> list[list[tuple[str, ...]]]:
    """Return for each round ahead every choice of four who play, empty with fewer people."""
    ways = []
    for asked in event.rounds[played:]:
        here = [p.name for p in event.players if p.is_present(asked.start, asked.end)]
        ways.append(list(combinations(here, 4)) if len(here) >= 4 else [()])
    return ways


@settings(max_examples=60, deadline=None)
@given(nights())
def test_ranges_are_widened_as_little_as_possible(night) -> None:
    """The ranges allow as much unfairness as the best of all ways to rest has, squared, no more."""
    event, played = night
    problem = problem_of(event, played)
    names = [player.name for player in event.players]
    had = {name: sum(name in planned.resting for planned in played) for name in names}
    best = None
    for fours in product(*all_rests_ahead(event, len(played))):
        total = 0
        for index, name in enumerate(names):
            rests = had[name]
            for asked, four in zip(event.rounds[len(played) :], fours, strict=True):
                here = event.players[index].is_present(asked.start, asked.end)
                rests += here and name not in four
            total += excess(rests, problem.shares[index])
        best = total if best is None else min(best, total)
    allowed = sum(
        max(excess(low, share), excess(high, share))
        for (low, high), share in zip(problem.rest_ranges, problem.shares, strict=True)
    )
    assert allowed == best


@settings(max_examples=60, deadline=None)
@given(nights(), st.randoms(use_true_random=False))
def test_the_checker_excuses_exactly_what_no_other_rests_could_mend(night, rng) -> None:
    """Somebody's unfair rests are a fault if and only if some choice of rests ahead has less."""
    event, played = night
    ways = all_rests_ahead(event, len(played))
    assume(all(way != [()] for way in ways))
    chosen = [rng.choice(way) for way in ways]
    rounds = (*played, *(seated(event, len(played) + n, f) for n, f in enumerate(chosen, 1)))
    plan = Plan(event, rounds, settled=len(played))
    balance = rest_balance(Evening(plan, event))
    mine = sum(excess(*both) for both in balance.values())
    least = min(
        sum(
            excess(n, share)
            for n, share in (
                (
                    sum(name in r.resting for r in played)
                    + sum(
                        name not in four and event.player_by_name[name].is_present(r.start, r.end)
                        for r, four in zip(event.rounds[len(played) :], fours, strict=True)
                    ),
                    balance[name][1],
                )
                for name in balance
            )
        )
        for fours in product(*ways)
    )
    blamed = [
        name
        for name, both in balance.items()
        if excess(*both) and could_be_fairer(Evening(plan, event), balance, name)
    ]
    assert bool(blamed) is (mine > least)
    said = [fault for fault in check(plan).faults if "fair share" in fault]
    assert len(said) == len(blamed)
