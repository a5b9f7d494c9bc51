"""Each person's evening: one line a player to pin up, and strips to cut and hand out."""

from __future__ import annotations

from scheduler.exporters.text import isolated, join, width
from scheduler.exporters.view import Doing, Evening, RoundRow, Stop, Use, View
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

_NAME_WIDTH = 22.0
_ROOMY_ROUNDS = 6


def people_widths(view: View) -> list[float]:
    """Return the column widths of the players' sheet."""
    return [6, _NAME_WIDTH, *_round_widths(view)]


def _round_widths(view: View) -> list[float]:
    """Return the widths of the rounds' columns.

    Few rounds leave room for "with" and a name on one line; that makes lines
    fewer and rows lower, so that more people fit on a page.
    """
    rounds = len(view.rounds)
    if rounds > _ROOMY_ROUNDS:
        return [17.0 if rounds <= 8 else 14.5] * rounds
    longest = max((width(person.label) for person in view.people), default=0)
    return [min(max(longest + width("with ") + 1.5, 17.0), 21.0)] * rounds


def write_people(sheet: Sheet) -> None:
    """Lay out one line a player, alphabetically: court, partner and opponents of each round."""
    view = sheet.view
    sheet.heading("Your evening", f"{view.name}: find your name and read across")
    sheet.head(["Key", "Player", *(_round_head(row) for row in view.rounds)])
    for evening in view.evenings:
        cells = [
            (1, evening.person.key, Look.CELL),
            (2, evening.person.name, Look.NAME),
            *((c, stop_text(stop), _look(stop)) for c, stop in enumerate(evening.stops, start=3)),
        ]
        for column, value, look in cells:
            sheet.text(column, value, look)
        sheet.fit_height(cells)
        sheet.row += 1
    sheet.finish(landscape=True, freeze_columns=2)


def _round_head(row: RoundRow) -> str:
    return f"{row.head.number}\n{row.head.start}\n{row.head.title}"


def _look(stop: Stop) -> Look:
    return Look.CELL if stop.doing in (Doing.ON_COURT, Doing.NOT_SEATED_YET) else Look.UNUSED


def stop_text(stop: Stop) -> str:
    """Return one round of one person in a few short lines."""
    if stop.place is None:
        return {Doing.RESTING: "rest", Doing.ABSENT: "not here"}.get(
            stop.doing, "after the round before"
        )
    lines = [stop.place.court]
    if stop.place.use is Use.DRILL:
        lines.append(stop.place.topic or "drill")
        lines.append(f"coach {stop.place.coach}" if stop.place.coach else "")
    else:
        lines.append(f"with {join(p.label for p in stop.beside)}" if stop.beside else "")
        lines.append(
            "\n& ".join(
                [
                    "v " + isolated(stop.against[0].label),
                    *(isolated(p.label) for p in stop.against[1:]),
                ]
            )
        )
    return "\n".join(filter(None, lines))


def strip_text(stop: Stop) -> str:
    """Return one round of one person as it stands on a strip, which has no heads."""
    serves = f"\nserves {stop.seat.serves}" if stop.seat and stop.seat.serves else ""
    return f"{stop.head.number} · {stop.head.start}\n{stop_text(stop)}{serves}"


def write_strips(sheet: Sheet) -> None:
    """Lay out a strip a player, alphabetically; a strip never runs over the edge of a page.

    Whoever is not here all evening gets none.
    """
    view = sheet.view
    sheet.heading("Strips", f"{view.name}: cut along the dashes, one for each player")
    for evening in view.evenings:
        if any(stop.doing is not Doing.ABSENT for stop in evening.stops):
            _write_strip(sheet, evening)
    sheet.finish(landscape=True)


def strip_widths(view: View) -> list[float]:
    """Return the column widths of the strips."""
    return [_NAME_WIDTH, *_round_widths(view)]


def _write_strip(sheet: Sheet, evening: Evening) -> None:
    cells = [
        (1, evening.person.name, Look.STRIP_NAME),
        *((c, strip_text(stop), Look.STRIP) for c, stop in enumerate(evening.stops, start=2)),
    ]
    for column, value, look in cells:
        sheet.text(column, value, look)
    sheet.fit_height(cells)
    sheet.row += 1
