"""Score tables wherever they stand, and score lines among other words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from scheduler.domain.errors import BadInput
from scheduler.domain.score_text import Mark, ScoreLine, SetScore
from scheduler.readers.score_lines import read_score_lines
from scheduler.readers.score_sheet import ScoreSheet, read_score_csv, read_score_workbook

Rows = list[list[Any]]
HEAD = ["Match", "Score A", "Score B", "If cut short"]


def saved(folder: Path, **sheets: Rows) -> Path:
    """Write sheets into a workbook."""
    book = Workbook()
    del book["Sheet"]
    for title, rows in sheets.items():
        sheet = book.create_sheet(title.replace("_", " "))
        for row in rows:
            sheet.append(row)
    path = folder / "typed.xlsx"
    book.save(path)
    return path


def found(sheet: ScoreSheet) -> dict[str, str]:
    """Return the scores by match."""
    return {row.match: " ".join(map(str, row.sets)) for row in sheet.rows}


def test_heads_are_found_below_other_lines_and_in_any_order(tmp_path: Path) -> None:
    """Columns moved, lines above, columns nobody knows."""
    path = saved(
        tmp_path,
        Scores=[
            ["Links", "to", "sheets"],
            [],
            ["Club evening"],
            ["score b", "Remarks", "MATCH", "Score A *"],
            [4, "windy", "R1C1", 6],
            [None, None, "R1C2"],
        ],
    )
    assert found(read_score_workbook(path)) == {"R1C1": "6-4", "R1C2": ""}


def test_a_renamed_sheet_is_found_by_its_heads(tmp_path: Path) -> None:
    """Among sheets that are not score tables."""
    path = saved(tmp_path, Evening=[["Court 1"]], Punkte=[HEAD, ["R1C1", 6, 4]])
    assert found(read_score_workbook(path)) == {"R1C1": "6-4"}


def test_a_copy_of_the_sheet_is_named_and_two_strange_ones_are_a_fault(tmp_path: Path) -> None:
    """The sheet called Scores goes first; without it nobody can know."""
    path = saved(tmp_path, Scores=[HEAD, ["R1C1", 6, 4]], Scores_2=[HEAD, ["R1C1", 1, 6]])
    sheet = read_score_workbook(path)
    assert found(sheet) == {"R1C1": "6-4"}
    assert "'Scores 2'" in sheet.remarks[0]
    path = saved(tmp_path, One=[HEAD, ["R1C1", 6, 4]], Two=[HEAD])
    with pytest.raises(BadInput, match="'One', 'Two' all hold scores"):
        read_score_workbook(path)


def test_a_missing_column_is_told_with_the_nearest(tmp_path: Path) -> None:
    """At the head that may be meant."""
    path = saved(tmp_path, Scores=[["Match", "Score A", "Scores B"], ["R1C1", 6, 4]])
    with pytest.raises(BadInput, match=r"Scores!C1: the column 'Score B' is missing; is it"):
        read_score_workbook(path)
    path = saved(tmp_path, Scores=[[*HEAD, "Score A"]])
    with pytest.raises(BadInput, match=r"Scores!E1: there are two columns called 'Score A'"):
        read_score_workbook(path)
    path = saved(tmp_path, Evening=[["Court 1"]])
    with pytest.raises(BadInput, match="no table of scores"):
        read_score_workbook(path)


def test_every_faulty_cell_is_told_and_sound_rows_are_read(tmp_path: Path) -> None:
    """Each with its own cell."""
    path = saved(
        tmp_path,
        Scores=[HEAD, ["R1C1", 6, "x"], ["R1C2", 6, 4, "rain"], ["R1C3", 6, 3, "A retired"]],
    )
    sheet = read_score_workbook(path)
    assert [str(fault) for fault in sheet.findings.faults] == [
        'Scores!C2: score b must be a whole number from 0 to 999, got "x"',
        'Scores!D3: if cut short must be unfinished, A retired or B retired, got "rain"',
    ]
    assert [(row.match, row.mark) for row in sheet.rows] == [("R1C3", Mark.A_RETIRED)]


def test_csv_with_one_column_for_the_score(tmp_path: Path) -> None:
    """Semicolons, as some spreadsheets write them, and a line above."""
    path = tmp_path / "typed.csv"
    path.write_text("Club evening;;\nRound;Court;Score\n1;Court 1;6-4\n1;Court 2;\n")
    sheet = read_score_csv(path)
    assert [(row.round, row.court, row.sets) for row in sheet.rows] == [
        ("1", "Court 1", (SetScore(6, 4),)),
        ("1", "Court 2", ()),
    ]


def test_a_file_that_is_no_table_is_a_fault(tmp_path: Path) -> None:
    """Not a traceback."""
    path = tmp_path / "typed.csv"
    path.write_text("hello\n")
    with pytest.raises(BadInput, match="no table of scores"):
        read_score_csv(path)
    with pytest.raises(BadInput, match="no such file"):
        read_score_workbook(tmp_path / "none.xlsx")


def test_lines_are_found_in_a_message() -> None:
    """Behind a messenger's time and name, quoted, or plain; other words are left aside."""
    line = ScoreLine("3f2a9c1b7d4e", "R4C2", (SetScore(6, 4), SetScore(3, 6)), Mark.UNFINISHED)
    text = f"Hi all\n[03/12, 21:10] Ana: {line}\n> {line}\nrota is fun?\n{line} # Court 2"
    found = read_score_lines(text, "chat.txt")
    assert [(p.line.match, p.line.sets, p.line.mark) for p in found.lines] == [
        ("R4C2", line.sets, Mark.UNFINISHED)
    ] * 3
    assert [fault.where for fault in found.faults] == ["chat.txt line 4"]
