"""The score sheet and the standings, recalculated by LibreOffice and again in Python.

Final scores of a set stand here as the rules state them, not as the program
computes them. Sources: ITF Rules of Tennis, Rule 6 (tie-break set, advantage
set); appendix "Alternative Procedures and Scoring Methods" (short sets, match
tie-breaks: first to 7 or 10 with a lead of two); the pro set to 8 with a
tie-break at 8-8 is a federation's regulation; the timed round is common
practice, no source.
"""

from __future__ import annotations

import os
import random
from dataclasses import dataclass, field
from pathlib import Path

import openpyxl
import pytest
from exporter_plans import make_plan
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import Plan
from scheduler.domain.score_text import SetScore
from scheduler.exporters.workbook import write_workbook
from scheduler.exporters.workbook.scores import HEADS, MARKS
from scheduler.readers.score_cells import Uncertain, read_pair

MEANT: dict[tuple[object, object], tuple[int, int]] = {
    ("6-4", None): (6, 4),
    ("3 \u2013 6", None): (3, 6),
    ("6/4", None): (6, 4),
    ("4:6", None): (4, 6),
    ("10\u22128\u00a0", None): (10, 8),
    ("6", " 4 "): (6, 4),
    (6, "3"): (6, 3),
}
"""Text of which it is plain what it means, for ``rota scores`` as for the sheet."""
NO_SCORES: list[tuple[object, object]] = [
    (None, None),
    (6, None),
    (None, 4),
    ("6", None),
    ("six", 2),
    (6.5, 4),
    ("6.0", 4),
    ("6-4-2", None),
    ("6-", None),
    ("-4", None),
    ("06-Apr", None),
    ("6-4", 3),
    (None, "6-4"),
    (46118, None),
    (1000, 4),
]
SHEETS = int(os.environ.get("ROTA_SCORE_SHEETS", "8"))
FIRST = {"Scores": 5, "Standings": 6}  # the first row under the heads


def _with(lows: range, *more: tuple[int, int], to: int) -> set[tuple[int, int]]:
    return {(to, low) for low in lows} | set(more)


_LONG = {(low + 2, low) for low in range(100)}
FINAL = {
    SetFormat.TIE_BREAK: _with(range(5), (7, 5), (7, 6), to=6),
    SetFormat.ADVANTAGE: _with(range(5), to=6) | {s for s in _LONG if s[0] > 6},
    SetFormat.SHORT: _with(range(3), (5, 3), (5, 4), to=4),
    SetFormat.SHORT_3_3: _with(range(3), (4, 3), to=4),
    SetFormat.MATCH_TIE_BREAK_10: _with(range(9), to=10) | {s for s in _LONG if s[0] > 10},
    SetFormat.MATCH_TIE_BREAK_7: _with(range(6), to=7) | {s for s in _LONG if s[0] > 7},
    SetFormat.PRO: _with(range(7), (9, 7), (9, 8), to=8),
}


def on_the_way(final: set[tuple[int, int]]) -> set[tuple[int, int]]:
    """Return the scores, larger number first, met on the way to a final one."""
    reached, ahead = {(0, 0)}, [(0, 0)]
    while ahead:
        a, b = ahead.pop()
        for score in ((a + 1, b), (a, b + 1)):
            larger = (max(score), min(score))
            if larger not in reached and larger not in final and max(larger) < 30:
                reached.add(larger)
                ahead.append(larger)
    return reached


def numbers(a: object, b: object) -> tuple[object, object]:
    """Return the two numbers of a typed row, by what people mean by it."""
    return MEANT.get((a, b), (a, b))


def counts(set_format: SetFormat, a: object, b: object, mark: str) -> bool:
    """Return whether a typed row counts, by the lists above."""
    if not all(isinstance(x, int) and 0 <= x <= 999 for x in (a, b)):
        return False
    if set_format is SetFormat.TIMED:
        return True
    score = (max(a, b), min(a, b))
    final = FINAL[set_format]
    return score in on_the_way(final) if mark else score in final


@dataclass
class Record:
    """One person's results, added up in plain Python."""

    key: str
    name: str
    played: int = 0
    won: int = 0
    lost: int = 0
    games: int = 0
    against: int = 0
    place: int | None = field(default=None)

    @property
    def rank(self) -> tuple[int, int, int]:
        """Order of the standings: matches won, games difference, games won."""
        return (self.won, self.games - self.against, self.games)


def standings(plan: Plan, typed: list[tuple[object, object, str]]) -> list[Record]:
    """Return the standings for typed scores, one for each match in playing order."""
    records = {p.name: Record(f"P{i:02d}", p.name) for i, p in enumerate(plan.event.players, 1)}
    for (_, match), (*cells, mark) in zip(plan.matches(), typed, strict=True):
        a, b = numbers(*cells)
        if not counts(plan.event.set_format, a, b, mark):
            continue
        winner = {"": "A" * (a > b) + "B" * (b > a), "A retired": "B", "B retired": "A"}
        for team, own, other, side in ((match.team_a, a, b, "A"), (match.team_b, b, a, "B")):
            for name in team:
                record = records[name]
                record.played += 1
                record.games += own
                record.against += other
                record.won += winner.get(mark, "") == side
                record.lost += winner.get(mark, "") not in ("", side)
    playing = [r for r in records.values() if r.played]
    for record in playing:
        record.place = 1 + sum(other.rank > record.rank for other in playing)
    resting = [r for r in records.values() if not r.played]
    return sorted(playing, key=lambda r: r.place) + resting


def typed_scores(plan: Plan, rng: random.Random) -> list[tuple[object, object, str]]:
    """Return a row of typing for each match: mostly good, some of it wrong or missing."""
    final = sorted(FINAL.get(plan.event.set_format, {(a, b) for a in range(9) for b in range(9)}))
    likely = [score for score in final if score[0] < 30]
    rows: list[tuple[object, object, str]] = []
    for _ in plan.matches():
        kind = rng.random()
        if kind < 0.6:
            score = rng.choice(likely)
            rows.append((*(score if rng.random() < 0.5 else score[::-1]), ""))
        elif kind < 0.75:
            rows.append((rng.randint(0, 11), rng.randint(0, 11), rng.choice(MARKS)))
        elif kind < 0.9:
            rows.append((rng.randint(0, 11), rng.randint(0, 11), ""))
        else:
            rows.append((*rng.choice([*MEANT, *NO_SCORES]), ""))
    return rows


def type_in(path: Path, typed: list[tuple[object, object, str]]) -> None:
    """Type scores into a written workbook, as a person would, and save it."""
    book = openpyxl.load_workbook(path)
    sheet = book["Scores"]
    for row, (a, b, mark) in enumerate(typed, start=FIRST["Scores"]):
        sheet.cell(row, 6).value, sheet.cell(row, 7).value = a, b
        sheet.cell(row, 9).value = mark or None
    book.save(path)


def rows_of(sheet: Worksheet, width: int, count: int) -> list[tuple[object, ...]]:
    """Return so many rows of values from the first under the heads."""
    first = FIRST[sheet.title]
    return list(sheet.iter_rows(first, first + count - 1, 1, width, values_only=True))


@pytest.fixture(scope="module")
def recalculated(tmp_path_factory: pytest.TempPathFactory, soffice):
    """Return random score sheets with hostile names, recalculated by LibreOffice."""
    tmp_path = tmp_path_factory.mktemp("scores")
    cases, paths = [], []
    special = [*MEANT, *NO_SCORES]
    large = (101, 99)
    for number in range(SHEETS):
        rng = random.Random(number)
        set_format = list(SetFormat)[number % len(SetFormat)]
        plan = make_plan(
            rng.randint(9, 24), 3, 0, 5, seed=number, hostile=True, set_format=set_format
        )
        path = tmp_path / f"scores {number}.xlsx"
        write_workbook(plan, path)
        typed = typed_scores(plan, rng)
        odd, special = special[: len(typed)], special[len(typed) :]
        typed[: len(odd)] = [(*cells, "") for cells in odd]
        if large in FINAL.get(set_format, {}):
            typed[-1] = (*large, "")
        type_in(path, typed)
        cases.append((plan, typed))
        paths.append(path)
    out = tmp_path / "recalculated"
    soffice(paths, "xlsx", out)
    books = [openpyxl.load_workbook(out / path.name, data_only=True) for path in paths]
    return [(plan, typed, book) for (plan, typed), book in zip(cases, books, strict=True)]


def test_recalculated_standings_equal_those_added_up_in_python(recalculated) -> None:
    """LibreOffice's standings are Python's, row by row, whatever people are called."""
    assert len(recalculated) == SHEETS
    for plan, typed, book in recalculated:
        shown = rows_of(book["Standings"], 10, len(plan.event.players))
        for record, row in zip(standings(plan, typed), shown, strict=True):
            place, name, played, won, lost, neither, games, against, difference, share = row
            assert (place or None) == record.place
            if len(record.name) <= 40:
                assert name == record.name.strip()
            else:
                assert name.endswith(record.key)
            assert (played, won, lost) == (record.played, record.won, record.lost)
            assert neither == played - won - lost
            assert (games, against) == (record.games, record.against)
            assert difference == games - against
            total = games + against
            assert (share or 0) == pytest.approx(games / total if total else 0)


def test_rows_that_do_not_count_say_why_and_others_say_nothing(recalculated) -> None:
    """A row is flagged just when it has something typed that is not counted."""
    flagged = 0
    for plan, typed, book in recalculated:
        rows = rows_of(book["Scores"], len(HEADS), len(typed))
        for (a, b, mark), row in zip(typed, rows, strict=True):
            is_wrong = (a, b) != (None, None) and not counts(
                plan.event.set_format, *numbers(a, b), mark
            )
            assert bool(row[-1]) == is_wrong, (plan.event.set_format, a, b, mark, row[-1])
            flagged += is_wrong
    assert flagged > 20


def test_text_is_told_with_what_to_do(recalculated) -> None:
    """Each odd row says in words that fit it why it does not count."""
    told = {
        (a, b): row[-1]
        for _, typed, book in recalculated
        for (a, b, _), row in zip(
            typed, rows_of(book["Scores"], len(HEADS), len(typed)), strict=True
        )
    }
    two = "two whole numbers from 0 to 999 count here"
    text = "text: two numbers from 0 to 999 count here"
    date = "not a score: if it was made a date, type two numbers"
    assert {cells: told[cells] for cells in NO_SCORES if told[cells]} == {
        **dict.fromkeys([(6, None), (None, 4), ("6", None), ("-4", None)], "one score is missing"),
        **dict.fromkeys([("six", 2), (6.5, 4), ("6.0", 4), ("6-4", 3)], two),
        **dict.fromkeys([("6-4-2", None), ("6-", None), ("06-Apr", None), (None, "6-4")], text),
        **dict.fromkeys([(46118, None), (1000, 4)], date),
    }


@pytest.mark.parametrize(("cells", "score"), MEANT.items())
def test_what_the_sheet_counts_the_reader_takes(cells, score) -> None:
    """As the same score."""
    assert read_pair(*cells) == (SetScore(*score),)


@pytest.mark.parametrize("cells", NO_SCORES[1:])
def test_what_is_no_score_in_the_sheet_is_none_for_the_reader(cells) -> None:
    """It is a fault there."""
    with pytest.raises(Uncertain):
        read_pair(*cells)


def test_names_are_still_text_after_libreoffice(recalculated) -> None:
    """No hostile name became a formula, an error, a number or a truth value on the way."""
    for plan, _, book in recalculated:
        shown = {row[1] for row in rows_of(book["Standings"], 2, len(plan.event.players))}
        short = {p.name.strip() for p in plan.event.players if len(p.name) <= 40}
        assert short <= shown
        keys = {cell.value for cell in book["Players"]["A"]}
        assert {"P01", "P09"} <= keys
