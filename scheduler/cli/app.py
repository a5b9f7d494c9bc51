"""The tree of commands, one file each, and the way out of the program."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from scheduler import __version__
from scheduler.cli import (
    cards,
    check,
    lineup,
    plan,
    serving_order,
    sheets,
    start,
    timing,
    whose_serve,
)

app = typer.Typer(
    name="rota",
    help="Plans a club evening: drill rounds and social doubles on your courts, fair and varied, "
    "with serving-order cards.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)

# app.command("NAME")(module.function) lines, one a command file:
app.command("start")(start.start)
app.command("plan")(plan.plan)
app.command("check")(check.check)
app.command("cards")(cards.cards)
app.command("lineup")(lineup.lineup)
app.command("serving-order")(serving_order.serving_order)
app.command("timing")(timing.timing)
app.command("sheets")(sheets.sheets)
app.command("whose-serve")(whose_serve.whose_serve)


def _print_version(value: bool) -> None:
    if value:
        typer.echo(f"rota {__version__}")
        raise typer.Exit


@app.callback()
def rota(
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_print_version, is_eager=True, help="Print the version and stop."
        ),
    ] = False,
) -> None:
    """Plan a club evening, print it, change it on the night, remember it."""


def run() -> None:
    """Run the command line, with UTF-8 on both streams whatever the console says."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    app()
