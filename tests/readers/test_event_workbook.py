"""Event workbooks: what is typed is what is planned, and nothing wrong slips through."""

from __future__ import annotations

import datetime as dt
import time
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from reader_books import faults, read, saved, small_sheets

from scheduler.domain.errors import BadInput
from scheduler.domain.event import (
    Emphasis,
    Event,
    Here,
    Kind,
    Mixing,
    SpareCourt,
    Strength,
    Wish,
    WishKind,
)
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.readers.event_workbook import read_event

SAMPLES = Path(__file__).parents[2] / "sample_data"


def test_the_sample_evening_is_read_as_it_was_invented() -> None:
    """22 people, 5 courts of which one opens at 19:00, 8 rounds that fill 18:30 to 21:15."""
    result = read_event(SAMPLES / "club_evening.xlsx")
    event = result.event
    assert result.warnings == ()
    assert (len(event.players), len(event.courts), len(event.rounds)) == (22, 5, 8)
    assert [court.opens for court in event.courts] == [None, None, None, None, 19 * 60]
    assert (event.start, event.rounds[-1].end, event.until) == (1110, 1275, 1275)
    assert [asked.kind for asked in event.rounds] == [Kind.DRILL] * 3 + [Kind.DOUBLES] * 5
    assert all(player.level * 2 == int(player.level * 2) for player in event.players)
    assert sum(player.arrives is not None for player in event.players) == 2
    assert sum(player.leaves is not None for player in event.players) == 1
    assert [wish.kind for wish in event.wishes] == [
        WishKind.NOT_PARTNERS,
        WishKind.NOT_PARTNERS,
        WishKind.PARTNERS_ONCE,
        WishKind.ON_COURT,
    ]
    assert [station.court for station in event.stations] == [court.name for court in event.courts]


def test_every_setting_is_read(tmp_path: Path) -> None:
    """Each setting of the Event sheet reaches the event, whatever its case and order."""
    sheets = small_sheets()
    sheets["Event"] = [
        ["VALUE", "setting"],
        ["no ad", "Game"],
        ["Match Tie-Break 10", "SET:"],
        ["First then four", "end changes"],
        ["singles", "Spare court"],
        ["1,5", "Exchange"],
        ["Meet Everyone", "Emphasis"],
        [5.0, "Changeover"],
        ["7.30 pm", "Start"],
        ["22h30", "Until"],
        [dt.date(2026, 12, 1), "Date"],
        [" Spring ", "Name *"],
        ["bring\nwater", "Notes"],
    ]
    event = read(tmp_path, sheets).event
    assert (event.name, event.date, event.notes) == ("Spring", "2026-12-01", "bring water")
    assert (event.start, event.until, event.changeover) == (19 * 60 + 30, 22 * 60 + 30, 5)
    assert (event.emphasis, event.exchange) == (Emphasis.MEET_EVERYONE, 1.5)
    assert event.spare_court is SpareCourt.SINGLES
    assert event.set_format is SetFormat.MATCH_TIE_BREAK_10
    assert event.game_format is GameFormat.NO_AD
    assert event.end_changes is EndChanges.FIRST_THEN_FOUR


def test_blank_settings_are_the_usual_ones(tmp_path: Path) -> None:
    """Only the name is needed; the rest is as the event's own defaults say, start 18:00."""
    sheets = small_sheets()
    sheets["Event"] = [["Setting", "Value"], ["Name", "Plain"], ["Emphasis", None]]
    result = read(tmp_path, sheets)
    usual = Event(name="Plain", start=1080, players=(), courts=(), rounds=())
    for field in ("date", "emphasis", "exchange", "spare_court", "set_format", "until", "start"):
        assert getattr(result.event, field) == getattr(usual, field)
    assert "Event!A1: no start is given, so the evening starts at 18:00" in result.warnings


def test_players_are_read_in_any_column_order(tmp_path: Path) -> None:
    """Columns may stand anywhere, in any case, with blank rows and columns between."""
    sheets = small_sheets()
    sheets["Players"] = [
        ["HERE", None, "level", "Side", "name", "hand", "note", "Leaves", "Arrives"],
        ["If Needed", None, "3,5", "AD", "  Jo\u0301n  ", "left", "hm", dt.time(20), "18:45"],
        [],
        [False, None, 4.0, None, "Λίδα", None, None, None, None],
        ["yes", None, None, None, "=cmd()", None, None, None, None],
    ]
    path = saved(tmp_path, sheets)
    book = openpyxl.load_workbook(path)
    book["Players"]["E5"].data_type = "s"
    book.save(path)
    jon, lida, command = read_event(path).event.players
    assert (jon.name, jon.level, jon.here) == ("J\u00f3n", 3.5, Here.IF_NEEDED)
    assert (jon.side, jon.hand, jon.note) == ("ad", "left", "hm")
    assert (jon.arrives, jon.leaves) == (18 * 60 + 45, 20 * 60)
    assert (lida.name, lida.level, lida.here) == ("Λίδα", 4.0, Here.NO)
    assert (command.name, command.level, command.level_given) == ("=cmd()", 3.75, False)


def test_a_blank_level_is_the_median_of_those_given(tmp_path: Path) -> None:
    """Of 2, 3 and 9 the median is 3; without any level it is the middle of the scale, 5.5."""
    sheets = small_sheets()
    sheets["Players"] = [["Name", "Level"], ["A", 2], ["B", 9], ["C", 3], ["D", None]]
    assert read(tmp_path, sheets).event.players[3].level == 3
    sheets["Players"] = [["Name"], ["A"], ["B"], ["C"], ["D"]]
    result = read(tmp_path, sheets)
    assert {player.level for player in result.event.players} == {5.5}
    assert "Players: no levels are given, so everybody counts as 5.5" in result.warnings


def test_rounds_follow_each_other_with_changeovers_and_breaks(tmp_path: Path) -> None:
    """Each round starts when the one before ends and people have walked; a later start waits."""
    sheets = small_sheets()
    sheets["Event"].append(["Changeover", 5])
    sheets["Rounds"] = [
        ["Kind", "Minutes", "Start", "Topic", "Levels", "Group size"],
        ["drill", "20", None, "Volleys", "Alike", 3.0],
        ["doubles", 25, None, None, None, None],
        ["pairs", 25, "20:00", None, "mixed", None],
        ["up and down", 25, None, None, None, None],
    ]
    rounds = read(tmp_path, sheets).event.rounds
    assert [asked.start for asked in rounds] == [1110, 1135, 1200, 1230]
    assert (rounds[0].topic, rounds[0].levels, rounds[0].group_size) == ("Volleys", "alike", 3)
    assert rounds[2].levels is Mixing.MIXED
    assert [asked.kind for asked in rounds[2:]] == [Kind.PAIRS, Kind.UP_AND_DOWN]


def test_times_after_midnight_belong_to_the_evening(tmp_path: Path) -> None:
    """At an evening that starts at 23:00, 00:30 and 01:00 are the night that follows."""
    sheets = small_sheets()
    sheets["Event"][2] = ["Start", "23:00"]
    sheets["Event"].append(["Until", "00:00"])
    sheets["Players"][1] = ["P", 4, "A", "23:30", "01:00"]
    sheets["Courts"][1] = ["Court 1", None, dt.time(0, 0)]
    sheets["Rounds"] = [
        ["Kind", "Minutes", "Start"],
        ["drill", 30, None],
        ["doubles", 30, "00:30"],
    ]
    result = read(tmp_path, sheets)
    event = result.event
    assert [asked.start for asked in event.rounds] == [1380, 1470]
    assert (event.players[0].arrives, event.players[0].leaves) == (1410, 1500)
    assert (event.courts[0].closes, event.until) == (1440, 1440)
    assert any("the rounds end at 01:00, 60 minutes after" in text for text in result.warnings)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        (None, None),
        (2, 2),
        ("2", 2),
        ("Court 2", ("Court 2",)),
        ("Court 2; Court 1", ("Court 2", "Court 1")),
        ("Court 1,Court 1", ("Court 1",)),
        ("Court 1\nCourt 2", ("Court 1", "Court 2")),
    ],
)
def test_courts_of_a_round_are_a_number_or_a_list(typed: Any, meant: Any, tmp_path: Path) -> None:
    """A number means so many courts, names with separators mean those, blank means all."""
    sheets = small_sheets()
    sheets["Rounds"][2] = ["doubles", 25, typed]
    assert read(tmp_path, sheets).event.rounds[1].courts == meant


def test_courts_may_be_called_by_numbers(tmp_path: Path) -> None:
    """Courts named 1 and 2 in number cells can be listed, wished for and used as stations."""
    sheets = small_sheets()
    sheets["Courts"] = [["Name"], [1], [2.0]]
    sheets["Rounds"][2] = ["doubles", 25, "2, 1"]
    sheets["Wishes"].append(["on court", "P", 2])
    sheets["Stations"] = [["Court", "Topic"], [1, "Lobs"]]
    event = read(tmp_path, sheets).event
    assert event.rounds[1].courts == ("2", "1")
    assert event.wishes[0].other == "2"
    assert event.stations[0].court == "1"


def test_wishes_of_every_kind_are_read_with_their_cell(tmp_path: Path) -> None:
    """All ten kinds arrive with strength, round and the cell they were read from."""
    sheets = small_sheets()
    sheets["Wishes"] += [
        ["Partners", "P", "Q", None, 2],
        ["partners once", "P", "R", "should"],
        ["not partners", "P", "S"],
        ["against once", "P", "T"],
        ["not same court", "P", "U"],
        ["same court", "Q", "R"],
        ["on court", "Q", "Court 2", "Must"],
        ["rests", "Q", None, None, 2.0],
        ["plays at most", "R", "3"],
        ["rounds running at most", "R", 2],
    ]
    wishes = read(tmp_path, sheets).event.wishes
    assert {wish.kind for wish in wishes} == set(WishKind)
    assert wishes[0] == Wish(WishKind.PARTNERS, "P", "Q", round=2, where="Wishes!A2")
    assert wishes[1].strength is Strength.SHOULD
    assert wishes[6].other == "Court 2"
    assert (wishes[7].other, wishes[7].round) == ("", 2)
    assert (wishes[8].number, wishes[8].other, wishes[9].number) == (3, "", 2)


def test_contradicting_musts_are_left_to_the_engine(tmp_path: Path) -> None:
    """Wishes that cannot be kept together are no fault of reading: the engine names them."""
    sheets = small_sheets()
    sheets["Wishes"] += [["partners", "P", "Q"], ["not same court", "P", "Q"]]
    assert faults(tmp_path, sheets) == []


def test_all_faults_of_all_sheets_come_at_once_in_reading_order(tmp_path: Path) -> None:
    """One fault in each sheet gives six lines, sheet by sheet; good rows raise no false alarm."""
    sheets = small_sheets()
    sheets["Event"].append(["Until", "late"])
    sheets["Players"][1] = ["P", "abc", "A"]
    sheets["Courts"].append(["Court 2"])
    sheets["Rounds"].append(["doubles", "x"])
    sheets["Wishes"] += [["rests", "P", None, None, 1], ["partners", "P", "Jo"]]
    sheets["Stations"] = [["Court"], ["Court 9"]]
    assert [fault.partition(":")[0] for fault in faults(tmp_path, sheets)] == [
        "Event!B4",
        "Players!B2",
        "Courts!A4",
        "Rounds!B4",
        "Wishes!C3",
        "Stations!A2",
    ]


def test_a_faulty_start_raises_no_false_alarms(tmp_path: Path) -> None:
    """Without a readable start no time can be judged early or late, so none is."""
    sheets = small_sheets()
    sheets["Event"][2] = ["Start", "soon"]
    sheets["Players"][1] = ["P", 4, "A", "23:00", "00:30"]
    sheets["Rounds"][1] = ["drill", 20, None, "10:00"]
    assert [fault.partition(":")[0] for fault in faults(tmp_path, sheets)] == ["Event!B3"]


def test_a_missing_sheet_raises_no_false_alarms(tmp_path: Path) -> None:
    """Wishes are not blamed for names that could not be known."""
    sheets = small_sheets()
    sheets["Wishes"].append(["on court", "P", "Court 1"])
    del sheets["Players"]
    del sheets["Courts"]
    assert [fault.partition(":")[0] for fault in faults(tmp_path, sheets)] == ["Players", "Courts"]


def test_a_players_list_alone_says_what_else_is_needed(tmp_path: Path) -> None:
    """A workbook with only Players is told of the options that make an event of it."""
    sheets = {"Players": small_sheets()["Players"]}
    assert any("--courts, --rounds and --minutes" in fault for fault in faults(tmp_path, sheets))


def test_unknown_columns_and_settings_are_warnings(tmp_path: Path) -> None:
    """What is not known is not read, and said with the nearest word that is."""
    sheets = small_sheets()
    sheets["Players"][0].append("Leevs")
    sheets["Players"][1] += [None] * 4 + ["a remark"]
    sheets["Event"].append(["Strt", "19:00"])
    sheets["Diary"] = [["anything"]]
    del sheets["Players"][0][4]
    assert set(read(tmp_path, sheets).warnings) == {
        'Event!A4: setting "Strt" is not known and was not read',
        "Players!F1: column \"Leevs\" is not known and was not read; did you mean 'Leaves'?",
        "Players!H2: stands in a column without a header, which was not read",
    }


def test_an_event_without_a_wishes_sheet_has_none_and_says_so(tmp_path: Path) -> None:
    """The Wishes sheet may be left out; the organiser is told."""
    sheets = small_sheets()
    del sheets["Wishes"]
    result = read(tmp_path, sheets)
    assert result.event.wishes == ()
    assert result.warnings == ("Wishes: there is no such sheet, so there are no wishes",)


def test_doubtful_things_are_warnings(tmp_path: Path) -> None:
    """Near-twins, people who miss every round and idle wishes are told of, not refused."""
    sheets = small_sheets()
    sheets["Players"][1:3] = [["Jon", 4, "A"], ["Jón", 4, "B"]]
    sheets["Players"][3] = ["R", 4, "A", "21:00"]
    sheets["Players"][4] = ["S", 4, "B", None, "18:55"]
    sheets["Players"][5] = ["T", 4, "B", None, "18:55"]
    sheets["Wishes"] += [
        ["rests", "U"],
        ["same court", "U", "T", None, 2],
        ["partners", "U", "T", None, 1],
        ["not partners", "U", "T"],
        ["not partners", "T", "U"],
    ]
    assert read(tmp_path, sheets).warnings == (
        'Players!A3: "Jón" is written almost like Players!A2; one person?',
        'Players!A4: "R" is there for no whole round',
        "Rounds!A3: only 3 people are there for all of round 2, too few for doubles",
        'Wishes!A2: no round is given, so "U" rests in every round',
        "Wishes!E3: 'same court' holds only in drills, not in 'doubles'",
        (
            "Wishes!E4: nobody has a partner or an opponent in a drill, so 'partners' has no "
            "effect there"
        ),
        "Wishes!A6: is the same wish as Wishes!A5",
    )


def test_groups_matter_only_to_those_who_may_be_there(tmp_path: Path) -> None:
    """Someone away in the mixed round needs no group, and "a" and "A" are one group."""
    sheets = small_sheets()
    sheets["Rounds"][2] = ["mixed", 25]
    sheets["Players"][1] = ["P", 4, None, None, "18:50"]
    sheets["Players"][2] = ["Q", 4, None, None, None, "no"]
    sheets["Players"][3] = ["R", 4, "a"]
    event = read(tmp_path, sheets).event
    assert {player.group for player in event.players[2:]} == {"a", "B"}


def test_a_mixed_round_without_a_group_column_blames_each_name(tmp_path: Path) -> None:
    """Where there is no Group column the fault stands at the player's name."""
    sheets = small_sheets()
    sheets["Rounds"][2] = ["group against group", 25]
    sheets["Players"] = [["Name"], *[[name] for name in "ABCD"]]
    found = faults(tmp_path, sheets)
    assert [fault.partition(":")[0] for fault in found] == [
        f"Players!A{row}" for row in range(2, 6)
    ]


def test_formulas_count_by_their_stored_value(tmp_path: Path) -> None:
    """A formula that Excel computed is read as its result, and one that gave "" is blank."""
    path = saved(tmp_path, small_sheets())
    _rewrite(
        path,
        '<c r="B2" t="n"><v>4</v></c>',
        '<c r="B2"><f>3+3.5</f><v>6.5</v></c>',
    )
    _rewrite(path, '<c r="B3" t="n"><v>4</v></c>', '<c r="B3" t="str"><f>""</f><v></v></c>')
    players = read_event(path).event.players
    assert (players[0].level, players[0].level_given) == (6.5, True)
    assert players[1].level_given is False


def test_a_size_claimed_wrongly_hides_no_rows(tmp_path: Path) -> None:
    """Some programs write a sheet's size as A1; all its rows are read all the same."""
    path = saved(tmp_path, small_sheets())
    _rewrite(path, '<dimension ref="A1:F7" />', '<dimension ref="A1"/>')
    assert len(read_event(path).event.players) == 6


def test_rows_at_the_far_end_of_a_sheet_cost_no_time(tmp_path: Path) -> None:
    """A stray cell in the last row Excel has neither hangs the reader nor hides the rest."""
    path = saved(tmp_path, small_sheets())
    _rewrite(
        path,
        "</sheetData>",
        '<row r="1048576"><c r="XFD1048576" t="n"><v>1</v></c></row></sheetData>',
    )
    before = time.perf_counter()
    assert len(read_event(path).event.players) == 6
    assert time.perf_counter() - before < 5


def test_a_document_that_grows_without_end_is_refused(tmp_path: Path) -> None:
    """Entities nested to expand a million times are stopped by the parser, in words."""
    path = saved(tmp_path, small_sheets())
    entities = '<!ENTITY a0 "xxxxxxxxxx">' + "".join(
        f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 9)
    )
    _rewrite(path, "<worksheet", f"<!DOCTYPE w [{entities}]><worksheet", sheet="sheet2")
    _rewrite(path, "<sheetData>", "<sheetData><x>&a8;</x>", sheet="sheet2")
    with pytest.raises(BadInput, match="cannot be read as an Excel workbook"):
        read_event(path)


def test_two_thousand_people_are_read_in_seconds_and_more_are_refused(tmp_path: Path) -> None:
    """The largest list reads quickly, wrong names in wishes included; one more is a fault."""
    sheets = small_sheets()
    sheets["Players"] = [["Name", "Level"], *[[f"Person {n}", 5] for n in range(2000)]]
    sheets["Wishes"] += [["rests", f"Parson {n}", None, None, 1] for n in range(40)]
    before = time.perf_counter()
    assert len(faults(tmp_path, sheets)) == 40
    assert time.perf_counter() - before < 20
    sheets["Players"].append(["Person 2000", 5])
    sheets["Wishes"] = sheets["Wishes"][:1]
    assert faults(tmp_path, sheets) == [
        "Players!A2002: at most 2000 rows can be read here, there are 2001"
    ]


def test_folders_missing_files_and_halves_are_told_apart(tmp_path: Path) -> None:
    """Nothing there, a folder, a plan and a file cut short each have their own sentence."""
    path = saved(tmp_path, small_sheets())
    half = tmp_path / "half.xlsx"
    half.write_bytes(path.read_bytes()[:3000])
    plan = tmp_path / "plan.json"
    plan.write_text('{"schema": "doubles-rota-plan/1"}', encoding="utf-8")
    for target, words in (
        (tmp_path / "none.xlsx", "there is no such file"),
        (tmp_path, "is a folder"),
        (half, "is not an Excel workbook"),
        (plan, "rota sheets and rota replan read it"),
    ):
        with pytest.raises(BadInput, match=words):
            read_event(target)


cell_values = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=False, allow_infinity=False),
    st.times(),
    st.dates(dt.date(1901, 1, 1), dt.date(2100, 1, 1)),
    st.timedeltas(dt.timedelta(0), dt.timedelta(days=400)),
    st.sampled_from(["must", "partners", "18:30", "24:00", "Court 1", "P", "=1/0", "#REF!", "4,5"]),
    st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=12),
)


@settings(
    max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    changes=st.lists(
        st.tuples(
            st.sampled_from(["Event", "Players", "Courts", "Rounds", "Wishes"]),
            st.integers(0, 5),
            st.integers(0, 6),
            cell_values,
        ),
        min_size=1,
        max_size=6,
    )
)
def test_whatever_is_typed_gives_an_event_or_faults(
    changes: list[tuple[str, int, int, Any]], tmp_path: Path
) -> None:
    """Random cells anywhere end in a sound event or in faults with a place, never otherwise."""
    sheets = small_sheets()
    sheets["Wishes"] += [["partners", "P", "Q"], ["plays at most", "R", 3]]
    for title, row, column, value in changes:
        rows = sheets[title]
        rows += [[] for _ in range(row + 1 - len(rows))]
        rows[row] += [None] * (column + 1 - len(rows[row]))
        rows[row][column] = value
    found = faults(tmp_path, sheets)
    assert all(fault.partition(":")[0].partition("!")[0] in sheets for fault in found)
    if not found:
        event = read(tmp_path, sheets).event
        assert all(1 <= player.level <= 10 for player in event.players)
        assert len({player.name for player in event.players}) == len(event.players)
        starts = [asked.start for asked in event.rounds]
        assert starts == sorted(starts)


def _rewrite(path: Path, old: str, new: str, sheet: str = "sheet2") -> None:
    """Change the text of one sheet inside a workbook (sheet2 is Players)."""
    with zipfile.ZipFile(path) as archive:
        entries = {name: archive.read(name) for name in archive.namelist()}
    name = f"xl/worksheets/{sheet}.xml"
    text = entries[name].decode()
    assert old in text
    entries[name] = text.replace(old, new, 1).encode()
    with zipfile.ZipFile(path, "w") as archive:
        for entry, data in entries.items():
            archive.writestr(entry, data)


# ---- the example rows of a new workbook -----------------------------------------------------


def test_example_rows_are_left_out_once_people_are_listed(tmp_path: Path) -> None:
    """Nobody called Example Person is given a place, nor the example wishes; each is told."""
    sheets = small_sheets()
    sheets["Players"][1:1] = [["Example Person", 4.5], ["Example Partner", 6]]
    sheets["Wishes"] += [
        ["not partners", "Example Person", "Example Partner", "should"],
        ["not partners", "P", "Q", "should"],
        ["plays at most", "Example Partner", 6, "should"],
    ]
    result = read(tmp_path, sheets)
    assert [player.name for player in result.event.players] == list("PQRSTU")
    assert [(wish.player, wish.other) for wish in result.event.wishes] == [("P", "Q")]
    assert [text.partition(" ")[0] for text in result.warnings] == [
        "Players!A2:", "Players!A3:", "Wishes!A2:", "Wishes!A4:"
    ]  # fmt: skip
    assert all("left out; delete the row or write over it" in text for text in result.warnings)


def test_example_wishes_go_with_the_people_who_were_written_over(tmp_path: Path) -> None:
    """Whoever replaced the two example people need not know of the example wishes."""
    sheets = small_sheets()
    sheets["Wishes"] += [["not partners", "Example Person", "Example Partner", "should"]]
    result = read(tmp_path, sheets)
    assert result.event.wishes == ()
    assert len(result.warnings) == 1


# ---- wishes that are none -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "advice"),
    [
        ("not opponents", "write not same court"),
        ("Not Against", "write not same court"),
        ("opponents", "write against once"),
        ("leaves early", "under Leaves on the Players sheet"),
        ("not partner", "did you mean 'not partners'?"),
    ],
)
def test_a_wish_that_is_none_gets_advice_that_fits(tmp_path: Path, typed: str, advice: str) -> None:
    """What sounds like another wish is not mistaken for it; a slip still gets its word."""
    sheets = small_sheets()
    sheets["Wishes"] += [[typed, "P", "Q"]]
    assert faults(tmp_path, sheets)[0].endswith(advice)


def test_a_court_that_is_not_there_is_told_with_those_that_are(tmp_path: Path) -> None:
    """No other court is offered for one of another number."""
    sheets = small_sheets()
    sheets["Wishes"] += [["on court", "P", "Court 3"]]
    assert faults(tmp_path, sheets) == [
        "Wishes!C2: no court called 'Court 3' (there are Court 1, Court 2)"
    ]
