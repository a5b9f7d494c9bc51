"""``rota cards``: serving-order cards to hang on the net posts."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from scheduler.cli.console import JsonOption, QuietOption, answering, print_json, say
from scheduler.cli.sheets import Paper, PaperOption
from scheduler.workflow.cards import CARD_FORMS, known_card_forms, write_cards


class Size(StrEnum):
    """The size of one card."""

    A6 = "a6"
    A5 = "a5"


def _parse_formats(text: str) -> tuple[str, ...]:
    try:
        return known_card_forms(text.replace(";", ",").split(","))
    except ValueError as error:
        raise typer.BadParameter(str(error), param_hint="--formats") from None


@answering
def cards(  # noqa: PLR0913, PLR0917  one parameter an option
    plan_file: Annotated[Path, typer.Argument(metavar="PLAN.json", help="The plan file.")],
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="DIR", help="Where to write; beside the plan if not given."),
    ] = None,
    paper: PaperOption = Paper.A4,
    size: Annotated[
        Size,
        typer.Option("--size", case_sensitive=False, help="a6: four cards a sheet; a5: two."),
    ] = Size.A6,
    formats: Annotated[
        str,
        typer.Option("--formats", help="What to write, with a comma: html to print, xlsx to edit."),
    ] = ",".join(CARD_FORMS),
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Write a card for every doubles match: who serves when, who receives where, when to change.

    Example: rota cards plan.json --paper letter --size a5

    Each card hangs on a net post. Whoever plays writes the winners of every
    game into its box, and the lowest empty box shows who serves next.
    """
    written = write_cards(plan_file, out, _parse_formats(formats), paper, size)
    for remark in written.remarks:
        say(remark, error=True)
    if as_json:
        print_json({"cards": written.cards, "files": [str(path) for path in written.files]})
    elif not quiet:
        for path in written.files:
            say(f"Wrote {path} ({written.cards} cards).")
