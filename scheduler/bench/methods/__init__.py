"""The methods that are compared, by the names the tables use."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from scheduler.bench.methods import (
    moving_circle,
    ours,
    plain_annealer,
    random_draws,
    textbook_model,
)
from scheduler.domain.event import Event
from scheduler.domain.plan import PlannedRound


@dataclass(frozen=True, slots=True)
class Work:
    """How much each method may do.

    Parameters
    ----------
    effort
        Ours: the effort of the command line.
    moves
        The plain annealer: exchanges tried.
    draws
        The lot: rounds drawn anew.
    units
        The textbook model: the solver's deterministic time, about seconds.
    """

    effort: str = "normal"
    moves: int = 20_000_000
    draws: int = 1_000
    units: float = 5.0


@dataclass(frozen=True, slots=True)
class Method:
    """One way to rounds; `run` returns None where it found nothing or gives up.

    `seeded` is False for a method without chance, which needs one run only.
    """

    what: str
    run: Callable[[Event, int, Work], tuple[PlannedRound, ...] | None]
    seeded: bool = True


METHODS: dict[str, Method] = {
    "ours": Method("this engine", lambda e, s, w: ours.plan(e, s, w.effort)),
    "annealer": Method("plain annealer", lambda e, s, w: plain_annealer.plan(e, s, w.moves)),
    "textbook": Method("textbook CP-SAT model", lambda e, s, w: textbook_model.plan(e, s, w.units)),
    "draws": Method("best of 1,000 draws", lambda e, s, w: random_draws.plan(e, s, w.draws)),
    "circle": Method("moving circle", lambda e, _s, _w: moving_circle.plan(e), seeded=False),
}
