"""Seats as CSV: every seat once, formulas guarded, read back by other readers."""

from __future__ import annotations

import csv
import io
from collections import Counter
from dataclasses import replace

import pandas as pd
import pytest
from exporter_plans import make_plan

from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.domain.plan import Plan, PlannedRound, Singles, TwoAgainstOne
from scheduler.exporters.seats_csv import COLUMNS, guarded, seats_csv_of
from scheduler.exporters.view import make_view


def rows_of(plan: Plan) -> list[dict[str, str]]:
    """Return the rows as Python's own reader sees them."""
    return list(csv.DictReader(io.StringIO(seats_csv_of(plan).decode("utf-8-sig"), newline="")))


def test_every_seat_and_every_rest_is_one_row() -> None:
    """Each person has one row in each round on a court or resting, none while absent."""
    plan = make_plan(stations=True)
    counted = Counter((row["Round"], row["Key"]) for row in rows_of(plan))
    keys = {person.name: person.key for person in make_view(plan).people}
    expected = {
        (str(planned.number), keys[name])
        for planned in plan.rounds
        for name in [*planned.resting, *(n for entry in planned.courts for n in entry.players)]
    }
    assert counted == dict.fromkeys(expected, 1)


def test_a_match_row_says_all_about_the_seat() -> None:
    """Times, court, team, turn to serve and side stand in their columns."""
    plan = make_plan()
    planned = plan.rounds[3]
    match = planned.matches[0]
    row = next(r for r in rows_of(plan) if r["Round"] == "4" and r["Player"] == match.team_b[1])
    assert (row["Start"], row["End"], row["Kind"]) == ("19:30", "19:55", "Doubles")
    assert (row["Court"], row["Use"], row["Match"]) == (match.court, "match", "R4C1")
    assert (row["Team"], row["Serves"], row["Receives"]) == ("B", "4", "ad")
    assert (row["Plan"], row["Revision"]) == (make_view(plan).plan_id, "1")


def test_no_cell_can_be_taken_for_a_formula() -> None:
    """Whatever people are called, no cell starts with a sign a spreadsheet acts on (OWASP)."""
    plan = make_plan(hostile=True)
    cells = [cell for row in rows_of(plan) for cell in row.values()]
    assert not [cell for cell in cells if cell[:1] in set("=+-@\t\r\n")]
    players = {row["Player"] for row in rows_of(plan)}
    assert {"'=1+1", "'+SUM(A1:A9)", "'-2", "'@home", "1e5", "דנה לוי"} <= players


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@a", "\t=1", "\r=1", "\uff1d1", "\uff20a"])
def test_each_dangerous_start_is_guarded(text: str) -> None:
    """An apostrophe goes in front of every start on the list, and of nothing else."""
    assert guarded(text) == f"'{text}"
    assert guarded(f"a{text}") == f"a{text}"


def test_pandas_reads_the_same_table() -> None:
    """A general reader finds the columns and as many rows; the file is UTF-8 with its mark."""
    data = seats_csv_of(make_plan())
    assert data.startswith(b"\xef\xbb\xbfRound,")
    assert data.count(b"\r\n") == data.count(b"\n")
    frame = pd.read_csv(io.BytesIO(data))
    assert tuple(frame.columns) == COLUMNS
    assert len(frame) == len(rows_of(make_plan()))


def test_spare_courts_and_nights_past_midnight() -> None:
    """Singles and two against one have their seats, and times go on past midnight."""
    people = tuple(Player(name, 5.0) for name in "ABCDE")
    courts = (Court("One"), Court("Two"))
    event = Event("Late", 1430, people, courts, (Round(Kind.DOUBLES, 1430, 20),))
    entries = (Singles("One", ("A", "B")), TwoAgainstOne("Two", ("C", "D"), ("E",)))
    plan = Plan(event, (PlannedRound(1, Kind.DOUBLES, 1430, 20, entries),))
    seats = [(row["Use"], row["Team"], row["Player"], row["End"]) for row in rows_of(plan)]
    assert seats == [
        ("singles", "A", "A", "00:10"),
        ("singles", "B", "B", "00:10"),
        ("two against one", "A", "C", "00:10"),
        ("two against one", "A", "D", "00:10"),
        ("two against one", "B", "E", "00:10"),
    ]
    assert rows_of(replace(plan, rounds=())) == []
