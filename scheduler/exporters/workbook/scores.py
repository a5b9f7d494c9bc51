"""Where scores are typed: one row a match, two whole numbers, wrong ones flagged at once.

Only the two score cells and the mark for a match that did not finish can be
typed into. Columns right of the print area hold the workings that the
standings add up; they go by short keys, never by names.

A score counts when it is a finished set of the event's format (ITF Rules 5b
and 6; appendix "Alternative Procedures and Scoring Methods"), or when the
match is marked unfinished or retired and the score is on the way to one.

A match somebody never came to counts for nobody: its row takes no score and
says so.

Text that was pasted in counts where it is plain, as it does for ``rota
scores``: ``6-4`` in the first cell, ``6`` and ``4`` in both.
"""

from __future__ import annotations

from dataclasses import dataclass

from openpyxl.formatting.rule import Rule
from openpyxl.styles import Font, PatternFill
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from scheduler.domain.formats import SetFormat
from scheduler.domain.score_text import MOST
from scheduler.exporters.text import join
from scheduler.exporters.view import Place
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import Look

SCORES = "Scores"
SCORE_WIDTHS: list[float] = [9, 8, 13, 14, 34, 9, 9, 34, 14, 32]
HEADS = (
    "Match",
    "Round",
    "Time",
    "Court",
    "Team A",
    "Score A",
    "Score B",
    "Team B",
    "If cut short",
    "Not counted because",
)
UNFINISHED, A_RETIRED, B_RETIRED = "unfinished", "A retired", "B retired"
MARKS = (UNFINISHED, A_RETIRED, B_RETIRED)
_WORKINGS = (
    "a1", "a2", "b1", "b2", "text a", "text b", "a", "b", "whole", "more", "less", "done", "mark",
    "counts", "a won", "b won", "a games", "b games",
)  # fmt: skip
_FIRST_WORKING = len(HEADS) + 2
_DASHES = ("\u2010", "\u2013", "\u2014", "\u2212", "/", ":")  # typed for the hyphen of 6-4
_NO_BREAK = "\u00a0"
_FLAG = "FFC266"
_TALL = 24.0  # points: room to write by hand
_ROW = "{row}"  # filled in by str.format


def column_of(working: str) -> str:
    """Return the letter of the column that holds a working."""
    return get_column_letter(_FIRST_WORKING + _WORKINGS.index(working))


@dataclass(frozen=True, slots=True)
class ScoreRows:
    """The rows the typed scores stand in; the standings add these up.

    `closed` is how many of them take no score.
    """

    first: int
    last: int
    closed: int = 0

    @property
    def count(self) -> int:
        """How many matches can count."""
        return self.last - self.first + 1 - self.closed

    def range(self, working: str) -> str:
        """Return the absolute address of a working's cells, with the sheet's name."""
        letter = column_of(working)
        return f"{SCORES}!${letter}${self.first}:${letter}${self.last}"


def write_scores(sheet: Sheet) -> ScoreRows:
    """Lay out the score sheet and return where its rows are."""
    view = sheet.view
    sheet.heading(
        "Scores",
        f"{view.play} Type the two scores of each match; a match that could not be finished "
        "gets its score and a mark.",
    )
    _working_heads(sheet)
    sheet.head(HEADS)
    first = sheet.row
    for place in view.matches():
        _write_match(sheet, place)
    closed = sum(1 for place in view.matches() if place.note)
    rows = ScoreRows(first, sheet.row - 1, closed)
    _guard(sheet, rows)
    sheet.finish(landscape=True, freeze_columns=1)
    return rows


def _working_heads(sheet: Sheet) -> None:
    for offset, working in enumerate(_WORKINGS):
        sheet.text(_FIRST_WORKING + offset, working, Look.WORKING)


def _write_match(sheet: Sheet, place: Place) -> None:
    first, second = (join((seat.person.label for seat in side), " & ") for side in place.sides)
    cells = [
        (1, place.key, Look.CELL),
        (2, str(place.round.number), Look.CELL),
        (3, place.round.times, Look.CELL),
        (4, place.court, Look.CELL),
        (5, first, Look.NAME),
        (8, second, Look.NAME),
    ]
    for column, value, look in cells:
        sheet.text(column, value, look)
    if place.note:
        _close_entry(sheet, place.note)
    else:
        _open_entry(sheet)
        _write_workings(sheet, place)
    sheet.fit_height(cells, least=_TALL)
    sheet.row += 1


def _open_entry(sheet: Sheet) -> None:
    """Lay out what is typed into, and what is said about it."""
    for column in (6, 7):
        sheet.blank(column, Look.ENTRY)
    sheet.blank(9, Look.ENTRY_TEXT)
    sheet.formula(10, _complaint(sheet).format(row=sheet.row), Look.WARNING)


def _close_entry(sheet: Sheet, note: str) -> None:
    """Take no score and say why; without workings the row neither counts nor asks for a look."""
    for column in (6, 7, 9):
        sheet.blank(column, Look.UNUSED)
    sheet.text(10, note, Look.UNUSED)


def _write_workings(sheet: Sheet, place: Place) -> None:
    keys = [seat.person.key for seat in place.seats]
    for offset, key in enumerate(keys):
        sheet.text(_FIRST_WORKING + offset, key, Look.WORKING)
    formulas = _formulas(sheet.view.set_format)
    for offset, working in enumerate(_WORKINGS[len(keys) :], start=len(keys)):
        formula = formulas[working].format(row=sheet.row)
        sheet.formula(_FIRST_WORKING + offset, formula, Look.WORKING)


def _formulas(set_format: SetFormat) -> dict[str, str]:
    """Return the workings of one row, with ``{row}`` where its number goes."""
    at = {working: f"{column_of(working)}{_ROW}" for working in _WORKINGS}
    a, b, mark = at["a"], at["b"], f"I{_ROW}"
    more, less = at["more"], at["less"]
    whole = f"AND({a}>=0,{b}>=0,{a}=INT({a}),{b}=INT({b}),{a}<={MOST},{b}<={MOST})"
    by_mark = f'IF({mark}="{B_RETIRED}",3,9)'
    by_mark = f'IF({mark}="{A_RETIRED}",2,{by_mark})'
    by_mark = f'IF({mark}="{UNFINISHED}",1,{by_mark})'
    cut_short = f"AND({at['mark']}<9,{at['done']}=0,{_on_the_way(set_format, more, less)})"
    if set_format is SetFormat.TIMED:
        cut_short = f"{at['mark']}<9"
    return {
        **_numbers(at),
        "whole": f"IF(COUNT({a},{b})=2,IF({whole},1,0),0)",
        "more": f"IF({at['whole']}=1,MAX({a},{b}),0)",
        "less": f"IF({at['whole']}=1,MIN({a},{b}),0)",
        "done": f"IF({at['whole']}=1,IF({_finished(set_format, more, less)},1,0),0)",
        "mark": f'IF({mark}="",0,{by_mark})',
        "counts": f"IF({at['whole']}=1,IF({at['mark']}=0,{at['done']},IF({cut_short},1,0)),0)",
        "a won": _won(at, f"{a}>{b}", 3),
        "b won": _won(at, f"{b}>{a}", 2),
        "a games": f"IF({at['counts']}=1,{a},0)",
        "b games": f"IF({at['counts']}=1,{b},0)",
    }


def _numbers(at: dict[str, str]) -> dict[str, str]:
    """Return the workings that make two numbers of what was typed, or blanks."""
    text_a, text_b = at["text a"], at["text b"]
    dash = f'FIND("-",{text_a})'
    before, after = f"LEFT({text_a},{dash}-1)", f"MID({text_a},{dash}+1,9)"
    is_alone = f'AND({text_b}="",ISNUMBER({dash}))'
    return {
        "text a": _plain(f"F{_ROW}"),
        "text b": _plain(f"G{_ROW}"),
        "a": f"IF(ISNUMBER(F{_ROW}),F{_ROW},IF({is_alone},{_digits(before)},{_digits(text_a)}))",
        "b": f"IF(ISNUMBER(G{_ROW}),G{_ROW},IF({is_alone},{_digits(after)},{_digits(text_b)}))",
    }


def _plain(cell: str) -> str:
    """Return the formula for a cell's content as text, without blanks, with hyphens for dashes."""
    text = f'SUBSTITUTE(SUBSTITUTE({cell}&""," ",""),"{_NO_BREAK}","")'
    for dash in _DASHES:
        text = f'SUBSTITUTE({text},"{dash}","-")'
    return text


def _digits(text: str) -> str:
    """Return the formula for the number that a text of nothing but digits is, else a blank."""
    return f'IFERROR(IF(TEXT(VALUE({text}),"0")={text},VALUE({text}),""),"")'


def _won(at: dict[str, str], ahead: str, mark: int) -> str:
    """Return whether a team won: ahead in a finished match, or the others retired."""
    return f"IF({at['counts']}=1,IF({at['mark']}=0,IF({ahead},1,0),IF({at['mark']}={mark},1,0)),0)"


def _finished(set_format: SetFormat, more: str, less: str) -> str:
    """Return the condition that a score, given as its larger and smaller number, is final."""
    points = set_format.only_tie_break_to
    goal = points or set_format.games_to_win
    if goal is None:
        return "TRUE"
    ways = [f"AND({more}={goal},{less}<={goal - 2})"]
    tie_break = set_format.tie_break_at
    if tie_break is None:
        ways.append(f"AND({more}>{goal},{more}-{less}=2)")
    else:
        ways.append(f"AND({more}={tie_break + 1},{less}={tie_break})")
    if tie_break == goal:
        ways.append(f"AND({more}={goal + 1},{less}={goal - 1})")
    return f"OR({','.join(ways)})"


def _on_the_way(set_format: SetFormat, more: str, less: str) -> str:
    """Return the condition that a score can occur before the set is over."""
    goal = set_format.only_tie_break_to or set_format.games_to_win
    if goal is None:
        return "TRUE"
    tie_break = set_format.tie_break_at
    close = f"{more}-{less}<=1"
    if tie_break is not None:
        close = f"AND({close},{more}<={tie_break})"
    return f"OR({more}<{goal},{close})"


def _complaint(sheet: Sheet) -> str:
    """Return the formula that says what is wrong with a row, or nothing."""
    at = {working: f"{column_of(working)}{_ROW}" for working in _WORKINGS}
    name = sheet.view.set_format.words
    cut = (
        f'IF({at["mark"]}=9,"mark: {UNFINISHED}, {A_RETIRED} or {B_RETIRED}",'
        f'IF({at["done"]}=1,"the score is final: clear the mark",'
        f'"no such score in a {name}"))'
    )
    number_alone = f'{_digits(at["text a"])}<>"",{_digits(at["text b"])}<>""'
    no_numbers = (
        f'IF(AND(F{_ROW}<>"",G{_ROW}<>""),"two whole numbers from 0 to {MOST} count here",'
        f'IF(OR({number_alone}),"one score is missing",'
        f'"text: two numbers from 0 to {MOST} count here"))'
    )
    return (
        f'IF(AND(F{_ROW}="",G{_ROW}=""),IF(I{_ROW}="","","type the score as it stood"),'
        f'IF(MAX(F{_ROW}:G{_ROW})>{MOST},"not a score: if it was made a date, type two numbers",'
        f"IF({at['whole']}=0,{no_numbers},"
        f'IF({at["counts"]}=1,"",'
        f'IF({at["mark"]}=0,"not a finished {name}",{cut})))))'
    )


def _guard(sheet: Sheet, rows: ScoreRows) -> None:
    """Let only whole numbers and marks in, lock the rest, and flag rows that do not count."""
    ws, span = sheet.ws, f"{rows.first}:{{}}{rows.last}"
    numbers = DataValidation(
        type="whole",
        operator="between",
        formula1="0",
        formula2=str(MOST),
        allow_blank=True,
        showErrorMessage=True,
        errorTitle="Score",
        error=f"A score is a whole number from 0 to {MOST}.",
    )
    numbers.add(f"F{span.format('G')}")
    marks = DataValidation(
        type="list",
        formula1='"{}"'.format(",".join(MARKS)),
        allow_blank=True,
        showErrorMessage=True,
        errorTitle="If cut short",
        error="Leave blank for a finished match, or choose from the list.",
    )
    marks.add(f"I{span.format('I')}")
    ws.add_data_validation(numbers)
    ws.add_data_validation(marks)
    look = DifferentialStyle(font=Font(bold=True), fill=PatternFill("solid", bgColor=_FLAG))
    flag = Rule(
        type="expression",
        dxf=look,
        formula=[f'AND($J{rows.first}<>"",${column_of("a1")}{rows.first}<>"")'],
    )
    ws.conditional_formatting.add(f"F{span.format('J')}", flag)
    ws.protection.sheet = True
    ws.protection.formatColumns = False
    ws.protection.formatRows = False
