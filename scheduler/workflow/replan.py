"""``rota replan``: rounds played stay as they were, the rest is planned again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from scheduler.checker import check
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.domain.turnout import turnouts
from scheduler.rotation import solve
from scheduler.workflow.kept_orders import kept_orders
from scheduler.workflow.moves import Moved, changes_between, moved_between
from scheduler.workflow.night import Changed, Night, changed
from scheduler.workflow.plan import Report, make_plan
from scheduler.workflow.season_plan import recalled_again
from scheduler.workflow.swap import swapped, why_not


@dataclass(frozen=True, slots=True)
class Replanned:
    """The new plan, how many people it moves, and what the user should know."""

    plan: Plan
    moved: Moved
    remarks: tuple[str, ...] = ()
    interrupted: bool = False


def replan(  # noqa: PLR0913  one parameter an option
    plan: Plan,
    night: Night,
    *,
    seed: int | None = None,
    effort: str = "normal",
    report: Report | None = None,
    season: Path | None = None,
) -> Replanned:
    """Plan the rounds to come again.

    Parameters
    ----------
    plan
        The plan people know.
    night
        What has happened, and how the rest is to be planned.
    seed, effort
        As for a new plan; the plan's own seed if none is given.
    report
        Told the share of the work done and what is being done.
    season
        The season file whose earlier evenings are to count; those the plan
        counted before still do without it.

    Raises
    ------
    BadInput
        With every fault of what was said, or of the plan itself.
    NoPlan
        If the musts cannot be kept.
    CheckerDisagrees
        If the checker refuses the result; a bug.
    """
    faults = [Fault("", text) for text in check(plan).faults]
    if faults:
        raise BadInput(faults)
    now, faults = changed(plan, night)
    if faults:
        raise BadInput(faults)
    seed = plan.seed if seed is None else seed
    known = recalled_again(now.event, plan, season)
    now = replace(now, event=known.event)
    held = _held(plan, now, night, seed, effort)
    made = make_plan(
        now.event,
        seed=seed,
        effort=effort,
        warnings=plan.warnings,
        report=report,
        played=(*now.played, *held),
        printed=_printed(plan, night, len(now.played) + len(held)),
        least_change=night.least_change,
        revision=plan.revision + 1,
        pace=known.pace,
    )
    new = replace(made.plan, changes=changes_between(plan, made.plan, night.after))
    moved = moved_between(plan, new, night.after)
    if night.least_change:
        new = _saying(new, f"fewest people moved: {moved.sentence}")
    new = known.seen_in(new, plan)
    return Replanned(new, moved, (*now.remarks, *known.remarks(plan)), made.interrupted)


def _saying(plan: Plan, text: str) -> Plan:
    """Return the plan with one more sentence among the event's changes."""
    said = f"Revision {plan.revision}: {text}"
    return replace(plan, event=replace(plan.event, changes=(*plan.event.changes, said)))


def _printed(plan: Plan, night: Night, settled: int) -> dict[int, PlannedRound]:
    """Return the rounds to come in which people are to stay put, by position.

    With the fewest moves that is every seated one. Otherwise it is an ``up and
    down`` round seated from results, which a new plan could not seat. One that
    comes after a round of its kind still to be played is open again.
    """
    ladder = [at for at, planned in enumerate(plan.rounds) if planned.kind is Kind.UP_AND_DOWN]
    from_results = [at for before, at in pairwise(ladder) if before < night.after]
    open_again = set(ladder[1:]) - set(from_results)
    return {
        at: planned
        for at, planned in enumerate(plan.rounds)
        if at >= settled
        and not planned.open
        and at not in open_again
        and (night.least_change or at in from_results)
    }


# ---- exchanged seats --------------------------------------------------------------------


def _held(
    plan: Plan, now: Changed, night: Night, seed: int, effort: str
) -> tuple[PlannedRound, ...]:
    """Return the next round with exchanged seats, or nothing where none are exchanged."""
    if not now.swaps:
        return ()
    at = night.after
    wanted = plan.rounds[at]
    faults = []
    for one, other in now.swaps:
        try:
            wanted = swapped(wanted, one, other)
        except ValueError as error:
            faults.append(Fault(_option(one, other), str(error)))
    if faults:
        raise BadInput(faults)
    names = [name for pair in now.swaps for name in pair]
    if _turnout_differs(plan.rounds[at], now):
        return (_mended(now, wanted, names, seed, effort),)
    held = replace(wanted, absent=_absent(wanted, now.event))
    faults = [Fault(_option(*now.swaps[0]), why) for why in why_not(now.event, (*now.played, held))]
    if faults:
        raise BadInput(faults)
    return (held,)


def _option(one: str, other: str) -> str:
    return f'--swap "{one},{other}"'


def _absent(planned: PlannedRound, event: Event) -> tuple[str, ...]:
    there = {*planned.resting, *(name for entry in planned.courts for name in entry.players)}
    return tuple(player.name for player in event.players if player.name not in there)


def _turnout_differs(planned: PlannedRound, now: Changed) -> bool:
    """Return whether other people or courts are there than a round was planned for."""
    played = tuple(planned.as_it_was for planned in now.played)
    turnout = turnouts(now.event, played)[planned.number - 1]
    there = {*planned.resting, *(name for entry in planned.courts for name in entry.players)}
    used = {entry.court for entry in planned.courts}
    return there != set(turnout.players) or not used <= set(turnout.courts)


def _mended(
    now: Changed, wanted: PlannedRound, names: list[str], seed: int, effort: str
) -> PlannedRound:
    """Return the next round as wanted but for people who left or came, and courts lost."""
    at = wanted.number - 1
    printed: Mapping[int, PlannedRound] = {at: wanted}
    played = tuple(planned.as_it_was for planned in now.played)
    result = solve(
        now.event, played=played, printed=printed, least_change=True, seed=seed, effort=effort
    )
    mended = kept_orders(result.rounds, printed)[at]
    moved = [name for name in names if _seat(mended, name) != _seat(wanted, name)]
    if moved:
        what = f"with the other changes {' and '.join(dict.fromkeys(moved))} cannot be there"
        hint = "replan for those first, then exchange seats in the plan that gives"
        raise BadInput.one("--swap", f"{what} in round {wanted.number}; {hint}")
    return mended


def _seat(planned: PlannedRound, name: str) -> str:
    entry = next((entry for entry in planned.courts if name in entry.players), None)
    return "resting" if entry is None else entry.court
