"""One sheet a court, to hang on the net post: who plays, who serves when, room for scores."""

from __future__ import annotations

from itertools import zip_longest

from scheduler.exporters.text import join, lines_needed
from scheduler.exporters.view import Place, RoundRow, Seat, Use
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

COURT_WIDTHS: list[float] = [8, 14, 27, 9, 10, 9, 27, 9, 10, 9]
_HEADS = ["Round", "Time", "Team A", "Serves", "Receives", "Score"]
_LAST = len(COURT_WIDTHS)
_TALL = 25.0  # points: room to write with a wet hand
_REMINDER = (
    "Keep the run-off clear · stop for loose balls · drink and shade in the heat · off the courts "
    "at thunder · an adult in sight for juniors. The club's rules, local codes and qualified "
    "coaches come first."
)


def write_court(sheet: Sheet, index: int) -> None:
    """Lay out the evening of the court with that index."""
    view = sheet.view
    sheet.heading(view.courts[index], " · ".join(filter(None, (view.name, view.date, view.times))))
    sheet.head([*_HEADS, "Team B", *_HEADS[3:]])
    for row in view.rounds:
        _write_round(sheet, row, row.places[index])
    sheet.row += 1
    sheet.banner(
        "Serves: the game of the set in which a player first serves; then every fourth game. "
        "Receives: the side a player receives on all through the set (ITF Rules 14 and 15).",
        Look.SUBTITLE,
    )
    sheet.banner(view.play, Look.SUBTITLE)
    sheet.banner(_REMINDER, Look.SUBTITLE)
    sheet.finish(landscape=True)


def _write_round(sheet: Sheet, row: RoundRow, place: Place | None) -> None:
    if place is None:
        why = "Players come from the results of the round before." if row.open else "Not used."
        _frame_round(sheet, row, 1, row.head.kind)
        sheet.merged(why, Look.UNUSED, first=3, last=_LAST)
        sheet.height(2.2, Look.ROUND)
        sheet.row += 1
    elif place.use is Use.DRILL:
        _write_drill(sheet, row, place)
    else:
        _write_match(sheet, row, place)


def _write_drill(sheet: Sheet, row: RoundRow, place: Place) -> None:
    _frame_round(sheet, row, 2, row.head.kind)
    coach = f" (coach {place.coach})" if place.coach else ""
    names = join(seat.person.label for seat in place.seats)
    for value, look in ((f"{place.title}{coach}", Look.CELL_LEFT), (names, Look.BIG_NAME)):
        sheet.merged(value, look, first=3, last=_LAST)
        lines = lines_needed(value, sum(COURT_WIDTHS[2:]) * 0.85)
        sheet.height(lines * 1.2, look)
        sheet.row += 1


def _write_match(sheet: Sheet, row: RoundRow, place: Place) -> None:
    first, second = place.sides
    height = max(len(first), len(second))
    top = sheet.row
    _frame_round(sheet, row, height, place.title)
    least = max(_TALL, sheet.points(2, _frame_text(row, place.title), Look.ROUND) / height)
    for left, right in zip_longest(first, second):
        _write_seat(sheet, 3, left)
        _write_seat(sheet, 7, right)
        labels = [(c, s.person.label, Look.BIG_NAME) for c, s in ((3, left), (7, right)) if s]
        sheet.fit_height(labels, least=least)
        sheet.row += 1
    for column in (6, 10):
        for line in range(top, top + height):
            sheet.blank(column, Look.BOX, row=line)
        _merge_down(sheet, column, top, height)


def _write_seat(sheet: Sheet, column: int, seat: Seat | None) -> None:
    sheet.text(column, seat.person.label if seat else "", Look.BIG_NAME)
    sheet.text(column + 1, seat.serves if seat else "", Look.CELL)
    sheet.text(column + 2, seat.receives if seat else "", Look.CELL)


def _frame_round(sheet: Sheet, row: RoundRow, height: int, title: str) -> None:
    """Write the round's number and time over `height` rows from the current one."""
    for line in range(sheet.row, sheet.row + height):
        sheet.blank(1, Look.ROUND, row=line)
        sheet.blank(2, Look.ROUND, row=line)
    sheet.text(1, str(row.head.number), Look.ROUND)
    sheet.text(2, _frame_text(row, title), Look.ROUND)
    for column in (1, 2):
        _merge_down(sheet, column, sheet.row, height)


def _frame_text(row: RoundRow, title: str) -> str:
    return f"{row.head.times}\n{title}"


def _merge_down(sheet: Sheet, column: int, top: int, height: int) -> None:
    if height > 1:
        sheet.join(top, top + height - 1, column, column)
