"""How every command speaks: errors in words with an exit code, or one JSON document.

Exit codes: 0 done, 1 bad input, 2 usage, 3 no plan can keep the musts,
4 the checker disagrees with the engine, 130 interrupted.
"""

from __future__ import annotations

import functools
import json
import os
import sys
from collections.abc import Callable
from typing import Annotated, Any, ParamSpec

import typer

from scheduler.cli.advice import advice_on, heading_of
from scheduler.domain.errors import BadInput, CheckerDisagrees, Fault, NoPlan, RotaError

P = ParamSpec("P")

SHOW_TRACEBACK = "ROTA_TRACEBACK"
"""Set in the environment, it lets a fault of the program itself show where it is."""

EXIT_BAD_INPUT = 1
EXIT_USAGE = 2
EXIT_NO_PLAN = 3
EXIT_CHECKER = 4
EXIT_INTERRUPTED = 130

JsonOption = Annotated[
    bool, typer.Option("--json", help="Print one JSON document on stdout and nothing else there.")
]
QuietOption = Annotated[
    bool, typer.Option("--quiet", "-q", help="Print nothing but errors and what was asked for.")
]
SeedOption = Annotated[
    int,
    typer.Option("--seed", help="Everything random comes from this number.", show_default=True),
]


def answering(command: Callable[P, None]) -> Callable[P, None]:
    """Wrap a command so that no user ever meets a traceback.

    A `RotaError` becomes one line a fault on stderr (or, when the command has
    a true ``as_json`` argument, one document on stdout) and its exit code.
    """

    @functools.wraps(command)
    def wrapped(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except RotaError as error:
            _report(
                error,
                as_json=bool(kwargs.get("as_json")),
                tonight=command.__name__ == "replan",
            )
            raise typer.Exit(_exit_code(error)) from None
        except typer.BadParameter as error:
            if not kwargs.get("as_json"):
                raise
            _report(BadInput.one(str(error.param_hint or ""), error.message), as_json=True)
            raise typer.Exit(EXIT_USAGE) from None
        except OSError as error:
            fault = Fault(str(error.filename or ""), error.strerror or str(error))
            _report(BadInput([fault]), as_json=bool(kwargs.get("as_json")))
            raise typer.Exit(EXIT_BAD_INPUT) from None
        except KeyboardInterrupt:
            say("Interrupted.", error=True)
            raise typer.Exit(EXIT_INTERRUPTED) from None
        except (typer.Exit, typer.Abort):
            raise
        except Exception as error:
            if os.environ.get(SHOW_TRACEBACK):
                raise
            _report(BadInput.one("", _own_fault(error)), as_json=bool(kwargs.get("as_json")))
            raise typer.Exit(EXIT_CHECKER) from None

    return wrapped


def _own_fault(error: Exception) -> str:
    """Say that the fault is the program's own, and how to see where."""
    return (
        f"this is a fault in rota itself ({type(error).__name__}: {error}); "
        f"please report it, with what {SHOW_TRACEBACK}=1 shows when you run it again"
    )


def say(text: str, *, error: bool = False) -> None:
    """Print a line of plain text; errors and progress go to stderr."""
    typer.echo(text, err=error)


def print_json(document: Any) -> None:
    """Print one JSON document on stdout."""
    json.dump(document, sys.stdout, ensure_ascii=False, indent=1)
    sys.stdout.write("\n")


def faults_of(error: RotaError) -> list[Fault]:
    """Return what an error says as a list of faults, one a line."""
    if isinstance(error, BadInput):
        return list(error.faults)
    if isinstance(error, NoPlan):
        return [_from_sentence(text) for text in error.conflict]
    if isinstance(error, CheckerDisagrees):
        return [Fault("", text) for text in error.faults]
    return [Fault("", str(error))]


def _from_sentence(text: str) -> Fault:
    where, colon, what = text.partition(": ")
    return Fault(where, what) if colon and "!" in where else Fault("", text)


def _report(error: RotaError, *, as_json: bool, tonight: bool = False) -> None:
    faults = faults_of(error)
    if as_json:
        print_json({"faults": [{"where": fault.where, "what": fault.what} for fault in faults]})
        return
    heading = _heading(error)
    if heading:
        say(heading, error=True)
    for fault in faults:
        say(str(fault), error=True)
    if isinstance(error, NoPlan):
        for text in advice_on(error.conflict, proven=error.proven, tonight=tonight):
            say(text, error=True)


def _heading(error: RotaError) -> str:
    if isinstance(error, NoPlan):
        return heading_of(error.conflict, proven=error.proven)
    if isinstance(error, CheckerDisagrees):
        return "The checker refused the engine's plan, so nothing was written. Please report this:"
    return ""


def _exit_code(error: RotaError) -> int:
    if isinstance(error, NoPlan):
        return EXIT_NO_PLAN
    if isinstance(error, CheckerDisagrees):
        return EXIT_CHECKER
    return EXIT_BAD_INPUT
