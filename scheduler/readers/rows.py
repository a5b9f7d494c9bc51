"""One model a sheet: which columns it has and what each of them means.

The header of a field is its name with blanks for underscores, so these models
are also the list of known columns.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict

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
from scheduler.readers.fields import (
    as_date,
    as_level,
    as_list,
    as_name,
    as_number,
    as_text,
    as_time,
    choice,
    whole,
)

EXAMPLE_PEOPLE = ("Example Person", "Example Partner")  # in a workbook nobody filled in yet
MOST_MINUTES = 600
MOST_CHANGEOVER = 240
MOST_GROUP = 50
MOST_EXCHANGE = 1000.0


def header_of(field: str) -> str:
    """Return the column header of a field: ``group_size`` stands under ``Group size``."""
    return field.rstrip("_").replace("_", " ").capitalize()


def _as_exchange(value: Any) -> float:
    number = as_number(value)
    if not 0 <= number <= MOST_EXCHANGE:
        raise ValueError(f"must be a number from 0 to {MOST_EXCHANGE:g}, got {number:g}")
    return number


Text = Annotated[str, BeforeValidator(as_text)]
Name = Annotated[str, BeforeValidator(as_name)]
Time = Annotated[int, BeforeValidator(as_time)]
Level = Annotated[float, BeforeValidator(as_level)]


class Row(BaseModel):
    """A row of a sheet; blank cells are left out, so defaults stand for them."""

    model_config = ConfigDict(alias_generator=header_of, frozen=True)
    has_notes_beside: ClassVar[bool] = False  # whether columns without a header are remarks


class EventRow(Row):
    """The Event sheet, its settings taken as the columns of one row."""

    name: Name
    date: Annotated[str, BeforeValidator(as_date)] = ""
    start: Time | None = None
    emphasis: Annotated[Emphasis, BeforeValidator(choice(Emphasis))] = Emphasis.BLEND
    exchange: Annotated[float, BeforeValidator(_as_exchange)] = 2.0
    spare_court: Annotated[SpareCourt, BeforeValidator(choice(SpareCourt))] = SpareCourt.REST
    set_: Annotated[SetFormat, BeforeValidator(choice(SetFormat))] = SetFormat.TIE_BREAK
    game: Annotated[GameFormat, BeforeValidator(choice(GameFormat))] = GameFormat.AD
    end_changes: Annotated[EndChanges, BeforeValidator(choice(EndChanges))] = EndChanges.SIX
    changeover: Annotated[int, BeforeValidator(whole(0, MOST_CHANGEOVER))] = 0
    until: Time | None = None
    notes: Text = ""


class PlayerRow(Row):
    """A line of the Players sheet."""

    name: Name
    level: Level | None = None
    group: Text = ""
    hand: Annotated[Hand, BeforeValidator(choice(Hand))] = Hand.RIGHT
    side: Annotated[Side, BeforeValidator(choice(Side))] = Side.EITHER
    arrives: Time | None = None
    leaves: Time | None = None
    here: Annotated[Here, BeforeValidator(choice(Here))] = Here.YES
    note: Text = ""


class CourtRow(Row):
    """A line of the Courts sheet."""

    name: Name
    from_: Time | None = None
    until: Time | None = None


class RoundRow(Row):
    """A line of the Rounds sheet; `courts` is made out once the courts are known."""

    kind: Annotated[Kind, BeforeValidator(choice(Kind))]
    minutes: Annotated[int, BeforeValidator(whole(1, MOST_MINUTES))]
    topic: Text = ""
    group_size: Annotated[int, BeforeValidator(whole(1, MOST_GROUP))] = 4
    levels: Annotated[Mixing, BeforeValidator(choice(Mixing))] | None = None
    courts: Annotated[str, BeforeValidator(as_list)] = ""
    start: Time | None = None


_NEVER_AGAINST = "to keep two people from meeting in a match, write not same court"
_AGAINST = "to have two people oppose each other, write against once"
_ADVICE = {
    "not opponents": _NEVER_AGAINST,
    "not against": _NEVER_AGAINST,
    "never against": _NEVER_AGAINST,
    "not opponent": _NEVER_AGAINST,
    "opponents": _AGAINST,
    "opponents once": _AGAINST,
    "against": _AGAINST,
    "not on court": "name the court somebody is to be on, with on court",
    "not same group": "to keep two people in different drill groups, write not same court",
    "same group": "to have two people in one drill group, write same court",
    "plays at least": "everybody gets a fair share; others can be limited with plays at most",
    "leaves early": "write the hour under Leaves on the Players sheet",
    "arrives late": "write the hour under Arrives on the Players sheet",
}
"""What to do for wishes people ask for that are none."""


class WishRow(Row):
    """A line of the Wishes sheet; `other` is made out once the kind is known."""

    wish: Annotated[WishKind, BeforeValidator(choice(WishKind, _ADVICE))]
    player: Name
    other: Text = ""
    strength: Annotated[Strength, BeforeValidator(choice(Strength))] = Strength.MUST
    round: Annotated[int, BeforeValidator(whole(1, 1000))] | None = None


class StationRow(Row):
    """A line of the Stations sheet."""

    court: Name
    topic: Text = ""
    coach: Text = ""


class SettingRow(Row):
    """A line of the Event sheet as it stands there."""

    has_notes_beside = True
    setting: Name
    value: Any = None
