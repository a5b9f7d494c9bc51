"""The evening at a glance: rounds down, courts across.

More than ten courts are spread over further sheets, so that print stays large
enough to read from a step away.
"""

from __future__ import annotations

from scheduler.exporters.text import join, width
from scheduler.exporters.view import Person, Place, RoundRow, Use, View
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

COURTS_A_SHEET = 10
_ROOMY_COURTS = 5
_LARGE_LETTER = 1.1  # digits of the standard letter that a letter of 12 points takes
_MOST_NAMES = 30
_MOST_LINES = 6  # larger drill groups run on in the line


def bands(view: View) -> list[range]:
    """Return the courts of each overview sheet, as ranges of indices."""
    count = len(view.courts)
    sheets = max(1, -(-count // COURTS_A_SHEET))
    each = -(-count // sheets)
    return [range(start, min(start + each, count)) for start in range(0, count, max(each, 1))]


def overview_widths(view: View, courts: int) -> list[float]:
    """Return the column widths of an overview sheet with so many courts.

    Columns are as narrow as the names allow: the page is scaled to fit its
    width, so every digit saved makes the print larger.
    """
    longest = max((width(person.label) for person in view.people), default=0)
    least, most = (17.0, 21.0) if courts <= _ROOMY_COURTS else (11.0, 15.5)
    each = min(max(longest * _LARGE_LETTER + 1.5, least), most)
    beside = min(max(longest + 1.5, 13.0), 15.5 if courts <= _ROOMY_COURTS else 13.0)
    return [7, 13, *[each] * courts, *[beside for _ in _aside(view)]]


def _aside(view: View) -> list[str]:
    """Return the heads of the last columns: none for what happens to nobody all evening."""
    resting = any(row.resting for row in view.rounds)
    absent = any(row.absent for row in view.rounds)
    return [*(["Resting"] if resting else []), *(["Not here"] if absent else [])]


def write_overview(sheet: Sheet, courts: range, court_sheets: list[str]) -> None:
    """Lay out one overview sheet; the court heads lead to the courts' own sheets."""
    view = sheet.view
    sheet.heading(view.name, _subtitle(view, courts))
    labels = [view.courts[index] for index in courts]
    head_row = sheet.row
    aside = _aside(view)
    sheet.head(["Round", "Time", *labels, *aside])
    for column, index in enumerate(courts, start=3):
        sheet.text(column, view.courts[index], Look.LINK_HEAD, row=head_row)
        sheet.link(column, court_sheets[index], row=head_row)
    for row in view.rounds:
        _write_round(sheet, row, courts, aside)
    if view.notes:
        sheet.banner(view.notes, Look.TEXT)
    sheet.finish(landscape=True, lonely=0.6, freeze_columns=2)


def _subtitle(view: View, courts: range) -> str:
    some = len(courts) < len(view.courts)
    part = f"courts {courts.start + 1} to {courts.stop} of {len(view.courts)}" if some else ""
    return " · ".join(filter(None, (view.date, view.times, part, view.play)))


def _write_round(sheet: Sheet, row: RoundRow, courts: range, aside: list[str]) -> None:
    cells = [
        (1, str(row.head.number), Look.ROUND),
        (2, f"{row.head.times}\n{row.head.title}", Look.ROUND),
    ]
    for column, index in enumerate(courts, start=3):
        place = row.places[index]
        look = Look.CELL_LARGE if place or row.open else Look.UNUSED
        cells.append((column, _court_text(place, row), look))
    who = {"Resting": row.resting, "Not here": row.absent}
    for column, head in enumerate(aside, start=len(courts) + 3):
        cells.append((column, _names(who[head]), Look.CELL))
    for column, value, look in cells:
        sheet.text(column, value, look)
    sheet.fit_height(cells)
    sheet.row += 1


def _court_text(place: Place | None, row: RoundRow) -> str:
    if place is None:
        return "seated after the round before" if row.open else "not used"
    if place.use is Use.DRILL:
        labels = [seat.person.label for seat in place.seats]
        names = "\n".join(labels) if len(labels) <= _MOST_LINES else join(labels)
        coach = f"coach {place.coach}" if place.coach else ""
        about = "\n".join(filter(None, (place.topic, coach)))
        return "\n".join(filter(None, (f"{about}:" if about else "", names, _in_brackets(place))))
    sides = ["\n".join(seat.person.label for seat in side) for side in place.sides]
    title = place.title if place.use is not Use.MATCH else ""
    note = _in_brackets(place) if place.use is Use.MATCH else ""
    return "\n".join(filter(None, (title, "\nv\n".join(sides), note)))


def _in_brackets(place: Place) -> str:
    return f"({place.note})" if place.note else ""


def _names(people: tuple[Person, ...]) -> str:
    if len(people) > _MOST_NAMES:
        return f"{len(people)} people, see Players"
    return "\n".join(person.label for person in people)
