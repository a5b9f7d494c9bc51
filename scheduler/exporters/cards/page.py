"""Cards as one printable page: four A6 or two A5 to a sheet, with lines to cut along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template

from scheduler.domain.plan import Plan
from scheduler.exporters.cards.content import Card, cards_of
from scheduler.exporters.text import width

_TEMPLATES = Path(__file__).parent / "templates"
# Widths in columns up to which each size of type keeps a name on one line.
_STEPS = ((15, "short"), (19, "middle"), (23, "long"), (26, "longer"))


@dataclass(frozen=True, slots=True)
class Layout:
    """How cards lie on a sheet: its size, each card's in millimetres, the type's scale.

    `small` is the type of the texts, in points before scaling.
    """

    page: str
    across: int
    down: int
    width: float
    height: float
    scale: float
    small: float


LAYOUTS = {
    ("a4", "a6"): Layout("A4 portrait", 2, 2, 105.0, 148.5, 1.0, 7.1),
    ("letter", "a6"): Layout("letter portrait", 2, 2, 107.95, 139.7, 1.0, 6.6),
    ("a4", "a5"): Layout("A4 landscape", 2, 1, 148.5, 210.0, 1.36, 7.8),
    ("letter", "a5"): Layout("letter landscape", 2, 1, 139.7, 215.9, 1.32, 8.0),
}


def cards_page(plan: Plan, paper: str = "a4", size: str = "a6") -> bytes:
    """Return the cards of a plan as one HTML file that needs nothing else.

    Parameters
    ----------
    plan
        The plan.
    paper
        ``"a4"`` or ``"letter"``.
    size
        ``"a6"`` for four cards a sheet, ``"a5"`` for two.

    Raises
    ------
    KeyError
        If paper or size is neither of the two.
    """
    layout = LAYOUTS[paper, size]
    cards = cards_of(plan)
    text = _template().render(
        title=f"Cards: {cards[0].event}" if cards else "Cards",
        layout=layout,
        sheets=_sheets(cards, layout.across * layout.down),
    )
    return text.encode("utf-8", "replace")


def _template() -> Template:
    environment = Environment(
        loader=FileSystemLoader(_TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["fit"] = fit_of
    return environment.get_template("cards.html.jinja")


def _sheets(cards: Sequence[Card], each: int) -> list[Sequence[Card]]:
    return [cards[first : first + each] for first in range(0, len(cards), each)]


def fit_of(name: str) -> str:
    """Return the size of type in which a name stays on its line or two."""
    return next((step for most, step in _STEPS if width(name) <= most), "longest")
