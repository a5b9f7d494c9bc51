"""Planning with the season in mind: who met whom before, and how levels have moved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from scheduler.checker.evening import pair
from scheduler.domain.event import Event
from scheduler.domain.plan import Plan
from scheduler.season.history import History, Met, Remembering, remembering
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


@dataclass(frozen=True, slots=True)
class Recalled:
    """What a season, or none, brings into a plan.

    `told` says in a sentence what was counted, `questions` which names may be
    other spellings of known ones.
    """

    event: Event
    history: History | None = None
    pace: Pace | None = None
    told: str = ""
    questions: tuple[str, ...] = ()

    def seen_in(self, plan: Plan, before: Plan | None = None) -> Plan:
        """Return the plan with its figures over the season, as far as they are known."""
        if self.history is not None:
            return with_season(plan, self.history)
        return still_counted(plan, before) if before and before.weighted else plan

    def remarks(self, before: Plan) -> tuple[str, ...]:
        """Return what is worth saying of a revision beyond what its plan said before."""
        new = (text for text in self.questions if text not in before.warnings)
        return (*filter(None, (self.told,)), *new)


def recalled(event: Event, season: Path | None, *, levels: bool = False) -> Recalled:
    """Return an event with what a season knows of its people; as it is without a season.

    Parameters
    ----------
    event
        The event to be planned.
    season
        The season file, if the user names it.
    levels
        Take the season's levels in place of the organiser's.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    if season is None:
        return Recalled(event)
    known = remembered(event, season, levels=levels)
    pace = pace_of(season)
    return Recalled(known.event, known.history, pace, counted(known.history), known.remarks)


def recalled_again(event: Event, before: Plan, season: Path | None) -> Recalled:
    """Return the event of a revision with its season; a season left out is said to be.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    if season is not None or not before.weighted:
        return recalled(event, season)
    what = "its figures over the season need --season SEASON.db to be counted anew"
    return Recalled(event, told=f"Earlier evenings still count in this plan; {what}.")


def counted(history: History) -> str:
    """Return in a sentence what a season brought into a plan."""
    if not history.evenings:
        return "Season: no earlier evening to count yet."
    number = (
        "1 earlier evening" if history.evenings == 1 else f"{history.evenings} earlier evenings"
    )
    half = f"{history.half_life:g} evening{'' if history.half_life == 1 else 's'}"
    return f"Season: {number} counted; a meeting weighs half after {half}."


def still_counted(plan: Plan, before: Plan) -> Plan:
    """Return a revision with the faded costs it has by the meetings its event carries.

    The measures over the whole season need the season itself and are left out.

    Parameters
    ----------
    plan
        The revision.
    before
        The plan it takes the place of, which knew its season.
    """
    met = {
        pair(one.player, one.other): Met(
            one.partners,
            one.opponents,
            one.drills,
            one.faded_partners,
            one.faded_opponents,
            one.faded_drills,
        )
        for one in plan.event.earlier
    }
    known = History(
        evenings=int(before.weighted["evenings"]), half_life=before.weighted["half_life"], met=met
    )
    return replace(plan, weighted=weighted(plan, known))
