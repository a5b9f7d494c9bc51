"""Who met whom: as a list to read for each person, and as plain tables of numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from scheduler.exporters.meetings import Pair
from scheduler.exporters.text import join
from scheduler.exporters.view import Person, View
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

_MOST_NAMES = 45
_COLUMNS_A_PAGE = 48


@dataclass(frozen=True, slots=True)
class Met:
    """How often everybody met everybody in one role; people stand in the list's order."""

    people: tuple[Person, ...]
    times: Mapping[tuple[str, str], int]

    def between(self, one: Person, other: Person) -> int:
        """Return how often two people met."""
        return self.times.get((one.key, other.key), 0)

    def others(self, person: Person, least: int, most: int) -> list[str]:
        """Return the labels of those a person met so many times."""
        return [
            other.label
            for other in self.people
            if other is not person and least <= self.between(person, other) <= most
        ]


def met(sheet: Sheet, counts: Counter[Pair]) -> Met:
    """Return meetings in one role, looked up either way round."""
    key_of = {name: person.key for name, person in sheet.view.person_of.items()}
    times = {(key_of[one], key_of[other]): count for (one, other), count in counts.items()}
    times.update({(other, one): count for (one, other), count in list(times.items())})
    return Met(sheet.view.people, times)


def met_widths(view: View) -> list[float]:
    """Return the column widths of the lists; repeats have no column where there are none."""
    lists = [34.0, 46.0, 54.0] if _repeats(view) else [56.0, 74.0]
    return [24, 12, *lists]


def _repeats(view: View) -> bool:
    both = (view.meetings.partners, view.meetings.opponents)
    return any(times > 1 for counts in both for times in counts.values())


def write_met(sheet: Sheet) -> None:
    """Lay out, for each person, whom they met twice, once and not yet, in both roles."""
    meetings = sheet.view.meetings
    roles = (
        ("partner", met(sheet, meetings.partners)),
        ("opponent", met(sheet, meetings.opponents)),
    )
    repeats = _repeats(sheet.view)
    nobody = "" if repeats else " Nobody has the same partner, or the same opponent, twice."
    sheet.heading("Who met whom", f"In matches of two against two, over the whole plan.{nobody}")
    often = ["Twice or more"] if repeats else []
    sheet.head(["Player", "As", *often, "Once", "Not yet"], left=1)
    for evening in sheet.view.evenings:
        for role, table in roles:
            _write_lists(sheet, evening.person, role, table, repeats=repeats)
    sheet.finish(landscape=True, freeze_columns=1)


def _write_lists(sheet: Sheet, person: Person, role: str, table: Met, *, repeats: bool) -> None:
    lists = (
        *((_with_times(table, person),) if repeats else ()),
        _listed(table.others(person, 1, 1)),
        _listed(table.others(person, 0, 0)),
    )
    cells = [(1, person.label, Look.NAME), (2, role, Look.CELL)]
    cells += [(column, text, Look.CELL_SMALL) for column, text in enumerate(lists, start=3)]
    for column, text, look in cells:
        sheet.text(column, text, look)
    sheet.fit_height(cells)
    sheet.row += 1


def _with_times(table: Met, person: Person) -> str:
    often = [other for other in table.people if table.between(person, other) > 1]
    return join(
        other.label if table.between(person, other) == 2
        else f"{other.label} ({table.between(person, other)} times)"
        for other in often
    )  # fmt: skip


def _listed(labels: list[str]) -> str:
    if len(labels) > _MOST_NAMES:
        return f"{len(labels)} people: see the tables"
    return join(labels)


def matrix_widths(people: int) -> list[float]:
    """Return the column widths of a table of numbers for so many people."""
    return [6, 24, *[5.0 if people < 100 else 6.0] * people]


def write_matrix(sheet: Sheet, title: str, counts: Counter[Pair]) -> None:
    """Lay out a table of numbers: how often the person of the row met that of the column."""
    table = met(sheet, counts)
    people = table.people
    sheet.heading(title, "How often the two met; the columns go by the keys on the left.")
    sheet.head(["Key", "Player", *(person.key for person in people)])
    for person in people:
        sheet.text(1, person.key, Look.CELL)
        sheet.text(2, person.label, Look.NAME)
        for column, other in enumerate(people, start=3):
            if other is person:
                sheet.blank(column, Look.DIAGONAL)
            else:
                count = table.between(person, other)
                sheet.number(column, count, Look.TIMES_OFTEN if count > 1 else Look.TIMES)
        sheet.fit_height([(2, person.label, Look.NAME)])
        sheet.row += 1
    pages_wide = -(-len(people) // _COLUMNS_A_PAGE)
    sheet.finish(landscape=True, freeze_columns=2, pages_wide=pages_wide)
