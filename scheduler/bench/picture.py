"""The benchmark as pictures: distance to the bound by method, and time by players."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from matplotlib.figure import Figure

from scheduler.bench.methods import METHODS
from scheduler.bench.run import Row
from scheduler.bench.table import LEADING_WORDS, grouped

_DOTS = 130
_INKS = {
    "ours": "#0c2f4d",
    "annealer": "#5a9bc4",
    "textbook": "#c98a2b",
    "draws": "#9aa4ad",
    "circle": "#d4d8dc",
}


def gap_picture(rows: Sequence[Row], path: Path) -> None:
    """Draw a small chart an instance: the worst seed of each method above the proven bound."""
    names = list(dict.fromkeys(row.instance for row in rows))
    figure = Figure(figsize=(9, 0.5 + 1.15 * len(names)), layout="constrained")
    for place, name in enumerate(names, start=1):
        axes = figure.add_subplot(len(names), 1, place)
        groups = [same for same in grouped(rows) if same[0].instance == name]
        gaps = [max((row.value or 0) - row.bound for row in same) for same in groups]
        most = max([*gaps, 1e-9])
        for at, (same, gap) in enumerate(zip(groups, gaps, strict=True)):
            nothing = all(row.value is None for row in same)
            axes.barh(at, 0 if nothing else gap, color=_INKS[same[0].method], height=0.8)
            told = (
                "found nothing"
                if nothing
                else "at the bound"
                if gap <= 0
                else f"+{round(gap)}"
                if gap >= 100
                else f"+{gap:.3g}"
            )
            axes.text(max(gap, 0) + most * 0.01, at, told, va="center", fontsize=7)
        axes.set_yticks(range(len(groups)), [METHODS[g[0].method].what for g in groups], fontsize=7)
        axes.invert_yaxis()
        axes.set_xlim(0, most * 1.18)
        axes.set_xticks([])
        title = f"{name}: {LEADING_WORDS[groups[0][0].leading]} above the bound"
        axes.set_title(f"{title} of {groups[0][0].bound:.4g}", fontsize=8, loc="left")
        axes.spines[["top", "right", "bottom"]].set_visible(False)
    figure.savefig(path, dpi=_DOTS, metadata={"Software": None})


def growth_picture(rows: Sequence[Row], path: Path) -> None:
    """Draw how time grows with players, a line a method, both scales logarithmic."""
    figure = Figure(figsize=(6, 4), layout="constrained")
    axes = figure.add_subplot()
    for method in METHODS:
        points = sorted(
            (int(row.instance.split("x")[0]), max(row.seconds, 0.01))
            for row in rows
            if row.method == method and row.value is not None
        )
        if points:
            players, seconds = zip(*points, strict=True)
            axes.loglog(players, seconds, "o-", color=_INKS[method], label=METHODS[method].what)
    axes.set_xlabel("players")
    axes.set_ylabel("seconds")
    axes.legend(frameon=False, fontsize=8)
    axes.grid(alpha=0.3)
    figure.savefig(path, dpi=_DOTS, metadata={"Software": None})
