"""``rota sheets``: everything people hold, written again from the plan file alone."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from scheduler.cli.console import JsonOption, QuietOption, answering, print_json, say
from scheduler.workflow.rebuild import write_sheets
from scheduler.workflow.sheets import DEFAULT_FORMATS, FORMS, known_formats, known_zone


class Paper(StrEnum):
    """The paper the sheets are printed on."""

    A4 = "a4"
    LETTER = "letter"


DEFAULT = ",".join(DEFAULT_FORMATS)


def parse_formats(text: str) -> tuple[str, ...]:
    """Return the formats named in ``--formats``, or end with a usage error."""
    try:
        return known_formats(text.replace(";", ",").split(","))
    except ValueError as error:
        raise typer.BadParameter(str(error), param_hint="--formats") from None


_WHAT_TO_WRITE = (
    "What to write, with commas: "
    + "; ".join(f"{name} ({form.what})" for name, form in FORMS.items())
    + "."
)
FormatsOption = Annotated[str, typer.Option("--formats", help=_WHAT_TO_WRITE)]


def parse_zone(text: str) -> str:
    """Return the time zone named in ``--zone``, or end with a usage error."""
    try:
        return known_zone(text)
    except ValueError as error:
        raise typer.BadParameter(str(error), param_hint="--zone") from None


ZoneOption = Annotated[
    str,
    typer.Option(
        "--zone",
        metavar="ZONE",
        help="Time zone of calendar entries, such as Europe/Oslo; without it they show "
        "the hours on the club's wall wherever the phone is.",
    ),
]
PaperOption = Annotated[
    Paper, typer.Option("--paper", case_sensitive=False, help="The paper to print on.")
]


@answering
def sheets(  # noqa: PLR0913, PLR0917  one parameter an option
    plan_file: Annotated[Path, typer.Argument(metavar="PLAN.json", help="The plan file.")],
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="DIR", help="Where to write; beside the plan if not given."),
    ] = None,
    formats: Annotated[
        str | None,
        typer.Option("--formats", help=_WHAT_TO_WRITE, show_default=DEFAULT),
    ] = None,
    paper: PaperOption = Paper.A4,
    zone: ZoneOption = "",
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Write the workbook and the rest again from a plan file; nothing else is needed.

    Example: rota sheets plan.json --out print --paper letter

    Files that are there already are replaced, but for workbooks with typed
    scores, which are kept under another name. Without --formats, files there
    that were made from another plan are written again as well, whatever their
    format: what a command that was cut short left half done is whole after
    this. A revision that stands beside the plan before it keeps its names
    (NAME-r2.xlsx). A plan the checker refuses is not written out; rota check
    PLAN.json tells the same faults.
    """
    forms = None if formats is None else parse_formats(formats)
    written = write_sheets(plan_file, out, forms, paper, parse_zone(zone))
    for remark in written.remarks:
        say(remark, error=True)
    if as_json:
        print_json({"files": [str(path) for path in written.files]})
    elif not quiet:
        for path in written.files:
            say(f"Wrote {path}")
