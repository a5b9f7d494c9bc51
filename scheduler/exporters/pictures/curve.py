"""The curve between variety and balance, as ``rota plan --compare`` finds it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scheduler.exporters.pictures.canvas import INK, STEPS, blank_axes, framed, png_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_CHOSEN = "#c98a2b"


@dataclass(frozen=True, slots=True)
class Point:
    """One plan to choose from: its repeats and its mean gap in levels; `chosen` is the default."""

    label: str
    opponent_repeats: int
    level_gap_mean: float
    chosen: bool = False


def curve_figure(
    title: str, points: Sequence[Point], opponent_bound: float, gap_bound: float
) -> Figure:
    """Return the points from most variety to most balance, and the limits no plan goes below.

    Raises
    ------
    BadInput
        If matplotlib is not installed.
    """
    axes = blank_axes(7.5, 5.0)
    across = [point.opponent_repeats for point in points]
    up = [point.level_gap_mean for point in points]
    axes.plot(across, up, color=STEPS[3], linewidth=1)
    for point in points:
        ink, size = (_CHOSEN, 60) if point.chosen else (STEPS[3], 28)
        place = (point.opponent_repeats, point.level_gap_mean)
        axes.scatter(*place, s=size, color=ink, zorder=3)
        label = f"{point.label} (chosen)" if point.chosen else point.label
        axes.annotate(label, place, (7, 5), textcoords="offset points", fontsize=7, color=INK)
    axes.axvline(opponent_bound, color=STEPS[2], linestyle=":")
    axes.axhline(gap_bound, color=STEPS[2], linestyle=":")
    axes.margins(x=0.18, y=0.1)
    axes.spines[["left", "bottom"]].set_visible(True)
    axes.set_ylabel("mean gap between two teams, in levels", fontsize=8)
    axes.set_title("Variety against balance", pad=10, fontsize=13, fontweight="bold")
    told = "opponent repeats\nTo the left: more new opponents. Further down: more even matches."
    return framed(axes, f"{told}\nDotted: limits that no plan goes below. {title}")


def curve_png(
    title: str, points: Sequence[Point], opponent_bound: float, gap_bound: float
) -> bytes:
    """Return the curve as a PNG file; raises as `curve_figure` does."""
    return png_of(curve_figure(title, points, opponent_bound, gap_bound), title)
