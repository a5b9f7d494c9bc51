"""One model a sheet of a fixture workbook: which columns it has and what they mean."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Any

from pydantic import BeforeValidator

from scheduler.domain.event import Hand, Side
from scheduler.domain.fixture import Aim, ConditionKind, Partnering
from scheduler.readers.fields import as_date, as_list, as_number, choice, whole
from scheduler.readers.rows import Level, Name, Row, Text

MOST_LINES = 15
MOST_MATCHES = 1000
MOST_SUM = 20.0


class Won(StrEnum):
    """Whether a line was won."""

    YES = "yes"
    NO = "no"


def _as_sum(value: Any) -> float:
    number = as_number(value)
    if not 2 <= number <= MOST_SUM:
        raise ValueError(f"must be two levels added, from 2 to 20, got {number:g}")
    return number


def _as_curve(value: Any) -> float:
    number = as_number(value)
    if not 0.1 <= number <= 20:
        raise ValueError(f"must be a number from 0.1 to 20, got {number:g}")
    return number


Sum = Annotated[float, BeforeValidator(_as_sum)]
Date = Annotated[str, BeforeValidator(as_date)]
List = Annotated[str, BeforeValidator(as_list)]
Line = Annotated[int, BeforeValidator(whole(1, MOST_LINES))]


class TeamRow(Row):
    """The Team sheet, its settings taken as the columns of one row."""

    name: Name
    aim: Annotated[Aim, BeforeValidator(choice(Aim))] = Aim.EVEN
    partners: Annotated[Partnering, BeforeValidator(choice(Partnering))] = Partnering.EITHER
    their_pairs_from: Sum | None = None
    their_pairs_to: Sum | None = None
    win_curve: Annotated[float, BeforeValidator(_as_curve)] | None = None


class SquadRow(Row):
    """A line of the Squad sheet."""

    name: Name
    level: Level | None = None
    group: Text = ""
    side: Annotated[Side, BeforeValidator(choice(Side))] = Side.EITHER
    hand: Annotated[Hand, BeforeValidator(choice(Hand))] = Hand.RIGHT
    matches_so_far: Annotated[int, BeforeValidator(whole(0, MOST_MATCHES))] = 0
    likes: List = ""
    note: Text = ""


class FixtureRow(Row):
    """A line of the Fixtures sheet, but for the columns of the players' answers."""

    date: Date
    venue: Text = ""
    opponents: Text = ""
    lines: Line | None = None
    their_pairs: List = ""


class ConditionRow(Row):
    """A line of the Conditions sheet; which cells it needs depends on the condition."""

    condition: Annotated[ConditionKind, BeforeValidator(choice(ConditionKind))]
    number: Annotated[float, BeforeValidator(as_number)] | None = None
    player: Text = ""
    other: Text = ""
    group: Text = ""
    lines: List = ""


class PlayedRow(Row):
    """A line of the Played sheet: one pair of one fixture."""

    date: Date
    line: Line
    player: Name
    partner: Name
    their_pair: Sum | None = None
    won: Annotated[Won, BeforeValidator(choice(Won))] | None = None
