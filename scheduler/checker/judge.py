"""The verdict on a plan: every fault in words, and every measure counted again.

The checker knows the event and the plan, not how the plan was found: what a
round demands is worked out here from the format's own words.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from scheduler.checker.courts import check_court_names, check_drill, check_play, check_stations
from scheduler.checker.demands import demand
from scheduler.checker.evening import Evening, RoundView
from scheduler.checker.forced_rests import could_be_fairer
from scheduler.checker.matches import check_matches
from scheduler.checker.measures import recount
from scheduler.checker.people import check_missing, check_places, check_presence, expecting
from scheduler.checker.schedule import check_same_event, check_schedule
from scheduler.checker.serving import check_serving
from scheduler.checker.shares import rest_balance, unfairness
from scheduler.checker.stated import check_stated
from scheduler.checker.wishes import check_musts
from scheduler.checker.words import number, often
from scheduler.domain.event import Event, Kind, Round
from scheduler.domain.plan import Measure, Plan, PlannedRound


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the checker says of a plan.

    Parameters
    ----------
    accepted
        True when there is no fault.
    faults
        Sentences naming round, court and people, without full stops.
    measures
        Every measure of the plan by name, counted again.
    """

    accepted: bool
    faults: tuple[str, ...]
    measures: Mapping[str, float]


def check(
    plan: Plan, event: Event | None = None, stated: Mapping[str, Measure] | None = None
) -> Verdict:
    """Judge a plan.

    Parameters
    ----------
    plan
        The plan; it may be wrong in any way its types allow.
    event
        The event it has to serve; the plan's own where none is given. A given
        one must not differ from the plan's own in what was asked.
    stated
        The measures to compare with those counted again; the plan's own where
        none are given. An empty mapping states nothing.
    """
    judged_by = plan.event if event is None else event
    measures = recount(plan, judged_by)
    claims = plan.measures if stated is None else stated
    found = [*_faults(plan, judged_by), *check_stated(claims, measures)]
    faults = tuple(dict.fromkeys(found))
    return Verdict(not faults, faults, measures)


def _faults(plan: Plan, event: Event) -> Iterator[str]:
    if event is not plan.event:
        yield from check_same_event(plan.event, event)
    yield from check_schedule(plan, event)
    evening = Evening(plan, event)
    for planned, asked in zip(plan.rounds, event.rounds, strict=False):
        if planned.open:
            yield from _open_round(planned)
        else:
            yield from check_missing(planned, plan.settled)
            then = Evening(plan, expecting(event, planned)) if planned.missing else evening
            yield from _round(then, RoundView(planned), asked)
    yield from check_musts(evening)
    yield from _rests(evening)


def _round(evening: Evening, view: RoundView, asked: Round) -> Iterator[str]:
    wanted = demand(evening.event, asked)
    yield from check_places(evening, view)
    yield from check_presence(evening, view, asked, wanted)
    yield from check_court_names(evening, view, wanted)
    yield from check_play(view)
    if asked.kind is Kind.DRILL:
        yield from check_drill(view, asked, wanted)
        yield from check_stations(evening, view)
    else:
        yield from check_matches(evening, view, asked, wanted)
        yield from check_serving(view)


def _open_round(planned: PlannedRound) -> Iterator[str]:
    if planned.kind is not Kind.UP_AND_DOWN:
        yield f"Round {planned.number} is open, which only rounds of kind 'up and down' can be"
    if planned.courts:
        yield f"Round {planned.number} is open, but has people on courts"


def _rests(evening: Evening) -> Iterator[str]:
    """Yield a sentence for everybody whose rests are one or more away from the fair share.

    Where settled rounds leave no better choice, that is no fault of the plan.
    """
    balance = rest_balance(evening)
    for name in evening.group_of:
        rests, share = balance.get(name, (0, Fraction(0)))
        if unfairness((rests, share)) >= 1 and could_be_fairer(evening, balance, name):
            how_often = f"rests {often(rests)}" if rests else "never rests"
            yield (
                f"{name} {how_often} where the fair share is {number(float(share))}: "
                "the difference must be below 1"
            )
