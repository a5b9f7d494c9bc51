"""The engine as the command line calls it."""

from __future__ import annotations

from scheduler.domain.event import Event
from scheduler.domain.plan import PlannedRound
from scheduler.rotation import solve


def plan(event: Event, seed: int, effort: str) -> tuple[PlannedRound, ...]:
    """Return the rounds `scheduler.rotation.solve` finds with an effort."""
    return solve(event, seed=seed, effort=effort).rounds
