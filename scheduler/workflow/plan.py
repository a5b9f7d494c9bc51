"""``rota plan``: from an event to a plan that the checker has accepted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from scheduler import __version__
from scheduler.checker import check
from scheduler.domain.errors import CheckerDisagrees
from scheduler.domain.event import Event
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.rotation import solve
from scheduler.timing import Pace
from scheduler.workflow.clock import (
    clock_measures,
    clock_warnings,
    round_fits,
    without_clock_warnings,
)
from scheduler.workflow.dress import dress, first_serve_measure
from scheduler.workflow.kept_orders import kept_orders
from scheduler.workflow.sheets import write_forms

Report = Callable[[float, str], None]


@dataclass(frozen=True, slots=True)
class Made:
    """A verified plan, and whether the search for a better one was cut short."""

    plan: Plan
    interrupted: bool = False


def make_plan(  # noqa: PLR0913  one parameter an option of the command
    event: Event,
    *,
    seed: int = 1,
    effort: str = "normal",
    warnings: tuple[str, ...] = (),
    report: Report | None = None,
    played: tuple[PlannedRound, ...] = (),
    printed: Mapping[int, PlannedRound] | None = None,
    least_change: bool = False,
    revision: int = 1,
    settled: int | None = None,
    pace: Pace | None = None,
) -> Made:
    """Seat an event, dress its matches, and have the plan checked.

    Parameters
    ----------
    event
        What was asked for.
    seed, effort
        Same event, seed and effort, same plan.
    warnings
        Sentences to carry in the plan.
    report
        Told the share of the work done and what is being done.
    played
        Rounds that already happened and stay as they are.
    printed
        By position, rounds to come as people know them, in which everybody
        stays put where that is possible; matches that stay keep their
        serving orders.
    least_change
        Move as few people as possible from the printed rounds.
    revision
        Number of this version of the plan.
    settled
        How many rounds stand as they are; those played if not given.
    pace
        How fast the club plays, where a season has taught it.

    Raises
    ------
    NoPlan
        If the musts cannot be kept.
    CheckerDisagrees
        If the checker refuses the plan; a bug.
    """
    result = solve(
        event,
        played=tuple(planned.as_it_was for planned in played),
        printed=printed,
        least_change=least_change,
        seed=seed,
        effort=effort,
        report=report,
    )
    rounds = dress(event, kept_orders(result.rounds, printed or {}))
    lengths = round_fits(event, rounds[len(played) :], pace)
    measures = {
        **result.measures,
        "first_serve_unfairness": first_serve_measure(rounds),
        **clock_measures(lengths),
    }
    plan = Plan(
        event=event,
        rounds=_as_printed(played, rounds),
        seed=seed,
        effort=effort,
        version=__version__,
        revision=revision,
        measures=measures,
        warnings=(*without_clock_warnings(warnings), *clock_warnings(lengths)),
        settled=len(played) if settled is None else settled,
        pairs=result.pairs,
    )
    return Made(verified(plan), result.interrupted)


def _as_printed(
    played: tuple[PlannedRound, ...], rounds: tuple[PlannedRound, ...]
) -> tuple[PlannedRound, ...]:
    """Return the rounds, those to which somebody never came as they were printed."""
    stand = {at: planned for at, planned in enumerate(played) if planned.missing}
    return tuple(stand.get(at, planned) for at, planned in enumerate(rounds))


def verified(plan: Plan) -> Plan:
    """Return the plan if the checker accepts it.

    Raises
    ------
    CheckerDisagrees
        With the checker's sentences, if it does not.
    """
    verdict = check(plan)
    if not verdict.accepted:
        raise CheckerDisagrees(verdict.faults)
    return plan


def publish(
    plan: Plan, folder: Path, formats: tuple[str, ...], paper: str, zone: str = ""
) -> tuple[Path, ...]:
    """Write the plan file and the other forms asked for; return what was written.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    return write_forms(plan, folder, dict.fromkeys(("json", *formats)), paper, zone)
