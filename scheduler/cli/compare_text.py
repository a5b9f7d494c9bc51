"""The curve between variety and balance, as a table and sentences."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from scheduler.cli.columns import columns
from scheduler.workflow.compare import Curve, Row

_HEADS = ("", "", "opponent repeats", "most times", "mean gap", "widest gap", "meetings again")


def curve_text(curve: Curve) -> str:
    """Return the curve for reading on a terminal; the default row is marked with a ``>``."""
    table = columns([_HEADS, *(_cells(row) for row in curve.rows)])
    bounds = (
        f"No plan has fewer than {curve.opponent_bound:g} opponent repeats, "
        f"nor a mean gap below {curve.gap_bound:.2f} levels. "
        "Each row was searched less than a plan is; a plan may do better."
    )
    return "\n".join([table, "", *curve.steps, bounds])


def _cells(row: Row) -> tuple[str, ...]:
    return (
        ">" if row.is_default else "",
        row.label,
        str(row.opponent_repeats),
        str(row.most_times),
        f"{row.level_gap_mean:.2f}",
        f"{row.level_gap_max:g}",
        str(row.meeting_repeats),
    )


def curve_document(curve: Curve) -> dict[str, Any]:
    """Return the curve as a JSON document."""
    return {
        "rows": [{"label": row.label, **asdict(row)} for row in curve.rows],
        "steps": list(curve.steps),
        "bounds": {
            "opponent_repeats": curve.opponent_bound,
            "level_gap_mean": curve.gap_bound,
        },
    }
