"""The workbook an organiser fills in: headings with help, drop-downs, examples.

The headings come from the models the reader validates with, so what is
written here can always be read.
"""

from __future__ import annotations

from enum import StrEnum

from scheduler.domain.event import (
    Emphasis,
    Hand,
    Here,
    Kind,
    Mixing,
    Side,
    SpareCourt,
    Strength,
    WishKind,
)
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.exporters import sample_evening
from scheduler.exporters.form import Content, Form, form_bytes
from scheduler.exporters.start_help import (
    COLUMN_HELP,
    EXAMPLE_ROWS,
    EXAMPLE_SETTINGS,
    INTRODUCTION,
    SETTINGS_HELP,
)
from scheduler.readers.records import headers
from scheduler.readers.rows import CourtRow, PlayerRow, RoundRow, Row, StationRow, WishRow

MODELS: dict[str, type[Row]] = {
    "Players": PlayerRow,
    "Courts": CourtRow,
    "Rounds": RoundRow,
    "Wishes": WishRow,
    "Stations": StationRow,
}
NEEDED = {
    "Event": {"Name"},
    "Players": {"Name"},
    "Courts": {"Name"},
    "Rounds": {"Kind", "Minutes"},
    "Wishes": {"Wish", "Player"},
    "Stations": {"Court"},
}
CHOICES: dict[tuple[str, str], type[StrEnum]] = {
    ("Event", "Emphasis"): Emphasis,
    ("Event", "Spare court"): SpareCourt,
    ("Event", "Set"): SetFormat,
    ("Event", "Game"): GameFormat,
    ("Event", "End changes"): EndChanges,
    ("Players", "Hand"): Hand,
    ("Players", "Side"): Side,
    ("Players", "Here"): Here,
    ("Rounds", "Kind"): Kind,
    ("Rounds", "Levels"): Mixing,
    ("Wishes", "Wish"): WishKind,
    ("Wishes", "Strength"): Strength,
}
# Names to pick from, where anything else may be typed too: sheet, column, names' sheet.
PICKED = {
    ("Wishes", "Player"): "Players",
    ("Wishes", "Other"): "Players",
    ("Stations", "Court"): "Courts",
}
TIMES = {"Start", "Until", "From", "Arrives", "Leaves"}
WORDS = {"Name", "Group", "Topic", "Note", "Player", "Other", "Court", "Coach"}
WIDE = {"Name": 26, "Player": 26, "Other": 26, "Topic": 28, "Note": 30, "Wish": 24, "Kind": 22}
LIMITS = {
    ("Players", "Level"): ("decimal", 1, 10),
    ("Rounds", "Minutes"): ("whole", 1, 600),
    ("Rounds", "Group size"): ("whole", 1, 600),
}

FORM = Form(
    introduction=INTRODUCTION,
    settings_sheet="Event",
    settings_help=SETTINGS_HELP,
    headings={title: headers(model) for title, model in MODELS.items()},
    column_help=COLUMN_HELP,
    needed=NEEDED,
    choices=CHOICES,
    picked=PICKED,
    limits=LIMITS,
    times=TIMES,
    words=WORDS,
    wide=WIDE,
)


def start_workbook(*, example: bool = False, file_name: str = "EVENT.xlsx") -> bytes:
    """Return a workbook to fill in, with two example rows or with a whole sample evening.

    Parameters
    ----------
    example
        True fills in the sample evening.
    file_name
        The name the first sheet uses when it says which command comes next.
    """
    content = Content(EXAMPLE_SETTINGS, EXAMPLE_ROWS, are_examples=True)
    if example:
        content = Content(sample_evening.SETTINGS, sample_evening.SHEETS, are_examples=False)
    return form_bytes(FORM, content, file_name)
