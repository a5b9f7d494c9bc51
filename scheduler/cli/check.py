"""``rota check``: the independent checker's word on a plan file."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import typer

from scheduler.cli.columns import columns
from scheduler.cli.console import (
    EXIT_BAD_INPUT,
    JsonOption,
    QuietOption,
    answering,
    print_json,
    say,
)
from scheduler.domain.plan import Plan
from scheduler.exporters.meetings import count_meetings
from scheduler.exporters.wording import measure_lines
from scheduler.workflow.check import Checked, check_plan_file


@answering
def check(
    plan_file: Annotated[Path, typer.Argument(metavar="PLAN.json", help="The plan file.")],
    event: Annotated[
        Path | None,
        typer.Option(
            "--event",
            metavar="EVENT.xlsx",
            help="The event workbook the plan must serve; without it, what the plan file holds.",
        ),
    ] = None,
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Say whether a plan keeps every rule and every must, and whether its figures are true.

    Example: rota check plan.json --event tuesday.xlsx

    Nothing in the file is taken on trust: everybody must be in one place a
    round and on an open court, the musts kept, rests shared fairly, serving
    orders lawful, and every measure is counted again. Where the plan is not
    sound, each fault is a line naming round, court and people, and the exit
    code is 1.

    Sheets beside the plan that were made from another plan, because a
    command was cut short or they are older, are named in a line of their own.

    With --event a plan made for other players, levels, courts or rounds than
    the workbook's is refused as well.
    """
    checked = check_plan_file(plan_file, event)
    for remark in checked.remarks:
        say(remark, error=True)
    if as_json:
        print_json(_document(checked))
    elif not (quiet and checked.verdict.accepted):
        for line in _lines(checked, plan_file):
            say(line)
    if not checked.verdict.accepted:
        raise typer.Exit(EXIT_BAD_INPUT)


def _document(checked: Checked) -> dict[str, object]:
    return {
        "accepted": checked.verdict.accepted,
        "faults": list(checked.verdict.faults),
        "measures": dict(checked.verdict.measures),
        "warnings": list(checked.remarks),
    }


def _lines(checked: Checked, path: Path) -> Iterator[str]:
    faults = checked.verdict.faults
    if faults:
        number = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        yield f"Not sound: {path.name} has {number}."
        yield from faults
    else:
        yield f"Sound: {path.name} keeps every rule and every must."
        yield ""
        yield _table(checked.plan)


def _table(plan: Plan) -> str:
    lines = measure_lines(plan, count_meetings(plan))
    return columns([(line.title, line.sentence) for line in lines])
