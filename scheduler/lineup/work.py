"""How much the solver may work on a season: counted, so that answers repeat."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Work:
    """The solver's seed and budgets.

    `fair` and `pairs` are deterministic time for fair appearances and for the
    pairs, in the solver's units, each about a second on one core.
    """

    seed: int = 1
    fair: float = 6.0
    pairs: float = 4.0


def work_for(effort: str, seed: int = 1) -> Work:
    """Return the budgets of ``quick``, ``normal`` or ``thorough``."""
    fair, pairs = {"quick": (3.0, 0.5), "normal": (6.0, 4.0), "thorough": (40.0, 40.0)}[effort]
    return Work(seed, fair, pairs)
