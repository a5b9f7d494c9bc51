"""A match that was played, as standings and levels need it."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.formats import SetFormat
from scheduler.domain.score_text import Mark, SetScore
from scheduler.rules.match_score import Outcome, outcome


@dataclass(frozen=True, slots=True)
class PlayedMatch:
    """One match with a sound score.

    Parameters
    ----------
    evening
        Number of the evening in the season, from 1, in playing order.
    key
        The match within its evening, such as ``R4C2``.
    team_a, team_b
        The partners, by name.
    sets
        The sets, team A first.
    mark
        How the match was cut short; None when it was finished.
    set_format
        What was played.
    """

    evening: int
    key: str
    team_a: tuple[str, str]
    team_b: tuple[str, str]
    sets: tuple[SetScore, ...]
    mark: Mark | None = None
    set_format: SetFormat = SetFormat.TIE_BREAK

    @property
    def teams(self) -> tuple[tuple[str, str], tuple[str, str]]:
        """Both teams, A first."""
        return self.team_a, self.team_b

    @property
    def outcome(self) -> Outcome:
        """Who won what."""
        return outcome(self.sets, self.mark, self.set_format)
