"""Time on court: everybody's evening against the clock."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from scheduler.domain.clock import format_time
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.exporters.pictures.canvas import INK, STEPS, blank_axes, drawable, framed, png_of
from scheduler.exporters.view import Doing, Evening, Use, View, make_view

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_FILLS = {"match": STEPS[2], "drill": STEPS[1], "spare": STEPS[1], "rest": "#f4e8c9"}
_HATCHES = {"drill": "///", "spare": "...", "rest": ""}


def court_time_figure(plan: Plan) -> Figure:
    """Return a row for every person against the clock: on which court, resting, or not there.

    Raises
    ------
    BadInput
        If matplotlib is not installed.
    """
    view = make_view(plan)
    axes = blank_axes(3.4 + 0.045 * _length(plan.rounds), 1.9 + 0.26 * len(view.evenings))
    short = _court_numbers(view)
    for row, evening in enumerate(view.evenings):
        for planned, stop in zip(plan.rounds, evening.stops, strict=True):
            if stop.doing is Doing.RESTING:
                _bar(axes, row, planned, "rest", "rest")
            if stop.place is not None:
                _bar(axes, row, planned, _what(stop.place.use), short[stop.place.court])
    _clock(axes, plan.rounds)
    people = [evening.person for evening in view.evenings]
    axes.set_yticks(range(len(people)), drawable(people))
    axes.set_ylim(len(people) - 0.4, -0.6)
    _at_the_right(axes, [_hours(_on_court(evening)) for evening in view.evenings])
    axes.set_title("Time on court", pad=10, fontsize=13, fontweight="bold")
    told = (
        "Numbers are courts, in the order of the list. Striped: a drill. Plain: a match.\n"
        "Dotted: a spare court. Blank: not there. At the right: hours and minutes on court."
    )
    return framed(axes, f"{told}\n{view.name}, {view.identity}")


def court_time_png(plan: Plan) -> bytes:
    """Return the picture of time on court as a PNG file; raises as `court_time_figure` does."""
    return png_of(court_time_figure(plan), make_view(plan).identity)


def _bar(axes: Axes, row: int, planned: PlannedRound, what: str, text: str) -> None:
    axes.barh(
        row,
        planned.minutes,
        left=planned.start,
        height=0.82,
        color=_FILLS[what],
        edgecolor=INK,
        linewidth=0.5,
        hatch=_HATCHES.get(what),
    )
    middle = planned.start + planned.minutes / 2
    axes.text(
        middle, row, text, ha="center", va="center", fontsize=7, color=INK,
        bbox={"facecolor": _FILLS[what], "edgecolor": "none", "pad": 0.8},
    )  # fmt: skip


def _at_the_right(axes: Axes, labels: Sequence[str]) -> None:
    right = axes.secondary_yaxis("right")
    right.set_yticks(range(len(labels)), labels)
    right.tick_params(length=0, labelsize=8)
    right.spines["right"].set_visible(False)


def _clock(axes: Axes, rounds: Sequence[PlannedRound]) -> None:
    if not rounds:
        return
    marks = sorted({planned.start for planned in rounds} | {rounds[-1].end})
    axes.set_xticks(marks, [format_time(mark) for mark in marks], rotation=90)
    axes.xaxis.tick_top()
    axes.set_xlim(marks[0] - 1, marks[-1] + 1)


def _hours(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02d}"


def _length(rounds: Sequence[PlannedRound]) -> int:
    return rounds[-1].end - rounds[0].start if rounds else 0


def _court_numbers(view: View) -> dict[str, str]:
    return {label: str(number) for number, label in enumerate(view.courts, start=1)}


def _what(use: Use) -> str:
    return {Use.MATCH: "match", Use.DRILL: "drill"}.get(use, "spare")


def _on_court(evening: Evening) -> int:
    return sum(stop.head.minutes for stop in evening.stops if stop.place is not None)
