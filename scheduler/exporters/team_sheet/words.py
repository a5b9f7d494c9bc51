"""How fixtures and line-ups are put in words, on paper and in messages."""

from __future__ import annotations

import datetime as dt

from scheduler.domain.event import Here
from scheduler.domain.fixture import Fixture, FixtureAnswer, LinePair, TeamSeason
from scheduler.domain.plan import Measure
from scheduler.exporters.text import clean, counted, isolated, number

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def day(date: str) -> str:
    """Return a date such as ``Saturday 24 May 2031``; whatever else it is, as it stands."""
    try:
        when = dt.date.fromisoformat(date)
    except ValueError:
        return clean(date)
    return f"{_DAYS[when.weekday()]} {when.day} {_MONTHS[when.month - 1]} {when.year}"


def short_day(date: str) -> str:
    """Return a date such as ``24 May``."""
    try:
        when = dt.date.fromisoformat(date)
    except ValueError:
        return clean(date)
    return f"{when.day} {_MONTHS[when.month - 1][:3]}"


def meeting(season: TeamSeason, fixture: Fixture) -> str:
    """Return who plays whom."""
    team = clean(season.name)
    return f"{team} v {clean(fixture.opponents)}" if fixture.opponents else team


def names(pair: LinePair) -> str:
    """Return the two names of a pair."""
    return " and ".join(isolated(clean(name)) for name in pair.players)


def chance(pair: LinePair) -> str:
    """Return the range of a pair's chance, in whole per cent."""
    if pair.chance is None:
        return ""
    low, high = (f"{100 * value:.0f}" for value in pair.chance)
    return f"{low} to {high} %"


def mark(answer: FixtureAnswer, name: str) -> str:
    """Return what a person does in a fixture: a line, reserve, away, or nothing said yet.

    ``1`` to the number of lines, ``R`` on reserve, ``(R)`` on reserve if
    needed, ``-`` not free.
    """
    for pair in answer.chosen.pairs:
        if name in pair.players:
            return str(pair.line)
    here = answer.fixture.answer(name)
    if here is Here.NO or name in answer.withdrawn:
        return "-"
    free = "(R)" if here is Here.IF_NEEDED else "R"
    return f"{free}?" if name in answer.fixture.unanswered and not answer.played else free


GRID_KEY = (
    "A number is the line played; R is free and on reserve, (R) comes if needed, - is not free, "
    "? has not answered yet. Fixtures marked as played are as they were."
)


def measure_sentence(name: str, measure: Measure) -> str:
    """Return one figure of the season in words, with how good it is proved to be."""
    value = number(measure.value)
    if name == "appearance_spread":
        said = f"Most and fewest appearances of those who can play differ by {value}"
        if measure.proven:
            return f"{said}; proved the least possible with everybody's answers."
        return f"{said}; no plan can do better than {number(measure.bound or 0)}."
    if name == "people_called":
        people = counted(int(measure.value), "person", "people") if measure.value else "Nobody"
        verb = "has" if measure.value < 2 else "have"
        said = f"{people} who said 'if needed' {verb} to play"
        return f"{said}{'; proved the fewest possible' if measure.proven else ''}."
    return f"{counted(int(measure.value), 'pair', 'different pairs')} over the season."
