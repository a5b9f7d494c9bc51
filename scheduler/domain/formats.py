"""Formats of a set and of a game, with the numbers that define them.

Sources: ITF Rules of Tennis, Rule 5 (game and tie-break), Rule 6 (set), and
the appendix "Alternative Procedures and Scoring Methods" (no-ad, short sets,
match tie-breaks, end changes). The pro set is a federation's regulation, and
the timed round is common practice, no source.
"""

from __future__ import annotations

from enum import StrEnum


class GameFormat(StrEnum):
    """How a standard game ends: by two clear points, or by one deciding point."""

    AD = "ad"
    NO_AD = "no-ad"


class EndChanges(StrEnum):
    """When ends change inside a tie-break: every six points, or after one and then every four."""

    SIX = "six"
    FIRST_THEN_FOUR = "first then four"


class SetFormat(StrEnum):
    """What is played on a court in one match round."""

    TIE_BREAK = "tie-break set"
    ADVANTAGE = "advantage set"
    SHORT = "short set"
    SHORT_3_3 = "short set 3-3"
    MATCH_TIE_BREAK_10 = "match tie-break 10"
    MATCH_TIE_BREAK_7 = "match tie-break 7"
    PRO = "pro set"
    TIMED = "timed"

    @property
    def words(self) -> str:
        """What it is called in a sentence, after "a finished"."""
        return "timed round" if self is SetFormat.TIMED else str(self)

    @property
    def games_to_win(self) -> int | None:
        """Games that win the set with a lead of two; None where there is no such goal."""
        return _GAMES_TO_WIN.get(self)

    @property
    def tie_break_at(self) -> int | None:
        """Games each at which a tie-break is played; None where there is none."""
        return _TIE_BREAK_AT.get(self)

    @property
    def only_tie_break_to(self) -> int | None:
        """Points that win, where the whole match is one tie-break; else None."""
        return _ONLY_TIE_BREAK_TO.get(self)


_GAMES_TO_WIN = {
    SetFormat.TIE_BREAK: 6,
    SetFormat.ADVANTAGE: 6,
    SetFormat.SHORT: 4,
    SetFormat.SHORT_3_3: 4,
    SetFormat.PRO: 8,
}
_TIE_BREAK_AT = {
    SetFormat.TIE_BREAK: 6,
    SetFormat.SHORT: 4,
    SetFormat.SHORT_3_3: 3,
    SetFormat.PRO: 8,
}
_ONLY_TIE_BREAK_TO = {
    SetFormat.MATCH_TIE_BREAK_10: 10,
    SetFormat.MATCH_TIE_BREAK_7: 7,
}
