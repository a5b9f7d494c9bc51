"""The written workbook: text stays text, pages fit, the same plan gives the same bytes."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from exporter_plans import HOSTILE, make_plan, names, renamed
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.cell import Cell
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.domain.codec import plan_to_dict
from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import Group, Match, Plan, PlannedRound
from scheduler.exporters.view import make_view
from scheduler.exporters.workbook import workbook_of, write_workbook
from scheduler.exporters.workbook.people import people_widths

OWN_FORMULAS = {"Scores", "Standings"}
FIXED = ["Players", "Strips", "Scores", "Standings", "Who met whom", "Partners", "Opponents"]


def opened(plan: Plan, paper: str = "a4") -> Workbook:
    """Return a plan's workbook as openpyxl reads it back."""
    return openpyxl.load_workbook(io.BytesIO(workbook_of(plan, paper)))


def with_courts(plan: Plan, *courts: str) -> Plan:
    """Return the plan with its courts renamed, in order."""
    new = dict(zip((court.name for court in plan.event.courts), courts, strict=True))
    event = replace(plan.event, courts=tuple(Court(name) for name in courts))
    rounds = tuple(
        replace(r, courts=tuple(replace(entry, court=new[entry.court]) for entry in r.courts))
        for r in plan.rounds
    )
    return replace(plan, event=event, rounds=rounds)


@pytest.fixture(scope="module")
def hostile() -> tuple[Plan, Workbook]:
    """Return a plan with hostile names for people, courts and the event, and its workbook."""
    plan = make_plan(len(HOSTILE) + 1, 5, 2, 4, hostile=True, stations=True)
    plan = with_courts(plan, "=1+1", "Scores", "a/b", "A:B", "@" * 300)
    plan = renamed(plan, '=cmd|"/c calc"!A1 & &P &[Page]')
    return plan, opened(plan)


def test_nothing_typed_by_people_is_a_formula(hostile: tuple[Plan, Workbook]) -> None:
    """Formulas stand only in the score sheet and the standings, made of our own addresses."""
    _, book = hostile
    functions = re.compile(r"[A-Z]+(?=\()")
    known = {"IF", "AND", "OR", "INT", "MAX", "MIN", "COUNT", "COUNTIF", "COUNTIFS", "SUM",
             "SUMIFS", "SUMPRODUCT", "INDEX", "MATCH", "IFERROR", "ISNUMBER", "FIND", "LEFT",
             "MID", "SUBSTITUTE", "TEXT", "VALUE"}  # fmt: skip
    seen = set()
    for sheet in book:
        for cell in (cell for row in sheet.iter_rows() for cell in row):
            if cell.data_type == "f":
                assert sheet.title in OWN_FORMULAS
                seen.update(functions.findall(str(cell.value)))
            assert cell.data_type != "e"
    assert seen == known  # all of them in Excel 2007 to 2013


def test_risky_starts_are_marked_as_text(hostile: tuple[Plan, Workbook]) -> None:
    """A cell that begins with = + - or @ carries the quote prefix, so that editing keeps text."""
    _, book = hostile
    risky = [
        cell
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "s" and str(cell.value).startswith(("=", "+", "-", "@"))
    ]
    assert len(risky) > 20
    assert all(cell.quotePrefix for cell in risky)


def test_every_name_stands_in_full_on_the_players_sheet(hostile: tuple[Plan, Workbook]) -> None:
    """Even 300 letters, emoji and right-to-left names can be read somewhere in full."""
    plan, book = hostile
    shown = {str(cell.value) for cell in book["Players"]["B"]}
    assert {player.name.strip() for player in plan.event.players} <= shown


def test_every_link_leads_to_a_sheet(hostile: tuple[Plan, Workbook]) -> None:
    """Links stay inside the workbook and name sheets that exist, whatever courts are called."""
    _, book = hostile
    links = [cell.hyperlink for sheet in book for row in sheet.iter_rows() for cell in row]
    places = [link.location for link in links if link is not None]
    assert len(places) > 50
    assert all(link.target is None for link in links if link is not None)
    titles = {"'{}'!A1".format(sheet.title.replace("'", "''")) for sheet in book}
    assert set(places) <= titles


def test_the_workbook_holds_no_outside_reference(hostile: tuple[Plan, Workbook]) -> None:
    """No part of the file points out of it: no external link, no macro, no connection."""
    plan, _ = hostile
    with zipfile.ZipFile(io.BytesIO(workbook_of(plan))) as parts:
        for name in parts.namelist():
            assert not re.search("externalLink|vba|connections|dde", name, re.IGNORECASE)
            if name.endswith(".rels"):
                assert b'TargetMode="External"' not in parts.read(name)


def test_sheets_come_in_a_useful_order() -> None:
    """The grid first, then everybody's evening, the courts, strips, scores, tables, quality."""
    book = opened(make_plan(22, 5))
    courts = [f"Court {number}" for number in range(1, 6)]
    assert book.sheetnames == ["Evening", "Players", *courts, *FIXED[1:], "Quality"]


def test_an_evening_of_drills_has_no_score_sheets() -> None:
    """Without a match there is nothing to type and nobody to rank."""
    names_ = opened(make_plan(12, 3, drills=2, doubles=0)).sheetnames
    assert "Scores" not in names_
    assert "Standings" not in names_
    assert names_[-1] == "Quality"


@pytest.mark.parametrize("players", [22, 40])
def test_the_grid_shows_every_seat(players: int) -> None:
    """Each court's cell of each round names exactly those who are on it, teams apart by 'v'."""
    plan = make_plan(players, 5, stations=True)
    sheet = opened(plan)["Evening"]
    for row, planned in enumerate(plan.rounds, start=5):
        for entry in planned.courts:
            column = 3 + [court.name for court in plan.event.courts].index(entry.court)
            text = str(sheet.cell(row, column).value)
            if isinstance(entry, Match):
                assert text.split("\n") == [*entry.team_a, "v", *entry.team_b]
            elif isinstance(entry, Group):
                told = re.split(r"\n|, ", text)
                assert told == [entry.topic, f"coach {entry.coach}:", *entry.players]
        assert (sheet.cell(row, 8).value or "") == "\n".join(
            sorted_as_listed(plan, planned.resting)
        )
        assert (sheet.cell(row, 9).value or "") == "\n".join(sorted_as_listed(plan, planned.absent))


def sorted_as_listed(plan: Plan, people: tuple[str, ...]) -> list[str]:
    """Return names in the order of the players list."""
    return [player.name for player in plan.event.players if player.name in people]


def test_each_court_sheet_tells_serving_and_receiving() -> None:
    """Every match of a court stands on its sheet with turns to serve and sides to receive."""
    plan = make_plan(22, 5)
    book = opened(plan)
    for court in plan.event.courts:
        cells = [[cell.value for cell in row] for row in book[court.name].iter_rows()]
        told = {
            (row[c], row[c + 1], row[c + 2]) for row in cells for c in (2, 6) if row[c + 1] in TURNS
        }
        matches = [m for _, m in plan.matches() if m.court == court.name]
        assert told == {
            (name, TURNS[match.serving_order.index(name)],
             "deuce" if name in match.deuce_receivers else "ad")
            for match in matches
            for name in match.players
        }  # fmt: skip


TURNS = ("1st", "2nd", "3rd", "4th")


@pytest.mark.parametrize(("paper", "code"), [("a4", 9), ("letter", 1)])
def test_every_sheet_is_ready_to_print(paper: str, code: int) -> None:
    """Paper size, one page wide, repeated heads, print area, and whose plan it is on every page."""
    plan = make_plan(40, 10, 0, 9)
    book = opened(plan, paper)
    plan_id = plan_to_dict(plan)["id"]
    for sheet in book:
        assert sheet.page_setup.paperSize == code
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToWidth == 1
        assert sheet.print_title_rows or sheet.title == "Strips"
        assert sheet.print_area.startswith(f"'{sheet.title}'!$A$2:")
        assert sheet.oddFooter.left.text == f" plan {plan_id}, revision 1"
        assert sheet.oddHeader.left.text == " Thursday lights && friends"
        assert "2026-12-03" in sheet.oddHeader.right.text
        assert sheet.oddFooter.right.text == "Page &P of &N"
        assert sheet.page_setup.orientation == (
            "portrait" if sheet.title in {"Standings", "Quality"} else "landscape"
        )


def test_many_courts_are_spread_evenly_over_grids() -> None:
    """Twelve courts become two grids of six, never ten and two."""
    book = opened(make_plan(48, 12, 0, 1))
    assert book.sheetnames[:2] == ["Evening", "Evening 2"]
    assert [cell.value for cell in book["Evening 2"][4]][2:8] == [
        f"Court {n}" for n in range(7, 13)
    ]


def test_a_match_somebody_never_came_to_takes_no_score() -> None:
    """Its cells are locked, the reason stands beside them, and no working adds it up."""
    plan = make_plan(22, 5)
    at = next(i for i, planned in enumerate(plan.rounds) if planned.matches)
    gone = plan.rounds[at].matches[1].team_a[0]
    rounds = [*plan.rounds]
    rounds[at] = replace(rounds[at], missing=(gone,))
    book = opened(replace(plan, rounds=tuple(rounds)))
    closed = [cell.row for cell in book["Scores"]["J"] if cell.value == f"{gone} did not come"]
    assert len(closed) == 1
    cells = book["Scores"][closed[0]]
    assert all(cells[column].protection.locked for column in (5, 6, 8))
    assert [cell.value for cell in cells[10:]] == [None] * len(cells[10:])
    told = [str(row[0]) for row in book["Standings"].iter_rows(values_only=True)]
    count = len(list(plan.matches())) - 1
    assert any(f" of {count} matches counted" in text for text in told)


def test_only_scores_and_marks_can_be_typed() -> None:
    """The score sheet is protected but for two cells and a mark a match, which are checked."""
    plan = make_plan(22, 5)
    sheet = opened(plan)["Scores"]
    count = len(list(plan.matches()))
    unlocked = {
        cell.coordinate for row in sheet.iter_rows() for cell in row if not cell.protection.locked
    }
    assert sheet.protection.sheet
    assert unlocked == {f"{column}{row}" for column in "FGI" for row in range(5, 5 + count)}
    rules = {str(rule.sqref): rule for rule in sheet.data_validations.dataValidation}
    numbers = rules[f"F5:G{4 + count}"]
    assert (numbers.type, numbers.formula1, numbers.formula2) == ("whole", "0", "999")
    assert rules[f"I5:I{4 + count}"].type == "list"
    assert sheet.conditional_formatting


def test_the_tables_of_numbers_agree_with_the_plan() -> None:
    """Partners and opponents counted anew from the matches are what the tables hold."""
    plan = make_plan(22, 5, seed=3)
    book, people = opened(plan), [player.name for player in plan.event.players]
    for sheet, sides in (("Partners", partners), ("Opponents", opponents)):
        for row, one in enumerate(people, start=5):
            for column, other in enumerate(people, start=3):
                value = book[sheet].cell(row, column).value
                met = sum({one, other} in sides(match) for _, match in plan.matches())
                assert value == (None if one == other else met)


def partners(match: Match) -> list[set[str]]:
    """Return the two teams of a match."""
    return [set(match.team_a), set(match.team_b)]


def opponents(match: Match) -> list[set[str]]:
    """Return the four pairs of opponents of a match."""
    return [{a, b} for a in match.team_a for b in match.team_b]


def test_the_lists_of_who_met_whom_leave_nobody_out() -> None:
    """For each person and role everybody else is in one of: twice or more, once, not yet."""
    plan = make_plan(22, 5)
    rows = list(opened(plan)["Who met whom"].iter_rows(5, values_only=True))
    assert len(rows) == 2 * 22
    for row in rows:
        owner = row[0]
        listed = [re.sub(r" \(\d+ times\)", "", n) for t in row[2:5] if t for n in t.split(", ")]
        assert sorted([*listed, owner]) == sorted(player.name for player in plan.event.players)


def test_measures_cautions_and_warnings_are_printed() -> None:
    """The quality sheet tells measures in words, warnings, cautions, notes and the plan's id."""
    plan = make_plan(22, 5)
    told = [str(cell.value) for row in opened(plan)["Quality"].iter_rows() for cell in row]
    text = "\n".join(told)
    for needed in ("partner twice", "One court is short.", "Balls are in the shed.",
                   "Thunder or lightning", "qualified coaches come first",
                   str(plan_to_dict(plan)["id"])):  # fmt: skip
        assert needed in text
    assert len([line for line in told if line.endswith(".")]) > len(plan.measures)


def test_the_same_plan_gives_the_same_bytes() -> None:
    """Nothing in the workbook depends on the time or on chance."""
    assert workbook_of(make_plan(12, 3)) == workbook_of(make_plan(12, 3))


def test_an_unknown_paper_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    """Only the two papers are known."""
    with pytest.raises(ValueError, match="a4 or letter"):
        write_workbook(make_plan(8, 2), tmp_path / "x.xlsx", paper="a5")
    assert not list(tmp_path.iterdir())


def test_long_names_are_told_apart_in_every_cell() -> None:
    """Two people whose long names start alike carry their keys wherever they are shown."""
    twins = {"Ada Birch": "M" * 200 + "a", "Bruno Cole": "M" * 200 + "b"}
    plan = make_plan(8, 2, 0, 2)
    assert names(2) == list(twins)

    def new(people: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(twins.get(name, name) for name in people)

    rounds = tuple(
        replace(r, courts=tuple(
            Match(m.court, new(m.team_a), new(m.team_b), new(m.serving_order),
                  new(m.deuce_receivers))
            for m in r.matches), resting=new(r.resting), absent=new(r.absent))
        for r in plan.rounds
    )  # fmt: skip
    players = tuple(replace(p, name=twins.get(p.name, p.name)) for p in plan.event.players)
    book = opened(replace(plan, event=replace(plan.event, players=players), rounds=rounds))
    shown = {str(cell.value) for cell in book["Standings"]["M"]}
    assert {name for name in shown if name.startswith("MM")} == {
        "M" * 35 + "… P01", "M" * 35 + "… P02",
    }  # fmt: skip


ANY = st.text(alphabet=st.characters(), min_size=1, max_size=40)


@settings(max_examples=15, deadline=None)
@given(people=st.lists(ANY, min_size=4, max_size=4, unique=True), court=ANY, event=ANY, note=ANY)
def test_any_text_at_all_makes_a_workbook_that_opens(
    people: list[str], court: str, event: str, note: str
) -> None:
    """Control characters, lone surrogates, anything: the file is written and read back as text."""
    a, b, c, d = people
    asked = Round(Kind.DOUBLES, 1110, 25, topic=note)
    players = tuple(Player(name, 5.0) for name in people)
    whole = Event(event, 1110, players, (Court(court),), (asked,), date=note, notes=note)
    match = Match(court, (a, b), (c, d), (a, c, b, d), (a, c))
    planned = PlannedRound(1, Kind.DOUBLES, 1110, 25, (match,), topic=note)
    book = opened(Plan(whole, (planned,), warnings=(note,)))
    for sheet in book:
        if sheet.title not in OWN_FORMULAS:
            assert {cell.data_type for row in sheet.iter_rows() for cell in row} <= {"s", "n"}


def test_a_column_for_what_happens_to_nobody_is_left_out() -> None:
    """Sixteen people on four courts all evening: the grid has neither resting nor not here."""
    plan = make_plan(16, 4, 0, 3, set_format=SetFormat.TIMED)
    plan = replace(
        plan,
        event=replace(
            plan.event, players=tuple(replace(p, arrives=None) for p in plan.event.players)
        ),
        rounds=tuple(replace(planned, absent=(), resting=()) for planned in plan.rounds),
    )
    heads = [cell.value for cell in _row_that_begins(opened(plan)["Evening"], "Round")]
    assert heads == ["Round", "Time", "Court 1", "Court 2", "Court 3", "Court 4"]
    usual = [cell.value for cell in _row_that_begins(opened(make_plan())["Evening"], "Round")]
    assert usual[-2:] == ["Resting", "Not here"]


def test_notes_stand_under_the_grid() -> None:
    """What the organiser wants everybody to read is printed on the sheet that is pinned up."""
    sheet = opened(make_plan())["Evening"]
    last = int(str(sheet.print_area).rpartition("$")[2])
    assert sheet.cell(last, 1).value == "Balls are in the shed."


def test_lists_without_a_repeat_have_no_column_for_repeats() -> None:
    """One round of doubles repeats nothing; four rounds of five people on a court must."""
    once = _row_that_begins(opened(make_plan(5, 1, 0, 1))["Who met whom"], "Player")
    assert [cell.value for cell in once] == ["Player", "As", "Once", "Not yet"]
    twice = _row_that_begins(opened(make_plan(5, 1, 0, 4))["Who met whom"], "Player")
    assert [cell.value for cell in twice] == ["Player", "As", "Twice or more", "Once", "Not yet"]


def test_a_partner_stands_on_one_line_where_rounds_are_few() -> None:
    """Six rounds leave room for "with Bella Crosthwaite"; eight keep the columns narrow."""
    for drills, room in ((1, 21.0), (3, 17.0)):
        view = make_view(make_plan(22, 5, drills, 5))
        people = (*view.people[1:], replace(view.people[0], label="Bella Crosthwaite"))
        assert people_widths(replace(view, people=people))[2:] == [room] * (drills + 5)


def test_whoever_is_not_here_all_evening_gets_no_strip() -> None:
    """The strips name everybody but them; the players' sheet still tells that they are not here."""
    plan = make_plan(9, 2, 0, 2)
    gone = plan.event.players[8].name
    rounds = tuple(
        replace(
            planned,
            resting=tuple(n for n in planned.resting if n != gone),
            courts=tuple(c for c in planned.courts if gone not in c.players),
            absent=(*planned.absent, gone),
        )
        for planned in plan.rounds
    )
    book = opened(replace(plan, rounds=rounds))
    assert gone not in {row[0] for row in book["Strips"].iter_rows(values_only=True)}
    assert gone in {row[1] for row in book["Players"].iter_rows(values_only=True)}


def _row_that_begins(sheet: Worksheet, text: str) -> tuple[Cell, ...]:
    """Return the cells with something in them of the row whose first cell holds the text."""
    row = next(row for row in sheet.iter_rows() if row[0].value == text)
    return tuple(cell for cell in row if cell.value is not None)
