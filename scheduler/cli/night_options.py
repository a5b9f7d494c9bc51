"""What the commands for the evening itself have in common: options, and how they answer."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from scheduler.cli.console import EXIT_INTERRUPTED, print_json, say
from scheduler.cli.plan_text import round_text
from scheduler.domain.codec import plan_to_dict

if TYPE_CHECKING:
    from scheduler.domain.plan import Plan
    from scheduler.readers.plan_file import PlanFile
    from scheduler.workflow.replan import Replanned

_MANY = 8  # people who move, more than are easily called out

PlanArgument = Annotated[
    Path, typer.Argument(metavar="PLAN.json", help="The plan people play by.", show_default=False)
]
OutOption = Annotated[
    Path | None,
    typer.Option(
        "--out",
        metavar="DIR",
        help="Where to write; if not given, beside the plan as NAME-rN, N being the revision.",
    ),
]
SeasonOption = Annotated[
    Path | None,
    typer.Option(
        "--season",
        metavar="SEASON.db",
        help="Count who met whom on earlier evenings, newcomers included, and the figures over "
        "the season. What the plan counted of it before counts without it, too.",
    ),
]
OwnSeedOption = Annotated[
    int | None,
    typer.Option(
        "--seed", help="Everything random comes from this number; the plan's own if not given."
    ),
]


def read_for_tonight(path: Path) -> tuple[Plan, tuple[str, ...]]:
    """Return the plan in a file, and what the user should know of the file.

    Raises
    ------
    BadInput
        If the file holds no plan, or disagrees with itself.
    """
    from scheduler.domain.errors import BadInput  # noqa: PLC0415  kept beside its use
    from scheduler.readers.plan_file import read_plan_file  # noqa: PLC0415  pydantic is slow

    read: PlanFile = read_plan_file(path)
    if read.disagreements:
        raise BadInput(read.disagreements)
    changed = f"{path.name} was changed since it was written."
    return read.plan, () if read.id_matches else (changed,)


def answer(  # noqa: PLR0913  what there is to say, and how
    result: Replanned,
    files: tuple[Path, ...],
    remarks: tuple[str, ...],
    *,
    as_json: bool,
    quiet: bool,
    after: int | None = None,
) -> None:
    """Say what changed, person by person, then the files, and last the round to call out now."""
    told = "" if as_json or quiet else "\n".join(result.plan.event.changes)
    for remark in (*remarks, *result.remarks):
        if remark.rstrip(".") not in told:
            say(remark, error=True)
    if as_json:
        print_json(plan_to_dict(result.plan))
    elif not quiet:
        for line in _lines(result):
            say(line)
        if after is not None and result.moved.people > _MANY and not _is_least(result):
            say("\nToo many? With --least-change as few people as possible move.")
        say("")
        say("\n".join(f"Wrote {path}" for path in files))
        for line in _next_round(result.plan, result.plan.settled if after is None else after):
            say(line)
    if result.interrupted:
        say(f"Interrupted: the best plan so far is saved as {files[0]}", error=True)
        raise typer.Exit(EXIT_INTERRUPTED)


def _lines(result: Replanned) -> Iterator[str]:
    from scheduler.cli.read_out import read_out  # noqa: PLC0415  the engine is loaded by now

    plan = result.plan
    mark = f"Revision {plan.revision}"
    yield f"{plan.event.name}, revision {plan.revision}"
    for text in plan.event.changes:
        if text.startswith((f"{mark},", f"{mark}:")):
            yield f"  {text.removeprefix(mark).lstrip(',: ')}"
    yield ""
    if result.moved.steps:
        yield from read_out(result.moved, numbers=not _is_least(result))
    else:
        yield "Nobody's seat changes."


def _is_least(result: Replanned) -> bool:
    """Return whether the plan was made to move few people, and says how many it moves."""
    plan = result.plan
    said = (text for text in plan.event.changes if text.startswith(f"Revision {plan.revision}:"))
    return any(text.endswith(result.moved.sentence) for text in said)


def _next_round(plan: Plan, played: int) -> Iterator[str]:
    """Yield the first round still to come, court by court, to call out as it stands."""
    ahead = plan.rounds[played:]
    if ahead:
        yield ""
        yield "Next:"
        yield from round_text(plan, ahead[0])
