"""Formats, chances and courts in words."""

from __future__ import annotations

from scheduler.domain.formats import GameFormat, SetFormat


def described(set_format: SetFormat, game_format: GameFormat) -> str:
    """Return the words for a format, as in a sentence."""
    if set_format is SetFormat.TIMED:
        return f"a timed round with {game_format} games"
    if set_format.only_tie_break_to is not None:
        return f"a match tie-break to {set_format.only_tie_break_to}"
    article = "an" if str(set_format)[0] in "aeiou" else "a"
    return f"{article} {set_format} with {game_format} games"


def percent(chance: float) -> str:
    """Return a chance for reading, never rounded to a certainty it is not."""
    if 0 < chance < 0.01:
        return "under 1 %"
    if 0.99 < chance < 1 - 1e-9:
        return "over 99 %"
    return f"{round(chance * 100)} %"


def courts_words(count: int) -> str:
    """Return the words for so many courts that all have to finish."""
    return "one court" if count == 1 else f"all {count} courts"
