"""The tree of commands, one file each, and the way out of the program.

A command's file is imported only when the command is called (or all help is
asked for), so that ``rota whose-serve`` does not wait for the workbooks.
"""

from __future__ import annotations

import sys
from importlib import import_module
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from scheduler import __version__
from scheduler.cli.console import print_json
from scheduler.domain.suggest import hint

COMMANDS = {
    "start": "start",
    "plan": "plan",
    "check": "check",
    "sheets": "sheets",
    "replan": "replan",
    "next": "next_round",
    "cards": "cards",
    "serving-order": "serving_order",
    "whose-serve": "whose_serve",
    "timing": "timing",
    "scores": "scores",
    "standings": "standings",
    "levels": "levels",
    "season": "season",
    "lineup": "lineup",
}
"""Commands by name, in the order of the help; the file in this folder and the function in it."""

SETTINGS = {"help_option_names": ["-h", "--help"]}
_UsageError = typer.BadParameter.__mro__[1]
"""What is raised where words and options do not fit; typer gives it no public name."""


class LateCommands(TyperGroup):
    """The commands, each imported when it is first looked at."""

    def main(self, *given: Any, **options: Any) -> Any:
        """Run a command; with ``--json`` what does not fit its options is a document too."""
        words = given[0] if given else options.get("args")
        words = sys.argv[1:] if words is None else words
        if not options.get("standalone_mode", True) or "--json" not in words:
            return super().main(*given, **options)
        try:
            code = super().main(*given, **{**options, "standalone_mode": False})
        except Exception as error:
            if not isinstance(error, _UsageError):
                raise
            print_json({"faults": [_misuse(error)]})
            code = getattr(error, "exit_code", 2)
        sys.exit(code if isinstance(code, int) else 0)

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002  typer's own signature
        """Return the names in the order of the help."""
        return list(COMMANDS)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """Return the command, or end with a usage error and the nearest name."""
        if cmd_name not in COMMANDS:
            ctx.fail(f"there is no command '{cmd_name}'{hint(cmd_name, COMMANDS)}")
        module = COMMANDS[cmd_name]
        found = getattr(import_module(f"scheduler.cli.{module}"), module)
        if isinstance(found, typer.Typer):
            group = typer.main.get_command(found)
            group.name = cmd_name
            return group
        alone = typer.Typer(
            add_completion=False, pretty_exceptions_enable=False, context_settings=SETTINGS
        )
        alone.command(cmd_name)(found)
        return typer.main.get_command(alone)


def _misuse(error: Any) -> dict[str, str]:
    """Return what does not fit, with the option or argument it is about where there is one."""
    param = getattr(error, "param", None)
    names = [getattr(error, "option_name", None), *getattr(param, "opts", ())]
    if getattr(param, "param_type_name", "") == "argument":
        names.insert(0, getattr(param, "metavar", None))
    return {"where": next(filter(None, names), ""), "what": error.format_message()}


app = typer.Typer(
    cls=LateCommands,
    name="rota",
    help="Plans a club evening: drill rounds and social doubles on your courts, fair and varied, "
    "with serving-order cards.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    context_settings=SETTINGS,
)


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
