"""Who met whom: a square for every two people."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from scheduler.domain.plan import Plan
from scheduler.exporters.meetings import Pair
from scheduler.exporters.pictures.canvas import (
    INK,
    PAPER,
    STEPS,
    blank_axes,
    drawable,
    framed,
    png_of,
)
from scheduler.exporters.view import View, make_view

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_OWN = "#d9d9d9"  # the square of a person with themselves


def meetings_figure(plan: Plan) -> Figure:
    """Return a square for every two people: partners below the diagonal, opponents above.

    Raises
    ------
    BadInput
        If matplotlib is not installed.
    """
    view = make_view(plan)
    people = tuple(evening.person for evening in view.evenings)
    size = 2.4 + 0.26 * len(people)
    axes = blank_axes(size + 0.4, size + 0.5)
    counts = (_by_keys(view, view.meetings.partners), _by_keys(view, view.meetings.opponents))
    for row, person in enumerate(people):
        _square(axes, row, row, _OWN)
        for column, other in enumerate(people):
            if column != row:
                times = counts[column > row][person.key, other.key]
                _counted(axes, row, column, times)
    _name_both_sides(axes, drawable(people))
    axes.set_title("Who met whom", pad=12, fontsize=13, fontweight="bold")
    told = "Below the grey squares: times as partners. Above them: times as opponents."
    return framed(axes, f"{told}\n{view.name}, {view.identity}")


def meetings_png(plan: Plan) -> bytes:
    """Return the picture of who met whom as a PNG file; raises as `meetings_figure` does."""
    return png_of(meetings_figure(plan), make_view(plan).identity)


def _square(axes: Axes, row: int, column: int, colour: str) -> None:
    from matplotlib.patches import Rectangle  # noqa: PLC0415

    square = Rectangle(
        (column - 0.5, row - 0.5), 1, 1, facecolor=colour, edgecolor="#9aa4ad", linewidth=0.4
    )
    axes.add_patch(square)


def _counted(axes: Axes, row: int, column: int, times: int) -> None:
    step = min(times, len(STEPS) - 1)
    _square(axes, row, column, STEPS[step])
    if times:
        ink = INK if step < 3 else PAPER
        axes.text(column, row, str(times), ha="center", va="center", fontsize=7, color=ink)


def _name_both_sides(axes: Axes, labels: Sequence[str]) -> None:
    places = range(len(labels))
    axes.set_xticks(places, labels, rotation=90)
    axes.set_yticks(places, labels)
    axes.xaxis.tick_top()
    axes.set_xlim(-0.53, len(labels) - 0.47)
    axes.set_ylim(len(labels) - 0.47, -0.53)
    axes.set_aspect("equal")


def _by_keys(view: View, counts: Counter[Pair]) -> Counter[Pair]:
    """Return counts by the keys of two people, looked up either way round."""
    times: Counter[Pair] = Counter()
    for (one, other), count in counts.items():
        keys = view.person_of[one].key, view.person_of[other].key
        times[keys] += count
        times[keys[1], keys[0]] += count
    return times
