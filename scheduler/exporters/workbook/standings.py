"""The standings, live: they follow every score as it is typed.

Everybody's own results are added up by short key in columns right of the print
area, in the order of the players list; the printed table picks them in order
of place. Order: matches won, then games difference, then games won; who is
still level shares the place (common practice, no source). People without a
counted match come last, without a place.
"""

from __future__ import annotations

from openpyxl.utils import get_column_letter

from scheduler.exporters.view import Person
from scheduler.exporters.workbook.scores import SCORES, ScoreRows
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

STANDINGS = "Standings"
STANDING_WIDTHS: list[float] = [8, 32, 10, 9, 9, 11, 9, 9, 12, 9]
_WORKINGS = (
    "key", "name", "played", "won", "lost", "games", "against", "difference", "place", "order",
    "row",
)  # fmt: skip
_FIRST_WORKING = len(STANDING_WIDTHS) + 2
_SHOWN = (
    ("place", Look.ROUND),
    ("name", Look.NAME),
    ("played", Look.NUMBER),
    ("won", Look.NUMBER),
    ("lost", Look.NUMBER),
)


class _Table:
    """Addresses in the workings of the standings."""

    def __init__(self, first: int, last: int) -> None:
        self.first, self.last = first, last

    def at(self, working: str, row: int) -> str:
        """Return the address of one person's working."""
        return f"${self._letter(working)}{row}"

    def all(self, working: str) -> str:
        """Return the address of everybody's working."""
        letter = self._letter(working)
        return f"${letter}${self.first}:${letter}${self.last}"

    def above(self, working: str, row: int) -> str:
        """Return the address of a working from its head down to the row above."""
        letter = self._letter(working)
        return f"${letter}${self.first - 1}:${letter}{row - 1}"

    @staticmethod
    def column(working: str) -> int:
        """Return the number of a working's column."""
        return _FIRST_WORKING + _WORKINGS.index(working)

    def _letter(self, working: str) -> str:
        return get_column_letter(self.column(working))


def write_standings(sheet: Sheet, scores: ScoreRows) -> None:
    """Lay out the standings over the scores typed into the given rows."""
    view = sheet.view
    points = view.set_format.only_tie_break_to is not None
    unit = "Points" if points else "Games"
    sheet.heading(
        "Standings", "Order: matches won, then difference, then " + unit.lower() + " won."
    )
    _write_progress(sheet, scores)
    head_row = sheet.row
    sheet.head(
        [
            "Place", "Player", "Matches", "Won", "Lost", "Neither", f"{unit} won", f"{unit} lost",
            "Difference", "Share",
        ]
    )  # fmt: skip
    for working in _WORKINGS:
        sheet.text(_Table.column(working), working, Look.WORKING, row=head_row)
    table = _Table(sheet.row, sheet.row + len(view.people) - 1)
    for person in view.people:
        _write_workings(sheet, table, scores, person)
        _write_shown(sheet, table)
        sheet.row += 1
    sheet.finish(landscape=False, freeze_columns=2)
    sheet.ws.protection.sheet = True


def _write_progress(sheet: Sheet, scores: ScoreRows) -> None:
    row = sheet.row
    sheet.merged("", Look.TEXT, first=1, last=sheet.last_column)
    said = f"{SCORES}!$J${scores.first}:$J${scores.last}"
    again = f'SUMPRODUCT(({said}<>"")*({scores.range("a1")}<>""))'
    sheet.formula(
        1,
        f'SUM({scores.range("counts")})&" of {scores.count} matches counted"'
        f'&IF({again}>0,"; "&{again}&" to look at again in {SCORES}","")',
        Look.TEXT,
        row=row,
    )
    sheet.row += 1


def _write_workings(sheet: Sheet, table: _Table, scores: ScoreRows, person: Person) -> None:
    row = sheet.row
    sheet.text(table.column("key"), person.key, Look.WORKING)
    sheet.text(table.column("name"), person.label, Look.WORKING)
    key = table.at("key", row)
    sums = {
        "played": ("counts", "counts"),
        "won": ("a won", "b won"),
        "lost": ("b won", "a won"),
        "games": ("a games", "b games"),
        "against": ("b games", "a games"),
    }
    formulas = {name: _sum(scores, key, *sides) for name, sides in sums.items()}
    formulas["difference"] = f"{table.at('games', row)}-{table.at('against', row)}"
    formulas["place"] = _place(table, row)
    formulas["order"] = _order(table, row)
    formulas["row"] = f"MATCH({row - table.first + 1},{table.all('order')},0)"
    for working, formula in formulas.items():
        sheet.formula(table.column(working), formula, Look.WORKING)


def _sum(scores: ScoreRows, key: str, for_a: str, for_b: str) -> str:
    """Return the sum of a working over the matches of one person, whichever seat they had."""
    seats = (("a1", for_a), ("a2", for_a), ("b1", for_b), ("b2", for_b))
    return "+".join(
        f"SUMIFS({scores.range(wanted)},{scores.range(seat)},{key})" for seat, wanted in seats
    )


def _place(table: _Table, row: int) -> str:
    """Return one more than the number of people who stand better."""
    level, better = f'{table.all("played")},">0"', []
    for working in ("won", "difference", "games"):
        values, own = table.all(working), table.at(working, row)
        better.append(f'COUNTIFS({level},{values},">"&{own})')
        level += f",{values},{own}"
    return f'IF({table.at("played", row)}=0,"",1+{"+".join(better)})'


def _order(table: _Table, row: int) -> str:
    """Return the line a person stands on: by place, people level in the order of the list."""
    played, place = table.at("played", row), table.at("place", row)
    ranked = f"{place}+COUNTIF({table.above('place', row)},{place})"
    unplayed_above = f"COUNTIF({table.above('played', row)},0)"
    return f'IF({played}>0,{ranked},COUNTIF({table.all("played")},">0")+1+{unplayed_above})'


def _write_shown(sheet: Sheet, table: _Table) -> None:
    row = sheet.row
    picked = table.at("row", row)

    def pick(working: str) -> str:
        return f"INDEX({table.all(working)},{picked})"

    for column, (working, look) in enumerate(_SHOWN, start=1):
        sheet.formula(column, pick(working), look)
    sheet.formula(6, f"C{row}-D{row}-E{row}", Look.NUMBER)
    for column, working in ((7, "games"), (8, "against"), (9, "difference")):
        sheet.formula(column, pick(working), Look.NUMBER)
    sheet.formula(10, f'IF(G{row}+H{row}=0,"",G{row}/(G{row}+H{row}))', Look.PERCENT)
    sheet.ws.row_dimensions[row].height = 18.0
