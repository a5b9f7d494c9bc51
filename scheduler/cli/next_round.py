"""``rota next``: who plays where in the next up and down round."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Annotated

import typer

from scheduler.cli.console import JsonOption, QuietOption, answering
from scheduler.cli.night_options import (
    OutOption,
    OwnSeedOption,
    PlanArgument,
    SeasonOption,
    answer,
    read_for_tonight,
)
from scheduler.cli.plan import Effort, EffortOption
from scheduler.cli.progress import progress
from scheduler.cli.sheets import (
    DEFAULT,
    FormatsOption,
    Paper,
    PaperOption,
    ZoneOption,
    parse_formats,
    parse_zone,
)
from scheduler.domain.errors import BadInput
from scheduler.domain.plan import Plan

_WORKBOOKS = {".xlsx", ".xlsm"}


@answering
def next_round(  # noqa: PLR0913, PLR0917  one parameter an option
    plan_file: PlanArgument,
    scores: Annotated[
        list[str] | None,
        typer.Option(
            "--scores",
            metavar="COURT=SCORE",
            help="A match's score, the games of the team named first in front; may be repeated. "
            "Or the name of the workbook with the scores typed in, or of a text file with a score "
            "on each line.",
        ),
    ] = None,
    out: OutOption = None,
    effort: EffortOption = Effort.NORMAL,
    seed: OwnSeedOption = None,
    season: SeasonOption = None,
    formats: FormatsOption = DEFAULT,
    paper: PaperOption = Paper.A4,
    zone: ZoneOption = "",
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Seat the next up and down round from the results of the last one.

    Example: rota next plan.json --scores "Court 1=6-4" --scores "Court 2=3-5"

    Winners move one court up, losers one down; the first court of the list is
    the top one. Partners are split. Who is furthest behind a fair share of
    rests sits out, and who comes in takes the seats left free.

    Where a score is level, the team with the lower sum of levels counts as
    the winner; where there is none, the team with the higher sum; with equal
    sums the team named second. A court goes by its name or its number. Several
    sets have blanks between: 2=6-4 3-6 10-7. The lines a phone copies out are
    understood, too, and so is the workbook once scores are typed in and saved:
    rota next plan.json --scores "Club evening.xlsx"

    The first up and down round is seated by rota plan: the strongest on the
    first court, or, with Levels set to mixed, drawn as an ordinary round of
    doubles.
    """
    from scheduler.workflow.next_round import seat_next  # noqa: PLC0415  the engine loads slowly
    from scheduler.workflow.revisions import publish_revision  # noqa: PLC0415

    forms, zone = parse_formats(formats), parse_zone(zone)
    plan, remarks = read_for_tonight(plan_file)
    texts = [text for given in scores or () for text in _texts(given, plan)]
    with progress(silent=as_json or quiet) as report:
        result = seat_next(
            plan, texts, seed=seed, effort=effort.value, report=report, season=season
        )
    files, kept = publish_revision(result.plan, plan_file, out, forms, paper.value, zone)
    answer(result, files, (*remarks, *kept), as_json=as_json, quiet=quiet)


def _texts(given: str, plan: Plan) -> list[str]:
    """Return the lines of what was typed, or of a file of that name."""
    text = given
    if os.path.isfile(given):  # noqa: PTH113  Path.is_file raises where a text is very long
        if Path(given).suffix.casefold() in _WORKBOOKS:
            from scheduler.workflow.workbook_lines import lines_of_workbook  # noqa: PLC0415

            return lines_of_workbook(Path(given), plan)
        try:
            text = Path(given).read_text(encoding="utf-8-sig")
        except UnicodeDecodeError:
            raise BadInput.one(given, "is not UTF-8 text") from None
    lines = [line.strip() for line in text.splitlines()]
    said = [line for line in lines if line and not line.startswith("#")]
    return said if said or text != given else [given]
