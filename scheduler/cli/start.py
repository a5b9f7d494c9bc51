"""``rota start``: a workbook to fill in."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from scheduler.cli.console import JsonOption, QuietOption, answering, print_json, say
from scheduler.domain.errors import BadInput


@answering
def start(  # noqa: PLR0913, PLR0917  one parameter an option
    event: Annotated[
        Path,
        typer.Argument(metavar="EVENT.xlsx", help="The workbook to write, a new file."),
    ],
    example: Annotated[
        bool,
        typer.Option("--example", help="Fill it with a made-up club evening to try things on."),
    ] = False,
    fixture: Annotated[
        bool,
        typer.Option("--fixture", help="A captain's workbook for rota lineup instead."),
    ] = False,
    force: Annotated[
        bool, typer.Option("--force", help="Write over a file that is there.")
    ] = False,
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Write an event workbook to fill in: players, courts, rounds and wishes.

    Every heading explains itself, lists can be picked from, and two example
    rows a sheet show what is meant. Then: rota plan EVENT.xlsx

    With --fixture it is a captain's workbook: squad, fixtures with everybody's
    answers, the league's conditions. Then: rota lineup FIXTURE.xlsx
    """
    _check_target(event, force=force)
    from scheduler.exporters.files import write_whole  # noqa: PLC0415  openpyxl is slow to import
    from scheduler.exporters.start_fixture import fixture_workbook_bytes  # noqa: PLC0415
    from scheduler.exporters.start_workbook import start_workbook  # noqa: PLC0415

    form = fixture_workbook_bytes if fixture else start_workbook
    write_whole(event, form(example=example, file_name=event.name))
    if as_json:
        print_json({"written": str(event)})
    elif not quiet:
        sample = "the sample season" if fixture else "the sample evening"
        what = sample if example else "two example rows a sheet"
        command = "lineup" if fixture else "plan"
        say(f"Wrote {event} with {what}.")
        say(f"Fill it in, save it, then run: rota {command} {_quoted(event)}")


def _check_target(event: Path, *, force: bool) -> None:
    if event.suffix.lower() != ".xlsx":
        raise BadInput.one(str(event), "the name of an event workbook must end in .xlsx")
    if event.is_dir():
        raise BadInput.one(str(event), "is a folder")
    if event.exists() and not force:
        raise BadInput.one(
            str(event), "is already there; choose another name, or give --force to write over it"
        )
    if not event.parent.exists():
        raise BadInput.one(str(event.parent), "there is no such folder")


def _quoted(path: Path) -> str:
    text = str(path)
    return f'"{text}"' if " " in text else text
