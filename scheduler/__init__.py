"""Plans a club evening: drill rounds and social doubles, with serving-order cards.

The names in `__all__` are for other programs and notebooks; each is described,
with an example, in `scheduler.public`. They load when first asked for, so that
quick commands stay quick.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__version__ = "0.1.0"

if TYPE_CHECKING:
    from scheduler.public import (
        BadInput,
        NoPlan,
        best_possible,
        check,
        count_meetings,
        court_time_picture,
        doubles_evening,
        event_from_players,
        explain,
        make_plan,
        meetings_frame,
        meetings_picture,
        read_event,
        read_plan,
        serving_order,
        set_length,
        tie_break_order,
        write_plan,
    )

__all__ = [
    "BadInput",
    "NoPlan",
    "best_possible",
    "check",
    "count_meetings",
    "court_time_picture",
    "doubles_evening",
    "event_from_players",
    "explain",
    "make_plan",
    "meetings_frame",
    "meetings_picture",
    "read_event",
    "read_plan",
    "serving_order",
    "set_length",
    "tie_break_order",
    "write_plan",
]


def __getattr__(name: str) -> object:
    """Return a public name, loading its home when it is first asked for (PEP 562)."""
    if name not in __all__:
        raise AttributeError(f"module 'scheduler' has no attribute '{name}'")
    from scheduler import public  # noqa: PLC0415  lazy by intent

    return getattr(public, name)


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
