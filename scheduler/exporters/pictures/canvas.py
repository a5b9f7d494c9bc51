"""What every picture is drawn on: empty axes, inks, and fonts for the letters of names."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from scheduler.domain.errors import BadInput
from scheduler.exporters.view import Person

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

INK = "#1c2733"
PAPER = "#ffffff"
STEPS = ("#ffffff", "#bcd9ea", "#5a9bc4", "#1f5a86", "#0c2f4d")
"""Never, once, twice, three times, more: darker each time, in grey print too."""
_LEFT_OVER = " \u200d\ufe0f"  # blanks, and joiners of signs that could not be drawn
_DOTS = 160  # per inch: sharp on A4
_FONTS = (
    "DejaVu Sans",
    "Noto Sans",
    "Noto Sans CJK JP",
    *(
        f"Noto Sans {script}"
        for script in (
            "Arabic", "Armenian", "Bengali", "Devanagari", "Ethiopic", "Georgian", "Gujarati",
            "Gurmukhi", "Hebrew", "Kannada", "Khmer", "Lao", "Malayalam", "Myanmar", "Sinhala",
            "Tamil", "Telugu", "Thai",
        )
    ),
    "Arial Unicode MS",
)  # fmt: skip
MISSING = (
    "pictures need matplotlib, which is not installed: "
    'install it with pip install "doubles-rota[pictures]"'
)


def blank_axes(width: float, height: float) -> Axes:
    """Return empty axes in a figure of so many inches, drawn without a window."""
    try:
        from matplotlib.figure import Figure  # noqa: PLC0415  an extra, and slow
    except ImportError:
        raise BadInput.one("", MISSING) from None
    figure = Figure(figsize=(max(width, 6.0), max(height, 3.0)), layout="constrained")
    figure.set_facecolor(PAPER)
    axes: Axes = figure.add_subplot()
    axes.tick_params(length=0, labelsize=8)
    for spine in axes.spines.values():
        spine.set_visible(False)
    return axes


def framed(axes: Axes, told: str) -> Figure:
    """Return the figure of finished axes, told what it shows, in fonts that have its letters."""
    from matplotlib.figure import Figure  # noqa: PLC0415

    figure = axes.figure
    assert isinstance(figure, Figure)
    axes.set_xlabel(covered(told), labelpad=8, fontsize=8)
    texts = [axes.title, axes.xaxis.label, *axes.get_xticklabels(), *axes.get_yticklabels()]
    for text in texts:
        text.set_fontfamily(list(_fonts()))
        text.set_parse_math(False)
    return figure


def png_of(figure: Figure, made_from: str) -> bytes:
    """Return a figure as a PNG file that says what it was made from; same figure, same bytes."""
    file = io.BytesIO()
    figure.savefig(
        file, format="png", dpi=_DOTS, metadata={"Software": None, "Description": made_from}
    )
    return file.getvalue()


@cache
def _fonts() -> tuple[str, ...]:
    """Return the fonts of this machine to take letters from, best first."""
    from matplotlib.font_manager import fontManager  # noqa: PLC0415

    installed = frozenset(fontManager.get_font_names())
    return tuple(font for font in _FONTS if font in installed)


@cache
def _letters() -> frozenset[int]:
    """Return the characters that one of the fonts has."""
    from matplotlib.font_manager import FontProperties, fontManager  # noqa: PLC0415
    from matplotlib.ft2font import FT2Font  # noqa: PLC0415

    files = (fontManager.findfont(FontProperties(family=font)) for font in _fonts())
    return frozenset(letter for file in files for letter in FT2Font(file).get_charmap())


def covered(text: str) -> str:
    """Return the text without characters that no font here can draw."""
    return "".join(c for c in text if ord(c) in _letters() or c == "\n").strip(_LEFT_OVER)


def drawable(people: Sequence[Person]) -> list[str]:
    """Return labels that can be drawn; who loses a letter is told by the key as well."""
    labels = []
    for person in people:
        known = covered(person.label)
        labels.append(person.label if known == person.label else f"{known} {person.key}".strip())
    return labels
