"""How the sheets look: a handful of shared styles, made for grey print.

Black on white with pale greys only, so that a copier keeps everything; what
matters is told by words, weight and frames, never by colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Protection, Side

FONT = "Arial"
PALE = "EDEDED"
MIDDLE = "D0D0D0"
_INK = "000000"
_SOFT_INK = "404040"
_TIMES = '0;-0;"\u00b7"'  # a dot for never keeps the eye on the rest
_LINK_INK = "1F3FA0"


class Look(StrEnum):
    """The styles cells are given, by what they are for."""

    TITLE = "rota title"
    SUBTITLE = "rota subtitle"
    TEXT = "rota text"
    HEAD = "rota head"
    HEAD_LEFT = "rota head left"
    CELL = "rota cell"
    CELL_LARGE = "rota cell large"
    CELL_LEFT = "rota cell left"
    CELL_SMALL = "rota cell small"
    UNUSED = "rota unused"
    ROUND = "rota round"
    NAME = "rota name"
    BIG_NAME = "rota big name"
    BOX = "rota box"
    STRIP = "rota strip"
    STRIP_NAME = "rota strip name"
    LINK = "rota link"
    LINK_HEAD = "rota link head"
    NUMBER = "rota number"
    DIAGONAL = "rota diagonal"
    TIMES = "rota times"
    TIMES_OFTEN = "rota times often"
    PERCENT = "rota percent"
    ENTRY = "rota entry"
    ENTRY_TEXT = "rota entry text"
    WARNING = "rota warning"
    WORKING = "rota working"


@dataclass(frozen=True, slots=True)
class _Made:
    """What one style is made of, in the few words that differ between styles."""

    size: float = 10
    bold: bool = False
    italic: bool = False
    ink: str = _INK
    fill: str = ""
    frame: str = "thin"
    across: str = "center"
    down: str = "center"
    wrap: bool = True
    underline: bool = False
    locked: bool = True
    numbers: str = "General"


_PLAIN = _Made(frame="", across="left")
_CELL = _Made()
_HEAD = _Made(bold=True, fill=MIDDLE)

_MADE = {
    Look.TITLE: replace(_PLAIN, size=16, bold=True),
    Look.SUBTITLE: replace(_PLAIN, ink=_SOFT_INK),
    Look.TEXT: replace(_PLAIN, size=11, down="top"),
    Look.HEAD: _HEAD,
    Look.HEAD_LEFT: replace(_HEAD, across="left"),
    Look.CELL: _CELL,
    Look.CELL_LARGE: replace(_CELL, size=12),
    Look.CELL_LEFT: replace(_CELL, across="left"),
    Look.CELL_SMALL: replace(_CELL, size=9, across="left"),
    Look.UNUSED: replace(_CELL, ink=_SOFT_INK, italic=True, fill=PALE),
    Look.ROUND: replace(_CELL, bold=True, fill=PALE),
    Look.NAME: replace(_CELL, bold=True, across="left"),
    Look.BIG_NAME: replace(_CELL, size=12, bold=True, across="left"),
    Look.BOX: replace(_CELL, size=14, frame="medium"),
    Look.STRIP: replace(_CELL, size=9, frame="strip", down="top"),
    Look.STRIP_NAME: replace(_CELL, size=12, bold=True, frame="strip", across="left"),
    Look.LINK: replace(_PLAIN, size=9, ink=_LINK_INK, underline=True, wrap=False),
    Look.LINK_HEAD: replace(_HEAD, underline=True),
    Look.NUMBER: replace(_CELL, wrap=False),
    Look.DIAGONAL: replace(_CELL, fill=MIDDLE, wrap=False),
    Look.TIMES: replace(_CELL, size=11, wrap=False, numbers=_TIMES),
    Look.TIMES_OFTEN: replace(_CELL, size=11, wrap=False, numbers=_TIMES, bold=True, fill=PALE),
    Look.PERCENT: replace(_CELL, wrap=False, numbers="0%"),
    Look.ENTRY: replace(_CELL, size=12, bold=True, frame="medium", locked=False),
    Look.ENTRY_TEXT: replace(_CELL, locked=False, frame="medium"),
    Look.WARNING: replace(_CELL, bold=True, across="left"),
    Look.WORKING: replace(_PLAIN, size=8, ink="808080", wrap=False),
}


def named_styles() -> list[NamedStyle]:
    """Return every style, fresh, for one workbook."""
    return [_named(look, made) for look, made in _MADE.items()]


def _named(look: Look, made: _Made) -> NamedStyle:
    return NamedStyle(
        name=str(look),
        font=Font(
            name=FONT,
            size=made.size,
            bold=made.bold,
            italic=made.italic,
            color=made.ink,
            underline="single" if made.underline else None,
        ),
        fill=PatternFill("solid", fgColor=made.fill) if made.fill else PatternFill(),
        border=_frame(made.frame),
        alignment=Alignment(
            horizontal=made.across,
            vertical=made.down,
            wrap_text=made.wrap,
            indent=1 if made.frame and made.across == "left" else 0,
        ),
        protection=Protection(locked=made.locked),
        number_format=made.numbers,
    )


def _frame(kind: str) -> Border:
    thin, medium = Side("thin", color=_INK), Side("medium", color=_INK)
    cut, inner = Side("dashed", color=_INK), Side("hair", color=_INK)
    frames = {
        "": Border(),
        "thin": Border(left=thin, right=thin, top=thin, bottom=thin),
        "medium": Border(left=medium, right=medium, top=medium, bottom=medium),
        "strip": Border(left=inner, right=inner, top=cut, bottom=cut),
    }
    return frames[kind]


POINTS = {look: made.size for look, made in _MADE.items()}
BOLD = frozenset(look for look, made in _MADE.items() if made.bold)
