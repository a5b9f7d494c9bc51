"""``rota replan``: the night changes, what was played stays."""

from __future__ import annotations

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


@answering
def replan(  # noqa: PLR0913, PLR0917  one parameter an option
    plan_file: PlanArgument,
    after: Annotated[
        int,
        typer.Option(
            "--after",
            metavar="R",
            min=0,
            help="The last round played, or being played; 0 before the first.",
            show_default=False,
        ),
    ],
    absent: Annotated[
        list[str] | None,
        typer.Option("--absent", metavar="NAME", help="Somebody leaves, or does not come."),
    ] = None,
    no_show: Annotated[
        list[str] | None,
        typer.Option(
            "--no-show",
            metavar="NAME",
            help="Somebody in the plan of a round played never came; the round stands, but "
            "does not count for them.",
        ),
    ] = None,
    add: Annotated[
        list[str] | None,
        typer.Option(
            "--add",
            metavar="NAME,LEVEL",
            help="Somebody comes for the next round; NAME,LEVEL,GROUP where rounds need a group, "
            "NAME alone for somebody of the list who was not expected any more, or who left and "
            "is back.",
        ),
    ] = None,
    lost_court: Annotated[
        list[str] | None,
        typer.Option("--lost-court", metavar="COURT", help="A court is lost for the rest."),
    ] = None,
    swap: Annotated[
        list[str] | None,
        typer.Option(
            "--swap", metavar="NAME,NAME", help="Two people exchange seats in the next round."
        ),
    ] = None,
    unfinished: Annotated[
        list[str] | None,
        typer.Option(
            "--unfinished",
            metavar="COURT",
            help="The match there in round R was broken off; the round stands.",
        ),
    ] = None,
    least_change: Annotated[
        bool,
        typer.Option(
            "--least-change",
            help="Move as few people as possible from the printed plan, instead of planning the "
            "best rest of the evening.",
        ),
    ] = False,
    ease: Annotated[
        list[str] | None,
        typer.Option(
            "--ease",
            metavar="CELL",
            help="A must that cannot be kept any more is a should from now on; CELL is its place "
            "on the Wishes sheet, such as A4.",
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
    """Keep rounds 1 to R as they were and plan the rest again.

    Example: rota replan plan.json --after 3 --absent Mary --lost-court 4

    Example: rota replan plan.json --after 0 --absent Tom --least-change

    Example: rota replan plan.json --after 1 --no-show Tom

    Example: rota replan plan.json --after 2 --add "Ada,4.5" --swap "Bo,Cy"

    Options may be repeated. People and courts go by name, or by their number
    in the players list or the list of courts. Rests and meetings count over
    the whole evening, what was played included. Prints, a line a person, who
    leaves or comes, who has another place and who only other company, and
    last the next round, court by court, to call out; writes the next revision
    beside the plan, which stays as it is. The played rounds are the same to
    the letter.

    With --no-show a round played keeps its seats and gets a note: the match
    counts as not played, the round does not count for who never came, and the
    others are not taken to have rested.

    A swap that would break a must, the rules of the round or somebody's
    presence is refused. It may make rests unfair, which the rounds after it
    then make good as far as they can.

    A place in an up and down round that was seated from results stays where
    it is; one whose results are still to come is open again.
    """
    from scheduler.workflow.night import Night  # noqa: PLC0415  the engine loads slowly
    from scheduler.workflow.replan import replan as plan_again  # noqa: PLC0415
    from scheduler.workflow.revisions import publish_revision  # noqa: PLC0415

    forms, zone = parse_formats(formats), parse_zone(zone)
    plan, remarks = read_for_tonight(plan_file)
    night = Night(
        after=after,
        absent=tuple(absent or ()),
        add=tuple(add or ()),
        lost_courts=tuple(lost_court or ()),
        swaps=tuple(swap or ()),
        unfinished=tuple(unfinished or ()),
        least_change=least_change,
        no_shows=tuple(no_show or ()),
        eased=tuple(ease or ()),
    )
    with progress(silent=as_json or quiet) as report:
        result = plan_again(
            plan, night, seed=seed, effort=effort.value, report=report, season=season
        )
    files, kept = publish_revision(result.plan, plan_file, out, forms, paper.value, zone)
    answer(result, files, (*remarks, *kept), as_json=as_json, quiet=quiet, after=after)
