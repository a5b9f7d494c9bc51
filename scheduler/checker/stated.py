"""Whether the figures a plan states about itself are the ones counted again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from scheduler.checker.words import number
from scheduler.domain.plan import Measure

_TOLERANCE = 1e-6
_ALWAYS_STATED = (
    "partner_repeats",
    "opponent_repeats",
    "meeting_repeats",
    "drill_repeats",
    "rest_unfairness",
    "back_to_back_rests",
    "level_gap_mean",
    "level_gap_max",
    "court_repeats",
    "station_repeats",
    "first_serve_unfairness",
    "wishes_missed",
)
_ALWAYS_BOUNDED = frozenset(
    {name for name in _ALWAYS_STATED if name.endswith("_repeats")}
    | {"rest_unfairness", "back_to_back_rests"}
)


def check_stated(stated: Mapping[str, Measure], counted: Mapping[str, float]) -> Iterator[str]:
    """Yield a sentence for every stated measure that is wrong, or claims too much.

    A plan that states nothing claims nothing; one that states anything must
    state every measure of the format. Measures unknown here are judged only
    by whether their value, bound and proof agree with each other.
    """
    if stated:
        for name in _ALWAYS_STATED:
            if name not in stated:
                yield f"The measure {name} is missing; counted again it is {number(counted[name])}"
    for name, measure in stated.items():
        yield from _value(name, measure, counted)
        yield from _bound(name, measure)


def _value(name: str, measure: Measure, counted: Mapping[str, float]) -> Iterator[str]:
    if name in counted and not abs(measure.value - counted[name]) <= _TOLERANCE:
        yield (
            f"The measure {name} is stated as {number(measure.value)}, "
            f"counted again it is {number(counted[name])}"
        )


def _bound(name: str, measure: Measure) -> Iterator[str]:
    value, bound = measure.value, measure.bound
    if bound is None:
        if name in _ALWAYS_BOUNDED:
            yield f"The measure {name} is stated without a bound"
        if measure.proven:
            yield f"The measure {name} is called proven without a bound"
        return
    if not bound <= value + _TOLERANCE:
        yield (
            f"The measure {name} has the bound {number(bound)}, "
            f"which its own value {number(value)} goes below"
        )
    if measure.proven and not abs(value - bound) <= _TOLERANCE:
        yield (
            f"The measure {name} is called proven, but its value {number(value)} "
            f"is not its bound {number(bound)}"
        )
