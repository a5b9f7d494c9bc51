"""How much fits on a page, so that no sheet ends in a page with one lonely line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MARGINS = {"left": 0.4, "right": 0.4, "top": 0.65, "bottom": 0.6}  # inches
_INCH = 72.0
LONELY = 0.3
_SQUEEZE = 0.1  # of a page: what every other page can take on without harm to the eye
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
        A last page filled less than this, or less than the others can easily
        share among them, is squeezed onto the ones before.
    """
    across, down = room
    scale = min(1.0, across / sum(one * _DIGIT + _EDGES for one in widths))
    pages = _packed(heights, down / scale, repeated)
    others = len(pages) - 1
    squeezable = max(lonely, min(_SQUEEZE * others, 0.8))
    is_lonely = others > 0 and pages[-1] - repeated < squeezable * down / scale
    return others if is_lonely else len(pages)


def _packed(heights: Sequence[float], room: float, repeated: float) -> list[float]:
    """Return how high each page is filled when rows are put on pages one after another."""
    pages = [0.0]
    for height in heights:
        if pages[-1] + height > room and pages[-1] > repeated:
            pages.append(repeated)
        pages[-1] += height
    return pages
