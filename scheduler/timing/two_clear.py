"""Play on until one side is two ahead, in closed form.

Deuce in a tie-break and five games all in an advantage set are the same
walk: rounds of two trials, one on each side's serve, end it when one side
takes both. The serving order makes the rounds repeat in a short cycle, so the
chances of going on form a geometric series over whole cycles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.domain.errors import BadInput


@dataclass(frozen=True, slots=True)
class PairOfTrials:
    """Chances that the first and the second team take both trials of a round."""

    first_both: float
    second_both: float

    @property
    def over(self) -> float:
        """The chance that this round ends it."""
        return self.first_both + self.second_both

    @classmethod
    def of(cls, one: tuple[float, float], other: tuple[float, float]) -> PairOfTrials:
        """Return the round of two trials, each given as (first wins, second wins)."""
        return cls(one[0] * other[0], one[1] * other[1])


def two_clear(cycle: Sequence[PairOfTrials]) -> tuple[float, tuple[float, ...]]:
    """Return the first team's chance and how often each round of the cycle is played.

    Parameters
    ----------
    cycle
        The rounds in playing order; after the last comes the first again.

    Returns
    -------
    chance, visits
        The chance that the first team gets two ahead, and for each round of
        the cycle the mean number of times it is played.

    Raises
    ------
    BadInput
        If no round can ever end it.

    Notes
    -----
    With r_j the chance to reach round j within the first cycle and s the
    chance to survive a whole cycle, visits to round j are r_j / (1 - s), as s
    is the ratio of a geometric series (O'Malley, "Probability Formulas and
    Statistical Analysis in Tennis", JQAS 4, 2008, treats deuce so). The
    chance to leave is summed from positive terms, because 1 - s loses its
    digits when s is near 1.
    """
    reach: list[float] = []
    still: float = 1
    for pair in cycle:
        reach.append(still)
        still = still * (1 - pair.over)
    leave = sum(arrive * pair.over for arrive, pair in zip(reach, cycle, strict=True))
    if leave == 0:
        raise BadInput.one(
            "points won", "with these chances nobody ever gets two ahead, so play never ends"
        )
    chance = sum(arrive * pair.first_both for arrive, pair in zip(reach, cycle, strict=True))
    return chance / leave, tuple(arrive / leave for arrive in reach)
