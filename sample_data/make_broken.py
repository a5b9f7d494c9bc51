# ruff: noqa: INP001  a script beside its data, not a package
"""Write ``broken/`` anew: files with one fault each, and what should be said of it.

``python sample_data/make_broken.py``. The expected sentences are written by
hand below; the tests read the files and compare.
"""

from __future__ import annotations

import datetime as dt
import io
import json
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.utils.cell import coordinate_from_string

from scheduler.exporters.files import workbook_bytes, write_whole

HERE = Path(__file__).parent / "broken"

BASE: dict[str, list[list[Any]]] = {
    "Event": [["Setting", "Value"], ["Name", "Small evening"], ["Start", dt.time(18, 30)]],
    "Players": [
        ["Name", "Level", "Group", "Arrives", "Leaves", "Here"],
        ["Jón", 4, "A", None, None, "yes"],
        ["Mirela", 5, "B", None, None, "yes"],
        ["Tamsin", 6.5, "A", None, None, "yes"],
        ["Yusra", 3.5, "B", None, None, "yes"],
        ["Болеслав", 7, "A", None, None, "yes"],
        ["彩葉", 2, "B", None, None, "if needed"],
    ],
    "Courts": [["Name", "From", "Until"], ["Court 1", None, None], ["Court 2", None, None]],
    "Rounds": [
        ["Kind", "Minutes", "Courts", "Start"],
        ["drill", 20, None, None],
        ["doubles", 25, None, None],
    ],
    "Wishes": [
        ["Wish", "Player", "Other", "Strength", "Round"],
        ["not partners", "Jón", "Mirela", "must", None],
    ],
    "Stations": [["Court", "Topic", "Coach"], ["Court 1", "Volleys", None]],
}


@dataclass(frozen=True)
class Number:
    """A number in a cell of a given number format."""

    value: float
    shown_as: str


WITHOUT = "without a sheet"
RENAMED = "a sheet under another name"
ONLY_HEADER = "only the header of a sheet"
EMPTY = "an empty sheet"

_WISHES = (
    "partners, partners once, not partners, against once, not same court, same court, on court, "
    "rests, plays at most or rounds running at most"
)
_KINDS = "drill, doubles, mixed, pairs, group against group or up and down"
_RUN_FORMULA = (
    "holds a formula without a stored result; open the workbook in Excel or LibreOffice, save it "
    "once and try again"
)
_SAVE_ANEW = "open it, save it as an Excel workbook (.xlsx) and use that"

# File: the cells that are changed, and the one fault there is then.
WORKBOOKS: dict[str, tuple[dict[str, Any], str]] = {
    "no_event_sheet": ({WITHOUT: "Event"}, "Event: there is no sheet called 'Event'"),
    "no_players_sheet": ({WITHOUT: "Players"}, "Players: there is no sheet called 'Players'"),
    "no_courts_sheet": ({WITHOUT: "Courts"}, "Courts: there is no sheet called 'Courts'"),
    "no_rounds_sheet": ({WITHOUT: "Rounds"}, "Rounds: there is no sheet called 'Rounds'"),
    "sheet_misspelt": (
        {RENAMED: ("Wishes", "Whishes")},
        "Wishes: there is no sheet called 'Wishes'; is it 'Whishes'? Then rename that sheet",
    ),
    "empty_sheet": (
        {EMPTY: "Courts"},
        "Courts!A1: the sheet is empty; its first row must name the columns: Name, From, Until",
    ),
    "no_players_listed": ({ONLY_HEADER: "Players"}, "Players: no players are listed"),
    "no_courts_listed": ({ONLY_HEADER: "Courts"}, "Courts: no courts are listed"),
    "no_rounds_listed": ({ONLY_HEADER: "Rounds"}, "Rounds: no rounds are listed"),
    "column_missing": ({"Rounds!B1": None}, "Rounds!A1: the column 'Minutes' is missing"),
    "header_misspelt": (
        {"Rounds!B1": "Minuts"},
        "Rounds!B1: there is no column \"Minuts\" here; did you mean 'Minutes'?",
    ),
    "column_twice": (
        {"Players!F1": "Level"},
        "Players!F1: there are two columns called 'Level'",
    ),
    "event_name_missing": ({"Event!B2": None}, "Event!B2: name is missing"),
    "setting_twice": (
        {"Event!A4": "start", "Event!B4": dt.time(19, 0)},
        "Event!A4: the setting 'Start' is already in Event!B3",
    ),
    "start_not_a_time": (
        {"Event!B3": "half past six"},
        'Event!B3: start must be a time such as 18:30, got "half past six"',
    ),
    "start_is_a_number": (
        {"Event!B3": Number(18.3, shown_as="General")},
        "Event!B3: start must be a time such as 18:30, got 18.3",
    ),
    "start_is_a_number_shown_as_time": (
        {"Event!B3": Number(18.3, shown_as="hh:mm")},
        "Event!B3: start must be a time such as 18:30, got a number shown as a time",
    ),
    "date_not_a_date": (
        {"Event!A4": "Date", "Event!B4": "next Tuesday"},
        'Event!B4: date must be a date such as 2026-12-01, got "next Tuesday"',
    ),
    "emphasis_misspelt": (
        {"Event!A4": "Emphasis", "Event!B4": "varity"},
        (
            "Event!B4: emphasis must be blend, variety, balance or meet everyone, "
            "got \"varity\"; did you mean 'variety'?"
        ),
    ),
    "exchange_below_zero": (
        {"Event!A4": "Exchange", "Event!B4": -1},
        "Event!B4: exchange must be a number from 0 to 1000, got -1",
    ),
    "name_missing": ({"Players!A4": None, "Wishes!A3": None}, "Players!A4: name is missing"),
    "name_twice": ({"Players!A5": "Tamsin"}, 'Players!A5: name "Tamsin" is already in Players!A4'),
    "name_twice_composed": (
        {"Players!A5": "Jo\u0301n"},
        'Players!A5: name "Jón" is already in Players!A2',
    ),
    "name_invisible": (
        {"Players!A4": "\u2060\u200d"},
        "Players!A4: name must have something that can be seen in print",
    ),
    "name_is_a_date": (
        {"Courts!A3": dt.datetime(2026, 2, 1), "Wishes!A3": None},  # noqa: DTZ001  as in a cell
        (
            "Courts!A3: name must be text, got the date 2026-02-01; format the cell as text and "
            "retype it"
        ),
    ),
    "level_not_a_number": (
        {"Players!B7": "abc"},
        'Players!B7: level must be a number from 1 to 10, got "abc"',
    ),
    "level_too_high": (
        {"Players!B7": "10,5"},
        'Players!B7: level must be a number from 1 to 10, got "10,5"',
    ),
    "level_is_a_date": (
        {"Players!B3": dt.datetime(2026, 5, 3)},  # noqa: DTZ001  as in a cell
        (
            "Players!B3: level must be a number from 1 to 10, got the date 2026-05-03; format the "
            "cell as a number and retype it"
        ),
    ),
    "level_never_computed": ({"Players!B3": "=2+2"}, f"Players!B3: level {_RUN_FORMULA}"),
    "level_is_an_error": ({"Players!B3": "#N/A"}, "Players!B3: level holds the Excel error #N/A"),
    "arrives_not_a_time": (
        {"Players!D3": "25:00"},
        'Players!D3: arrives must be a time such as 18:30, got "25:00"',
    ),
    "leaves_before_arriving": (
        {"Players!D3": "19:30", "Players!E3": "19:00"},
        "Players!E3: leaves must be later than arrives",
    ),
    "here_unknown": (
        {"Players!F4": "perhaps"},
        'Players!F4: here must be yes, no or if needed, got "perhaps"',
    ),
    "court_twice": ({"Courts!A3": "Court 1"}, 'Courts!A3: name "Court 1" is already in Courts!A2'),
    "court_closes_first": (
        {"Courts!B3": "20:00", "Courts!C3": "19:00"},
        "Courts!C3: until must be later than from",
    ),
    "kind_misspelt": (
        {"Rounds!A3": "dubbles"},
        f"Rounds!A3: kind must be {_KINDS}, got \"dubbles\"; did you mean 'doubles'?",
    ),
    "minutes_missing": ({"Rounds!B3": None}, "Rounds!B3: minutes is missing"),
    "minutes_not_whole": (
        {"Rounds!B3": 12.5},
        "Rounds!B3: minutes must be a whole number from 1 to 600, got 12.5",
    ),
    "round_overlaps": (
        {"Rounds!D3": "18:45"},
        "Rounds!D3: round 2 starts at 18:45, before round 1 ends at 18:50",
    ),
    "round_before_start": (
        {"Rounds!D2": "18:00"},
        "Rounds!D2: round 1 starts at 18:00, before the event starts at 18:30",
    ),
    "round_on_unknown_court": (
        {"Rounds!C3": "Court 1, Cuort 2"},
        "Rounds!C3: no court called 'Cuort 2'; did you mean 'Court 2'?",
    ),
    "round_on_too_many_courts": (
        {"Rounds!C3": 3},
        (
            'Rounds!C3: courts must be a whole number from 1 to 2, got "3" (or a list of courts\' '
            "names)"
        ),
    ),
    "round_without_open_court": (
        {"Courts!C2": "19:00", "Courts!C3": "19:00"},
        "Rounds!A3: no court is open for all of round 2 (18:50 to 19:15)",
    ),
    "mixed_without_group": (
        {"Rounds!A3": "mixed", "Players!C4": None},
        'Players!C4: group is missing; "Tamsin" needs one for round 2 (mixed)',
    ),
    "mixed_with_three_groups": (
        {"Rounds!A3": "mixed", "Players!C4": "C"},
        'Rounds!A3: a \'mixed\' round needs exactly two groups, those there have 3: "A", "B", "C"',
    ),
    "wish_unknown": (
        {"Wishes!A2": "never together"},
        f'Wishes!A2: wish must be {_WISHES}, got "never together"',
    ),
    "wish_of_nobody": (
        {"Wishes!B2": "Jon"},
        "Wishes!B2: no player called 'Jon'; did you mean 'Jón'?",
    ),
    "wish_with_nobody": ({"Wishes!C2": "Xaver"}, "Wishes!C2: no player called 'Xaver'"),
    "wish_with_oneself": (
        {"Wishes!C2": "Jón"},
        "Wishes!C2: other must be another person than player",
    ),
    "wish_without_other": (
        {"Wishes!C2": None},
        "Wishes!C2: other is missing; 'not partners' needs another player",
    ),
    "wish_with_other_too_many": (
        {"Wishes!A2": "rests", "Wishes!E2": 2},
        "Wishes!C2: other must be blank for 'rests', got \"Mirela\"",
    ),
    "wish_for_unknown_court": (
        {"Wishes!A2": "on court", "Wishes!C2": "Court 11"},
        "Wishes!C2: no court called 'Court 11' (there are Court 1, Court 2)",
    ),
    "wish_limit_not_a_number": (
        {"Wishes!A2": "plays at most", "Wishes!C2": "few"},
        "Wishes!C2: other must be a whole number from 0 to 1000, got \"few\" for 'plays at most'",
    ),
    "wish_limit_of_none_running": (
        {"Wishes!A2": "rounds running at most", "Wishes!C2": 0},
        (
            'Wishes!C2: other must be a whole number from 1 to 1000, got "0" for '
            "'rounds running at most'"
        ),
    ),
    "wish_limit_in_one_round": (
        {"Wishes!A2": "plays at most", "Wishes!C2": 1, "Wishes!E2": 2},
        (
            "Wishes!E2: round must be blank for 'plays at most'; use 'rests' to have somebody rest "
            "in a round"
        ),
    ),
    "wish_in_no_round": ({"Wishes!E2": 3}, "Wishes!E2: round must be from 1 to 2, got 3"),
    "strength_misspelt": (
        {"Wishes!D2": "shuold"},
        "Wishes!D2: strength must be must or should, got \"shuold\"; did you mean 'should'?",
    ),
    "station_on_unknown_court": (
        {"Stations!A2": "Cuort 1"},
        "Stations!A2: no court called 'Cuort 1'; did you mean 'Court 1'?",
    ),
    "station_twice": (
        {"Stations!A3": "Court 1"},
        'Stations!A3: court "Court 1" is already in Stations!A2',
    ),
}


def _archive(**entries: bytes) -> bytes:
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w") as archive:
        for name, data in entries.items():
            archive.writestr(zipfile.ZipInfo(name), data)
    return raw.getvalue()


_OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504)
# Files that are no workbook at all, or a players list; NAME stands for the file's own.
OTHERS: dict[str, tuple[bytes, str]] = {
    "zero_bytes.xlsx": (b"", "NAME: is an empty file"),
    "only_text.xlsx": (
        b"Name,Level\nAda,4\n",
        f"NAME: is not an Excel workbook (.xlsx); {_SAVE_ANEW}",
    ),
    "old_format.xlsx": (_OLD, f"NAME: is in the old Excel format (.xls); {_SAVE_ANEW}"),
    "password.xlsx": (
        _OLD + "EncryptedPackage".encode("utf-16-le"),
        "NAME: is protected by a password; take the password off, save it and try again",
    ),
    "other_archive.xlsx": (
        _archive(**{"notes.txt": b"hello"}),
        f"NAME: is not an Excel workbook (.xlsx); {_SAVE_ANEW}",
    ),
    "open_document.xlsx": (
        _archive(mimetype=b"application/vnd.oasis.opendocument.spreadsheet"),
        f"NAME: is an OpenDocument file; {_SAVE_ANEW}",
    ),
    "zero_bytes.csv": (b"", "NAME: is an empty file"),
    "no_header.csv": (b"Ada;4\nBo;5\n", "NAME!A1: the column 'Name' is missing"),
    "only_header.csv": (b"Name;Level\n\n", "NAME: no players are listed"),
    "level.csv": (
        "Name;Level\nAda;4,5\nZoë;four\n".encode("cp1252"),
        'NAME!B3: level must be a number from 1 to 10, got "four"',
    ),
    "name_twice.csv": (
        "\ufeffName,Level\n\nZoë,4\nZoë,5\n".encode(),
        'NAME!A4: name "Zoë" is already in NAME!A3',
    ),
    "open_quote.csv": (
        b'Name,Level\n"Ada,4\nBo,5\n',
        "NAME line 3: is not well-formed csv: unexpected end of data",
    ),
    "encoding.csv": (
        b"Name\nAda\x81\x8d\x8f\n",
        "NAME: is in an unknown encoding; save it as CSV UTF-8",
    ),
    "control_character.csv": (
        b"Name\nA\x07da\n",
        "NAME!A2: name must not hold control characters",
    ),
}


def files() -> dict[str, bytes]:
    """Return every broken file's name and content."""
    books = {f"{stem}.xlsx": broken_book(changes) for stem, (changes, _) in WORKBOOKS.items()}
    return books | {name: data for name, (data, _) in OTHERS.items()}


def expected() -> dict[str, str]:
    """Return the one fault of every file, as a user reads it."""
    books = {f"{stem}.xlsx": fault for stem, (_, fault) in WORKBOOKS.items()}
    return books | {name: fault.replace("NAME", name) for name, (_, fault) in OTHERS.items()}


def broken_book(changes: dict[str, Any]) -> bytes:
    """Return the small evening's workbook after some changes."""
    book = Workbook()
    del book["Sheet"]
    for title, rows in BASE.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    for place, value in changes.items():
        if place == WITHOUT:
            del book[value]
        elif place == RENAMED:
            book[value[0]].title = value[1]
        elif place in {ONLY_HEADER, EMPTY}:
            book[value].delete_rows(1 if place == EMPTY else 2, 50)
        else:
            title, _, cell = place.partition("!")
            column, row = coordinate_from_string(cell)
            cell = book[title][f"{column}{row}"]
            cell.value = value.value if isinstance(value, Number) else value
            if isinstance(value, Number):
                cell.number_format = value.shown_as
    return workbook_bytes(book)


if __name__ == "__main__":
    HERE.mkdir(exist_ok=True)
    for old in HERE.iterdir():
        old.unlink()
    for name, data in files().items():
        write_whole(HERE / name, data)
    text = json.dumps(expected(), ensure_ascii=False, indent=1, sort_keys=True) + "\n"
    write_whole(HERE / "expected.json", text.encode())
