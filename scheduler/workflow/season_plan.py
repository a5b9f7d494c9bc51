"""Planning with the season in mind: who met whom before, and how levels have moved."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from scheduler.domain.event import Event
from scheduler.domain.plan import Plan
from scheduler.season.history import History, Remembering, remembering
from scheduler.season.lengths import learned_pace
from scheduler.season.measures import season_measures, weighted
from scheduler.season.results import with_season_levels
from scheduler.timing import Pace


def remembered(event: Event, season: Path, *, levels: bool = False) -> Remembering:
    """Return the event with its earlier meetings, the history, and doubts about names.

    Parameters
    ----------
    event
        The event about to be planned.
    season
        The season file.
    levels
        Take the season's levels in place of the organiser's, where people have
        played matches that count.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    return remembering(season, with_season_levels(season, event) if levels else event)


def pace_of(season: Path) -> Pace:
    """Return the stated pace with the club's own factor, 1 where no length was recorded.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    return learned_pace(season).applied_to(Pace())


def with_season(plan: Plan, history: History) -> Plan:
    """Return the plan with its measures over the season, whole and faded."""
    return replace(
        plan,
        season_measures=season_measures(plan, history),
        weighted=weighted(plan, history),
    )
