"""``rota lineup``: the captain's pairs, for the next fixture and the whole season."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from scheduler.cli.console import (
    JsonOption,
    QuietOption,
    SeedOption,
    answering,
    print_json,
    say,
)
from scheduler.cli.plan import Effort, EffortOption
from scheduler.cli.sheets import Paper, PaperOption
from scheduler.domain.errors import BadInput
from scheduler.domain.fixture import Aim, Partnering


@answering
def lineup(  # noqa: PLR0913, PLR0917  one parameter an option
    fixture: Annotated[
        Path,
        typer.Argument(
            metavar="FIXTURE.xlsx", help="A fixture workbook (see rota start --fixture)."
        ),
    ],
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="The folder to write into.")
    ] = Path(),
    date: Annotated[
        str,
        typer.Option(
            "--date", help="Only the fixture of this date, such as 2031-05-24, by itself."
        ),
    ] = "",
    withdrawn: Annotated[
        list[str] | None,
        typer.Option(
            "--withdrawn",
            metavar="NAME",
            help="Cannot play after all: change what was announced with the fewest people moved. "
            "May be repeated.",
        ),
    ] = None,
    aim: Annotated[
        Aim | None,
        typer.Option("--aim", case_sensitive=False, help="Overrides the Aim of the Team sheet."),
    ] = None,
    partners: Annotated[
        Partnering | None,
        typer.Option(
            "--partners", case_sensitive=False, help="Overrides the Partners of the Team sheet."
        ),
    ] = None,
    effort: EffortOption = Effort.NORMAL,
    seed: SeedOption = 1,
    paper: PaperOption = Paper.A4,
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Pick the pairs for a league fixture: who plays, with whom, on which line, and why.

    Example: rota lineup league.xlsx --out saturday

    Example: rota lineup league.xlsx --out saturday --withdrawn "Ana Cvijic"

    Shares out all fixtures to come fairly and shows the next one with four
    alternatives. What stands on the Played sheet is never changed. Writes the
    team sheet to hand over with the captain's notes and the season's grid
    (.xlsx), a message to paste (.txt) and lineup.json. With --withdrawn, an
    hour before, it starts from the lineup.json in the folder; run again
    without it, whoever withdrew stays out and the next revision is written.
    Delete lineup.json to start afresh.
    """
    from scheduler.lineup.work import work_for  # noqa: PLC0415  keeps the help quick
    from scheduler.readers.fixture_workbook import read_fixtures  # noqa: PLC0415  openpyxl is slow
    from scheduler.workflow.lineup import (  # noqa: PLC0415
        Wanted,
        mend_lineup,
        pick_lineups,
        write_lineups,
    )

    read = read_fixtures(fixture)
    wanted = Wanted(_iso(date), aim, partners)
    work = work_for(effort.value, seed)
    if withdrawn:
        picked = mend_lineup(read.season, wanted, tuple(withdrawn), out, work)
    else:
        picked = pick_lineups(read.season, wanted, work, read.warnings, out)
    files = write_lineups(picked, out, paper.value)
    if as_json:
        print_json(picked.shown)
        return
    for warning in picked.answer.warnings:
        say(f"Please note: {warning}", error=True)
    if not quiet:
        from scheduler.cli.lineup_text import lineup_text  # noqa: PLC0415

        say(lineup_text(picked.answer, picked.fixture))
        say("\n".join(f"Wrote {path}" for path in files))


def _iso(date: str) -> str:
    """Return a date as the workbook's reader gives it."""
    if not date:
        return ""
    from scheduler.readers.fields import as_date  # noqa: PLC0415

    try:
        return as_date(date)
    except ValueError as error:
        raise BadInput.one("--date", str(error)) from None
