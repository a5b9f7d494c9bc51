"""Players lists: csv in the encodings people have, workbooks with one sheet."""

from __future__ import annotations

import string
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from reader_books import saved, small_sheets

from scheduler.domain.errors import BadInput
from scheduler.domain.event import Event, Kind
from scheduler.readers.assembly import ReadEvent
from scheduler.readers.players_list import event_from_players

SIXTEEN = Path(__file__).parents[2] / "sample_data" / "sixteen.csv"


def listed(folder: Path, data: bytes, name: str = "players.csv") -> ReadEvent:
    """Write a players list and read it as two courts, three rounds of 20 minutes from 18:30."""
    path = folder / name
    path.write_bytes(data)
    return event_from_players(path, 2, 3, 20, "18:30", None)


def faults_if_any(folder: Path, data: bytes) -> list[str]:
    """Return the faults of a list, none if it is sound."""
    try:
        listed(folder, data)
    except BadInput as error:
        return [str(fault) for fault in error.faults] or ["bad input without a fault"]
    return []


def test_the_sample_list_makes_six_doubles_rounds() -> None:
    """16 people, 4 courts and 6 rounds of 20 minutes, one after the other."""
    event = event_from_players(SIXTEEN, 4, 6, 20, "18:00", None).event
    assert (event.name, len(event.players)) == ("sixteen", 16)
    assert [court.name for court in event.courts] == [f"Court {n}" for n in range(1, 5)]
    assert {asked.kind for asked in event.rounds} == {Kind.DOUBLES}
    assert [asked.start for asked in event.rounds] == [1080 + 20 * n for n in range(6)]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_encodings_and_delimiters_are_found_out(
    encoding: str, delimiter: str, tmp_path: Path
) -> None:
    """The same list is read the same in each encoding with each delimiter, decimal commas too."""
    rows = [["Name", "Level"], ["Zoë Šmíd", '"3,5"'], ["Zoë's twin", "4.5"]]
    text = "\r\n".join(delimiter.join(row) for row in rows) + "\r\n"
    if encoding == "cp1252":
        text = text.replace("í", "i")
    event = listed(tmp_path, text.encode(encoding)).event
    assert [player.level for player in event.players] == [3.5, 4.5]
    assert event.players[0].name == ("Zoë Šmid" if encoding == "cp1252" else "Zoë Šmíd")


def test_quotes_blank_lines_and_a_separator_line_are_understood(tmp_path: Path) -> None:
    """Names may hold delimiters and quotes; blank lines count as rows; ``sep=`` is obeyed."""
    text = 'sep=;\r\nLevel;Name\r\n\r\n4;"Doe; ""Jo"""\r\n;;\r\nx;Al\r\n'
    assert faults_if_any(tmp_path, text.encode()) == [
        'players.csv!A5: level must be a number from 1 to 10, got "x"'
    ]
    event = listed(tmp_path, text.replace("x", "5").encode()).event
    assert [player.name for player in event.players] == ['Doe; "Jo"', "Al"]


def test_presence_and_groups_come_from_the_list_too(tmp_path: Path) -> None:
    """Every column of the Players sheet may stand in the list."""
    text = "name,group,arrives,leaves,here,side\nAl,W,18:50,19:20,if needed,ad\nBo,M,,,,\n"
    player = listed(tmp_path, text.encode()).event.players[0]
    assert (player.group, player.arrives, player.leaves) == ("W", 1130, 1160)
    assert (player.here, player.side) == ("if needed", "ad")


@pytest.mark.parametrize("title", ["Players", "Sheet1"])
def test_a_workbook_with_one_sheet_is_a_list(title: str, tmp_path: Path) -> None:
    """The only sheet of a workbook is the list, whatever it is called."""
    path = saved(tmp_path, {title: small_sheets()["Players"]})
    assert len(event_from_players(path, 1, 1, 20, "18:00", "Named").event.players) == 6


def test_a_workbook_with_other_sheets_needs_one_called_players(tmp_path: Path) -> None:
    """Among several sheets only Players counts, and without it nothing is guessed."""
    sheets = small_sheets()
    assert event_from_players(saved(tmp_path, sheets), 1, 1, 20, "18:00", None).event.wishes == ()
    del sheets["Players"]
    with pytest.raises(BadInput, match="no sheet called 'Players'"):
        event_from_players(saved(tmp_path, sheets), 1, 1, 20, "18:00", None)


def test_faults_of_options_and_of_the_list_come_together(tmp_path: Path) -> None:
    """Bad numbers, a bad start and a bad level are told at once, options first."""
    path = tmp_path / "list.csv"
    path.write_text("Name,Level\nAl,zero\n", encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        event_from_players(path, 0, 101, 1000, "six", None)
    assert [fault.where for fault in caught.value.faults] == [
        "--courts",
        "--rounds",
        "--minutes",
        "--start",
        "list.csv!B2",
    ]


def test_more_than_a_day_of_rounds_is_refused() -> None:
    """Rounds that would run past the next day's start are a fault of the minutes."""
    with pytest.raises(BadInput, match="--minutes: round 15 ends more than a day after the start"):
        event_from_players(SIXTEEN, 4, 20, 100, "18:00", None)


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    data=st.binary(max_size=60)
    | st.text(alphabet=string.printable, max_size=80).map(
        lambda text: b"Name,Level\n" + text.encode()
    )
)
def test_any_bytes_give_an_event_or_faults(data: bytes, tmp_path: Path) -> None:
    """Whatever a file holds, reading it ends in an event or in `BadInput` with places."""
    found = faults_if_any(tmp_path, data)
    assert all(fault.startswith("players.csv") for fault in found)
    if not found:
        assert isinstance(listed(tmp_path, data).event, Event)
