"""A season as a workbook and back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from season_plans import PEOPLE, everything, plan_of, rows, scores_for

from scheduler.domain.errors import BadInput
from scheduler.domain.score_text import Mark, SetScore
from scheduler.exporters import table_files
from scheduler.season.naming import PublicNames, merge, rename, set_public_names
from scheduler.season.recording import Options, record
from scheduler.workflow.season_tables import export_season, import_season

HOSTILE = [
    "=1+1",
    "@home",
    "'quoted",
    "דנה לוי",
    "山田 太郎",
    "_x0041_",
    "007",
    "1e5",
    "TRUE",
    "a\u00a0b",
]


def full_season(path: Path, names: list[str] | None = None) -> None:
    """Make a season with all that a season can hold."""
    people = names or list(PEOPLE)
    plan = plan_of(1, names=people)
    typed = scores_for(plan)
    record(path, plan, typed, source="=evil.xlsx")
    record(path, plan, [replace(typed[0], sets=(SetScore(3, 2),), mark=Mark.UNFINISHED)])
    record(path, plan, [], options=Options(withdraw=("R3C1",)))
    other = plan_of(2, names=["Zoltan Twig", *people[1:]])
    record(path, other, scores_for(other))
    merge(path, "Zoltan Twig", people[0])
    rename(path, people[1], "Renamed Person")
    set_public_names(path, PublicNames.SHORT, {people[2]: "Chi", people[3]: ""})


@pytest.mark.parametrize("names", [None, HOSTILE])
def test_a_season_comes_back_row_for_row(tmp_path: Path, names: list[str] | None) -> None:
    """Every row of every table, plan documents included, with hostile names too."""
    first, again, book = tmp_path / "a.db", tmp_path / "b.db", tmp_path / "season.xlsx"
    full_season(first, names)
    export_season(first, book)
    import_season(book, again)
    assert everything(again) == everything(first)
    assert rows(again, "PRAGMA user_version") == rows(first, "PRAGMA user_version")
    assert rows(again, "PRAGMA application_id") == rows(first, "PRAGMA application_id")


def test_long_tables_go_on_in_further_sheets(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sheet holds only so many rows; none is lost."""
    first, again, book = tmp_path / "a.db", tmp_path / "b.db", tmp_path / "season.xlsx"
    full_season(first)
    monkeypatch.setattr(table_files, "MOST_ROWS", 7)
    export_season(first, book)
    import_season(book, again)
    assert everything(again) == everything(first)


def test_an_imported_season_goes_on(tmp_path: Path) -> None:
    """Recording the same evening again adds nothing; a new one is added."""
    first, again, book = tmp_path / "a.db", tmp_path / "b.db", tmp_path / "season.xlsx"
    plan = plan_of(1)
    record(first, plan, scores_for(plan))
    export_season(first, book)
    import_season(book, again)
    assert record(again, plan, scores_for(plan)).unchanged == 6
    assert record(again, plan_of(2)).new_evening


def test_a_season_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    """Import makes a new file."""
    first, book = tmp_path / "a.db", tmp_path / "season.xlsx"
    full_season(first)
    before = everything(first)
    export_season(first, book)
    with pytest.raises(BadInput, match="is there already"):
        import_season(book, first)
    assert everything(first) == before


@pytest.mark.parametrize(
    ("sheet", "cell", "value", "says"),
    [
        ("data scores", None, None, "data scores: must have"),
        ("data contents", None, None, "no exported season"),
        ("data meetings", "D2", 9999, "names a row of 'people' that is not there"),
        ("data scores", "B2", "=1+1", "holds a formula"),
        ("data plan documents", "C2", "damaged", "is damaged"),
        ("data presence", "E1", "nom", "must have the columns"),
        ("data meetings", "E2", -3, "cannot be taken"),
    ],
)
def test_a_damaged_workbook_makes_no_season(
    tmp_path: Path, sheet: str, cell: str | None, value: object, says: str
) -> None:
    """Sheets missing, references broken, cells changed: said with the place, nothing written."""
    first, again, path = tmp_path / "a.db", tmp_path / "b.db", tmp_path / "season.xlsx"
    full_season(first)
    export_season(first, path)
    book = openpyxl.load_workbook(path)
    if cell is None:
        del book[sheet]
    else:
        book[sheet][cell] = value
    book.save(path)
    with pytest.raises(BadInput) as refused:
        import_season(path, again)
    assert says in str(refused.value)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.db", "season.xlsx"]
