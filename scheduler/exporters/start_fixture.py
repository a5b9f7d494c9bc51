"""The workbook a captain fills in: squad, fixtures with answers, conditions, what was played.

The headings come from the models the reader validates with, so what is
written here can always be read.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from scheduler.domain.event import Hand, Here, Side
from scheduler.domain.fixture import Aim, ConditionKind, Partnering
from scheduler.exporters import sample_season
from scheduler.exporters.form import Content, Form, form_bytes
from scheduler.exporters.start_fixture_help import (
    COLUMN_HELP,
    EXAMPLE_ROWS,
    EXAMPLE_SETTINGS,
    INTRODUCTION,
    SETTINGS_HELP,
)
from scheduler.readers.fixture_rows import (
    MOST_LINES,
    ConditionRow,
    FixtureRow,
    PlayedRow,
    SquadRow,
    Won,
)
from scheduler.readers.records import headers

HEADINGS = {
    "Squad": headers(SquadRow),
    "Fixtures": headers(FixtureRow),
    "Conditions": headers(ConditionRow),
    "Played": headers(PlayedRow),
}
NEEDED = {
    "Team": {"Name"},
    "Squad": {"Name", "Level"},
    "Fixtures": {"Date"},
    "Conditions": {"Condition"},
    "Played": {"Date", "Line", "Player", "Partner"},
}
CHOICES: dict[tuple[str, str], type[StrEnum]] = {
    ("Team", "Aim"): Aim,
    ("Team", "Partners"): Partnering,
    ("Squad", "Hand"): Hand,
    ("Squad", "Side"): Side,
    ("Conditions", "Condition"): ConditionKind,
    ("Played", "Won"): Won,
}
PICKED = {
    ("Conditions", "Player"): "Squad",
    ("Conditions", "Other"): "Squad",
    ("Played", "Player"): "Squad",
    ("Played", "Partner"): "Squad",
}
LIMITS = {
    ("Squad", "Level"): ("decimal", 1, 10),
    ("Fixtures", "Lines"): ("whole", 1, MOST_LINES),
    ("Played", "Line"): ("whole", 1, MOST_LINES),
}
WORDS = {"Name", "Group", "Note", "Player", "Other", "Partner", "Likes", "Venue", "Opponents"}
WORDS |= {"Their pairs", "Lines"}
WIDE = {
    "Name": 26,
    "Player": 26,
    "Partner": 26,
    "Other": 26,
    "Likes": 26,
    "Note": 30,
    "Venue": 26,
    "Opponents": 20,
    "Their pairs": 20,
    "Condition": 30,
}


def fixture_workbook_bytes(*, example: bool = False, file_name: str = "FIXTURE.xlsx") -> bytes:
    """Return a fixture workbook to fill in, with example rows or with a whole sample season.

    Parameters
    ----------
    example
        True fills in the sample season.
    file_name
        The name the first sheet uses when it says which command comes next.
    """
    content = Content(EXAMPLE_SETTINGS, EXAMPLE_ROWS, are_examples=True)
    if example:
        content = Content(sample_season.SETTINGS, sample_season.SHEETS, are_examples=False)
    names = [row["Name"] for row in content.rows["Squad"]]
    return form_bytes(_form(names), content, file_name)


def _form(names: Sequence[str]) -> Form:
    """Return the form with a column of answers for each of the squad."""
    return Form(
        introduction=INTRODUCTION,
        settings_sheet="Team",
        settings_help=SETTINGS_HELP,
        headings={**HEADINGS, "Fixtures": [*HEADINGS["Fixtures"], *names]},
        column_help=COLUMN_HELP,
        needed=NEEDED,
        choices={**CHOICES, **{("Fixtures", name): Here for name in names}},
        picked=PICKED,
        limits=LIMITS,
        words=WORDS,
        wide=WIDE,
        turned=frozenset(names),
    )
