"""How much fits on a page, so that no sheet ends in a page with one lonely line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MARGINS = {"left": 0.4, "right": 0.4, "top": 0.65, "bottom": 0.6}  # inches
_INCH = 72.0
LONELY = 0.3
_DIGIT, _EDGES = 6.0, 3.75  # points: a digit of 11 point Arial is 8 pixels, edges are 5


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size: its code in spreadsheet files, and its short and long edge in points."""

    code: int
    short: float
    long: float

    def room(self, *, landscape: bool) -> tuple[float, float]:
        """Return the width and height inside the margins, in points."""
        width, height = (self.long, self.short) if landscape else (self.short, self.long)
        across = (MARGINS["left"] + MARGINS["right"]) * _INCH
        down = (MARGINS["top"] + MARGINS["bottom"]) * _INCH
        return width - across, height - down


PAPERS = {"a4": Paper(9, 595.3, 841.9), "letter": Paper(1, 612.0, 792.0)}


def pages_high(
    room: tuple[float, float],
    *,
    widths: Sequence[float],
    heights: Sequence[float],
    repeated: float,
    lonely: float = LONELY,
) -> int:
    """Return how many pages a sheet should take once its width fits on one.

    Parameters
    ----------
    room
        Width and height inside the margins, in points.
    widths
        Column widths in digits of the workbook's standard letter.
    heights
        Row heights in points; rows are never split.
    repeated
        Height of the rows repeated on every page, in points.
    lonely
        A last page filled less than this is squeezed onto the ones before.
    """
    across, down = room
    scale = min(1.0, across / sum(one * _DIGIT + _EDGES for one in widths))
    pages = _packed(heights, down / scale, repeated)
    is_lonely = len(pages) > 1 and pages[-1] - repeated < lonely * down / scale
    return len(pages) - is_lonely


def _packed(heights: Sequence[float], room: float, repeated: float) -> list[float]:
    """Return how high each page is filled when rows are put on pages one after another."""
    pages = [0.0]
    for height in heights:
        if pages[-1] + height > room and pages[-1] > repeated:
            pages.append(repeated)
        pages[-1] += height
    return pages
