"""``rota plan --compare``: what variety costs in balance, and the other way round."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from scheduler.domain.event import Emphasis, Event
from scheduler.domain.plan import Plan
from scheduler.exporters.files import write_whole
from scheduler.exporters.meetings import count_meetings
from scheduler.workflow.plan import Report, make_plan

EXCHANGES = (8.0, 4.0, 2.0, 1.0, 0.5)
"""Rates compared, besides the event's own: levels of gap that one repeat is worth."""


@dataclass(frozen=True, slots=True)
class Row:
    """One point of the curve.

    `exchange` is None at the two ends; `most_times` is how often the two people
    oppose who do so most; gaps are in levels.
    """

    emphasis: Emphasis
    exchange: float | None
    is_default: bool
    opponent_repeats: int
    most_times: int
    level_gap_mean: float
    level_gap_max: float
    meeting_repeats: int
    partner_repeats: int

    @property
    def label(self) -> str:
        """The row's name, as it would be given on the command line."""
        if self.exchange is None:
            return str(self.emphasis)
        return f"{self.emphasis}, exchange {self.exchange:g}"


@dataclass(frozen=True, slots=True)
class Curve:
    """The rows from most variety to most balance, and a sentence for each step between them."""

    rows: tuple[Row, ...]
    steps: tuple[str, ...]
    opponent_bound: float
    gap_bound: float


def compare(
    event: Event, *, seed: int = 1, effort: str = "quick", report: Report | None = None
) -> Curve:
    """Plan the event at several rates of exchange, and return those worth choosing from.

    Every plan found may stand for every rate: each row takes the one that is
    best at its own rate. So no row is beaten by another in both repeats and
    gaps; rates that lead to the same figures share a row.

    Raises
    ------
    NoPlan
        If the musts cannot be kept.
    """
    asked = _asked(event)
    plans = [
        make_plan(
            replace(event, emphasis=emphasis, exchange=exchange or event.exchange),
            seed=seed,
            effort=effort,
            report=_part(report, number, len(asked)),
        ).plan
        for number, (emphasis, exchange) in enumerate(asked)
    ]
    least = min(_above(plan) for plan in plans)
    pool = [plan for plan in plans if _above(plan) == least]
    rows = [_row(event, emphasis, exchange, pool) for emphasis, exchange in asked]
    front = _distinct(rows)
    measures = plans[0].measures
    return Curve(
        rows=front,
        steps=tuple(_step(a, b) for a, b in pairwise(front)),
        opponent_bound=measures["opponent_repeats"].bound or 0,
        gap_bound=measures["level_gap_mean"].bound or 0,
    )


def write_picture(curve: Curve, title: str, path: Path) -> None:
    """Draw the curve into a PNG file.

    Raises
    ------
    BadInput
        If matplotlib is not installed.
    OSError
        If the file cannot be written.
    """
    from scheduler.exporters.pictures import Point, curve_png  # noqa: PLC0415  slow import

    points = [
        Point(row.label, row.opponent_repeats, row.level_gap_mean, row.is_default)
        for row in curve.rows
    ]
    write_whole(path, curve_png(title, points, curve.opponent_bound, curve.gap_bound))


def _asked(event: Event) -> list[tuple[Emphasis, float | None]]:
    rates = sorted({*EXCHANGES, event.exchange} - {0.0}, reverse=True)
    between = [(Emphasis.BLEND, rate) for rate in rates]
    return [(Emphasis.VARIETY, None), *between, (Emphasis.BALANCE, None)]


def _part(report: Report | None, number: int, of: int) -> Report | None:
    if report is None:
        return None
    return lambda share, doing: report((number + share) / of, doing)


def _value(plan: Plan, name: str) -> float:
    return plan.measures[name].value


def _above(plan: Plan) -> tuple[float, ...]:
    """Return what comes before repeats and gaps, which no rate may sell."""
    return tuple(_value(plan, name) for name in ("partner_repeats", "wishes_missed"))


def _row(event: Event, emphasis: Emphasis, exchange: float | None, pool: list[Plan]) -> Row:
    best = min(pool, key=_taste(emphasis, exchange))
    chosen = event.emphasis is emphasis and exchange in {None, event.exchange}
    return Row(
        emphasis=emphasis,
        exchange=exchange,
        is_default=chosen,
        opponent_repeats=int(_value(best, "opponent_repeats")),
        most_times=max(count_meetings(best).opponents.values(), default=0),
        level_gap_mean=_value(best, "level_gap_mean"),
        level_gap_max=_value(best, "level_gap_max"),
        meeting_repeats=int(_value(best, "meeting_repeats")),
        partner_repeats=int(_value(best, "partner_repeats")),
    )


def _taste(emphasis: Emphasis, exchange: float | None) -> Callable[[Plan], tuple[float, ...]]:
    """Return what a rate makes least; what is left equal is settled by both figures."""

    def figures(plan: Plan) -> tuple[float, float]:
        matches = sum(len(planned.matches) for planned in plan.rounds)
        return _value(plan, "opponent_repeats"), _value(plan, "level_gap_mean") * matches

    def taste(plan: Plan) -> tuple[float, ...]:
        repeats, gaps = figures(plan)
        if exchange is not None:
            return (round(exchange * repeats + gaps, 6), repeats)
        return (repeats, gaps) if emphasis is Emphasis.VARIETY else (gaps, repeats)

    return taste


def _distinct(rows: list[Row]) -> tuple[Row, ...]:
    """Keep one row for rows of the same figures, the default's where it is among them."""
    kept: list[Row] = []
    for row in rows:
        same = bool(kept) and _figures(kept[-1]) == _figures(row)
        if not same:
            kept.append(row)
        elif row.is_default:
            kept[-1] = row
    return tuple(kept)


def _figures(row: Row) -> tuple[float, float]:
    return (row.opponent_repeats, row.level_gap_mean)


def _step(here: Row, there: Row) -> str:
    more = there.opponent_repeats - here.opponent_repeats
    repeats = "1 more opponent repeat" if more == 1 else f"{more} more opponent repeats"
    brings = "brings" if more == 1 else "bring"
    widest = f"and the widest from {here.level_gap_max:g} to {there.level_gap_max:g}"
    if here.level_gap_max == there.level_gap_max:
        widest = f"and leave{'s' * (more == 1)} the widest at {here.level_gap_max:g}"
    return (
        f"From {here.label} to {there.label}: {repeats} {brings} the mean gap "
        f"from {here.level_gap_mean:.2f} to {there.level_gap_mean:.2f} levels {widest}."
    )
