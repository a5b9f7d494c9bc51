"""Every seat of a plan as one row of a CSV file, for whoever wants to count or sort on.

Comma separated, lines ended as RFC 4180 has it, UTF-8 with the mark that
spreadsheets need to read it as such. People who rest have a row too, those
who are not there have none.

A cell that a spreadsheet would take for a formula gets an apostrophe in front,
after the advice on "CSV injection" of the OWASP project: a text that starts
with ``=``, ``+``, ``-``, ``@`` (also in their wide forms), tab or line break.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from scheduler.domain.clock import format_time, parse_time
from scheduler.domain.plan import Plan
from scheduler.exporters.text import clean
from scheduler.exporters.view import Person, Place, RoundHead, Seat, Use, View, make_view

COLUMNS = (
    "Round", "Start", "End", "Kind", "Topic", "Court", "Use", "Match", "Team", "Player", "Key",
    "Serves", "Receives", "Coach", "Plan", "Revision",
)  # fmt: skip
RESTING = "resting"
_FORMULA_STARTS = tuple("=+-@\t\r\n＝＋－＠")  # noqa: RUF001  the wide forms are meant


def seats_csv_of(plan: Plan) -> bytes:
    """Return a plan's seats as the bytes of a CSV file, in playing order."""
    view = make_view(plan)
    topics = [clean(planned.topic) for planned in plan.rounds]
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows(view, topics):
        writer.writerow([guarded(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig", "replace")


def guarded(cell: str) -> str:
    """Return a cell's text so that no spreadsheet takes it for a formula."""
    return f"'{cell}" if cell.startswith(_FORMULA_STARTS) else cell


def _rows(view: View, topics: list[str]) -> Iterator[list[str]]:
    identity = [view.plan_id, str(view.revision)]
    for row, topic in zip(view.rounds, topics, strict=True):
        for place in filter(None, row.places):
            for team, side in zip("AB", place.sides, strict=False):
                for seat in side:
                    yield _seated(row.head, place, topic, team, seat) + identity
        for person in row.resting:
            yield _resting(row.head, topic, person) + identity


def _seated(head: RoundHead, place: Place, topic: str, team: str, seat: Seat) -> list[str]:
    drill = place.use is Use.DRILL
    return [
        *_when(head, place.topic or topic),
        place.court,
        str(place.use),
        place.key if place.use is Use.MATCH else "",
        "" if drill else team,
        seat.person.name,
        seat.person.key,
        seat.serves[:1],
        seat.receives,
        place.coach,
    ]


def _resting(head: RoundHead, topic: str, person: Person) -> list[str]:
    return [*_when(head, topic), "", RESTING, "", "", person.name, person.key, "", "", ""]


def _when(head: RoundHead, topic: str) -> list[str]:
    end = format_time(parse_time(head.start) + head.minutes)
    return [str(head.number), head.start, end, head.kind, topic]
