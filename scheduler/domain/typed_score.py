"""A score as somebody typed it, with its place."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.score_text import Mark, SetScore


@dataclass(frozen=True, slots=True)
class TypedScore:
    """What stands beside one match; no sets where nothing was typed.

    Parameters
    ----------
    match
        The match's key, such as ``R4C2``.
    sets
        The sets, team A first.
    mark
        How the match was cut short; None when it was finished.
    where
        The cell or the line it stands in, for messages.
    """

    match: str
    sets: tuple[SetScore, ...]
    mark: Mark | None = None
    where: str = ""

    @property
    def text(self) -> str:
        """The score in words: ``"6-4"``, ``"7-6(5)"``, ``"4-2 unfinished"``."""
        return " ".join([*map(str, self.sets), *filter(None, [self.mark])])
