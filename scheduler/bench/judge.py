"""How good a method's rounds are: counted by the checker, which knows no method."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.checker import check
from scheduler.domain.event import Event
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.workflow.dress import dress

SHOWN = (
    "rest_unfairness",
    "partner_repeats",
    "opponent_repeats",
    "meeting_repeats",
    "level_gap_mean",
    "level_gap_max",
    "blend_price",
)


@dataclass(frozen=True, slots=True)
class Judged:
    """The measures of rounds, and what the checker says against them."""

    measures: dict[str, float]
    faults: tuple[str, ...]


def judge(event: Event, rounds: tuple[PlannedRound, ...]) -> Judged:
    """Return what the checker says of the rounds of a method."""
    verdict = check(Plan(event, dress(event, rounds)), stated={})
    return Judged({name: verdict.measures[name] for name in SHOWN}, verdict.faults)
