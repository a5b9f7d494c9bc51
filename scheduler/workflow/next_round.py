"""``rota next``: the next ``up and down`` round is seated from the results of the last one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from scheduler.checker import check
from scheduler.domain.errors import BadInput, CheckerDisagrees, Fault
from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.rotation import next_up_and_down
from scheduler.workflow.moves import changes_between, moved_between
from scheduler.workflow.plan import Made, Report, make_plan
from scheduler.workflow.replan import Replanned
from scheduler.workflow.results_typed import Result, read_results, winners
from scheduler.workflow.season_plan import recalled_again


def seat_next(  # noqa: PLR0913  one parameter an option
    plan: Plan,
    scores: Iterable[str],
    *,
    seed: int | None = None,
    effort: str = "normal",
    report: Report | None = None,
    season: Path | None = None,
) -> Replanned:
    """Seat the first open round from the results of the last seated one of its kind.

    Everything else stays as it is, unless a must or fair rests could not be
    kept that way; then as few people as possible are moved.

    Parameters
    ----------
    plan
        The plan people play by.
    scores
        A text a match, ``COURT=SCORE``; see `scheduler.workflow.results_typed`.
    seed, effort, report
        As for a new plan; only needed where people must be moved.
    season
        The season file whose earlier evenings are to count; those the plan
        counted before still do without it.

    Raises
    ------
    BadInput
        With every fault of the scores, or of the plan itself.
    NoPlan
        If the musts cannot be kept.
    """
    last, number = _rounds(plan)
    faults = [Fault("", text) for text in check(plan).faults]
    results, score_faults = read_results(scores, plan.event, last)
    if faults or score_faults:
        raise BadInput([*faults, *score_faults])
    won = winners(plan.event, last.matches, results)
    known = recalled_again(_saying(plan, last, number, results), plan, season)
    event = known.event
    seated = next_up_and_down(event, plan.rounds, number, won)
    rounds = (*plan.rounds[: number - 1], seated, *plan.rounds[number:])
    made = _made(plan, event, rounds, number, plan.seed if seed is None else seed, effort, report)
    new = replace(made.plan, changes=changes_between(plan, made.plan, number - 1))
    new = known.seen_in(new, plan)
    unscored = [match.court for match in last.matches if match.court not in results]
    told = (
        f"{court}: no score, so the stronger team by levels counts as winner." for court in unscored
    )
    moved = moved_between(plan, new, number - 1)
    return Replanned(new, moved, (*told, *known.remarks(plan)), made.interrupted)


def _rounds(plan: Plan) -> tuple[PlannedRound, int]:
    """Return the round whose results are asked for, and the number of the one to seat."""
    ladder = [planned for planned in plan.rounds if planned.kind is Kind.UP_AND_DOWN]
    if not ladder:
        raise BadInput.one("", "the plan has no round of kind 'up and down'")
    waiting = next((planned for planned in ladder if planned.open), None)
    if waiting is None:
        raise BadInput.one("", "every 'up and down' round of the plan is seated already")
    if ladder[0] is waiting:
        raise BadInput.one("", f"round {waiting.number} has none of its kind before it")
    return ladder[ladder.index(waiting) - 1], waiting.number


def _saying(plan: Plan, last: PlannedRound, number: int, results: dict[str, Result]) -> Event:
    told = "; ".join(
        f"{match.court} {results[match.court]}" if match.court in results else f"{match.court} none"
        for match in last.matches
    )
    head = f"Revision {plan.revision + 1}, round {number} seated"
    said = f"{head} from the results of round {last.number}: {told}"
    return replace(plan.event, changes=(*plan.event.changes, said))


def _made(  # noqa: PLR0913, PLR0917  one step of `seat_next`, cut out
    plan: Plan,
    event: Event,
    rounds: tuple[PlannedRound, ...],
    number: int,
    seed: int,
    effort: str,
    report: Report | None,
) -> Made:
    """Return the plan with the round as the results seat it, mended only if that is refused."""
    try:
        return make_plan(
            event,
            seed=seed,
            effort=effort,
            warnings=plan.warnings,
            played=rounds,
            revision=plan.revision + 1,
            settled=number - 1,
        )
    except CheckerDisagrees:
        ahead = range(number - 1, len(rounds))
        return make_plan(
            event,
            seed=seed,
            effort=effort,
            warnings=plan.warnings,
            report=report,
            played=rounds[: number - 1],
            printed={at: rounds[at] for at in ahead if not rounds[at].open},
            least_change=True,
            revision=plan.revision + 1,
        )
