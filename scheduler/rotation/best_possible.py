"""What no plan of an event can beat, without making one."""

from __future__ import annotations

from scheduler.domain.event import Event
from scheduler.rotation.bounds import bounds_of
from scheduler.rotation.shapes import problem_of


def limits_of(event: Event) -> dict[str, float]:
    """Return the proven lower bound of every measure that does not hang on serving.

    Raises
    ------
    NoPlan
        If a drill round has people but no open court.
    """
    return {name: bound.value for name, bound in bounds_of(problem_of(event)).items()}
