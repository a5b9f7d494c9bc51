"""Rows as a table in Markdown: one line an instance and method, seeds together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from statistics import median

from scheduler.bench.methods import METHODS
from scheduler.bench.run import Row

LEADING_WORDS = {
    "opponent_repeats": "opponent repeats",
    "meeting_repeats": "meeting repeats",
    "blend_price": "blend price",
    "level_gap_mean": "mean level gap",
}
_HEAD = (
    "evening", "method", "seeds", "compared", "value", "bound", "gap",
    "partners", "opponents", "meetings", "mean gap", "worst gap", "rests", "seconds",
)  # fmt: skip
_MEASURES = (
    "partner_repeats",
    "opponent_repeats",
    "meeting_repeats",
    "level_gap_mean",
    "level_gap_max",
    "rest_unfairness",
)


def markdown(rows: Sequence[Row]) -> str:
    """Return the whole table, instances in the order they came, methods as listed."""
    lines = [_line(_HEAD), _line(["---"] * len(_HEAD))]
    lines += [_line(_cells(same)) for same in grouped(rows)]
    return "\n".join(lines) + "\n"


def grouped(rows: Sequence[Row]) -> Iterator[list[Row]]:
    """Yield the rows of each instance and method together, seeds in order."""
    at = {name: place for place, name in enumerate(dict.fromkeys(row.instance for row in rows))}
    order = list(METHODS)
    ordered = sorted(rows, key=lambda row: (at[row.instance], order.index(row.method), row.seed))
    for _, same in groupby(ordered, key=lambda row: row.key[:2]):
        yield list(same)


def summary(rows: Sequence[Row]) -> str:
    """Return how often each method stands at the bound, best and worst seed apart."""
    lines = [_line(["method", "evenings", "at the bound with the best seed", "with every seed"])]
    lines.append(_line(["---"] * 4))
    by_method: dict[str, list[list[Row]]] = {}
    for same in grouped(rows):
        by_method.setdefault(same[0].method, []).append(same)
    for method, groups in by_method.items():
        best = sum(any(_at_bound(row) for row in same) for same in groups)
        every = sum(all(_at_bound(row) for row in same) for same in groups)
        cells = [
            METHODS[method].what,
            str(len(groups)),
            _share(best, groups),
            _share(every, groups),
        ]
        lines.append(_line(cells))
    return "\n".join(lines) + "\n"


def _share(count: int, groups: Sequence[object]) -> str:
    return f"{count} ({100 * count / len(groups):.0f} %)"


def _at_bound(row: Row) -> bool:
    """Return whether a run reached the bound without a partner twice more than it must."""
    if row.value is None or row.faults:
        return False
    return row.value <= row.bound and row.measures["partner_repeats"] <= row.partner_bound


def _cells(same: Sequence[Row]) -> list[str]:
    first = same[0]
    found = [row for row in same if row.value is not None]
    values = [row.value for row in found if row.value is not None]
    told = [_spread([row.measures[name] for row in found]) for name in _MEASURES]
    return [
        first.instance,
        METHODS[first.method].what,
        str(len(same)),
        LEADING_WORDS[first.leading],
        _spread(values),
        f"{first.bound:.4g}",
        _spread([value - first.bound for value in values]),
        *told,
        f"{median(row.seconds for row in same):.2f}",
    ]


def _spread(values: Sequence[float]) -> str:
    """Return a figure, or the least and the most of several; a dash where nothing was found."""
    if not values:
        return "-"
    low, high = f"{min(values):.4g}", f"{max(values):.4g}"
    return low if low == high else f"{low} to {high}"


def _line(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"
