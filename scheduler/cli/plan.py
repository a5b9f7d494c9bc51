"""``rota plan``: the main job, from an event to sheets that can be pinned up."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from scheduler.cli.console import (
    EXIT_INTERRUPTED,
    JsonOption,
    QuietOption,
    SeedOption,
    answering,
    print_json,
    say,
)
from scheduler.cli.plan_text import plan_text
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
from scheduler.domain.codec import plan_to_dict
from scheduler.domain.errors import BadInput
from scheduler.domain.event import Emphasis
from scheduler.domain.formats import SetFormat

if TYPE_CHECKING:
    from scheduler.domain.event import Event
    from scheduler.domain.plan import Plan
    from scheduler.readers.assembly import ReadEvent


class Effort(StrEnum):
    """How long to search; counted in work, so that a plan repeats."""

    QUICK = "quick"
    NORMAL = "normal"
    THOROUGH = "thorough"


EffortOption = Annotated[
    Effort,
    typer.Option(
        "--effort",
        case_sensitive=False,
        help="How hard to search: about 2 seconds, 5 seconds, or up to 2 minutes.",
    ),
]


@dataclass(frozen=True, slots=True)
class ListOptions:
    """What a bare players list leaves open."""

    courts: int | None
    rounds: int | None
    minutes: int | None
    start: str
    name: str | None

    @property
    def given(self) -> bool:
        """Whether any of the numbers was given."""
        return any(value is not None for value in (self.courts, self.rounds, self.minutes))


@answering
def plan(  # noqa: PLR0913, PLR0917  one parameter an option
    event: Annotated[
        Path,
        typer.Argument(
            metavar="EVENT", help="An event workbook (see rota start), or a players list."
        ),
    ],
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="The folder to write into.")
    ] = Path(),
    courts: Annotated[
        int | None, typer.Option("--courts", help="For a players list: how many courts.")
    ] = None,
    rounds: Annotated[
        int | None, typer.Option("--rounds", help="For a players list: how many rounds of doubles.")
    ] = None,
    minutes: Annotated[
        int | None, typer.Option("--minutes", help="For a players list: minutes a round.")
    ] = None,
    start: Annotated[
        str, typer.Option("--start", help="For a players list: when round 1 starts.")
    ] = "18:00",
    name: Annotated[
        str | None, typer.Option("--name", help="For a players list: what the evening is called.")
    ] = None,
    emphasis: Annotated[
        Emphasis | None,
        typer.Option(
            "--emphasis", case_sensitive=False, help="Overrides the Emphasis of the Event sheet."
        ),
    ] = None,
    exchange: Annotated[
        float | None,
        typer.Option(
            "--exchange",
            min=0,
            max=1000,  # as on the sheet
            help="Under blend: levels of gap that one opponent repeat is worth.",
        ),
    ] = None,
    set_format: Annotated[
        SetFormat | None,
        typer.Option(
            "--set",
            case_sensitive=False,
            help="What is played in a round; overrides the Set of the Event sheet, and says it "
            "for a players list.",
        ),
    ] = None,
    effort: EffortOption = Effort.NORMAL,
    seed: SeedOption = 1,
    season: Annotated[
        Path | None,
        typer.Option(
            "--season", metavar="SEASON.db", help="Count who met whom on earlier evenings."
        ),
    ] = None,
    season_levels: Annotated[
        bool,
        typer.Option("--season-levels", help="With --season: take its levels where it has them."),
    ] = False,
    compare: Annotated[
        bool,
        typer.Option(
            "--compare",
            help="Write no plan; show what variety costs in balance, rate by rate.",
        ),
    ] = False,
    picture: Annotated[
        Path | None,
        typer.Option(
            "--picture", metavar="FILE.png", help="With --compare: draw the curve into a file too."
        ),
    ] = None,
    fit: Annotated[
        bool,
        typer.Option(
            "--fit",
            help="Write no plan; propose minutes for the rounds so that the evening ends by Until.",
        ),
    ] = False,
    formats: FormatsOption = DEFAULT,
    paper: PaperOption = Paper.A4,
    zone: ZoneOption = "",
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Plan an evening: who plays where, with whom and against whom, in every round.

    Example: rota plan evening.xlsx --out tonight

    Example: rota plan players.csv --courts 4 --rounds 6 --minutes 20

    Reads an event workbook, or a players list (.csv, or .xlsx with only a
    Players sheet) with --courts, --rounds and --minutes. Writes plan.json and
    the workbook to pin up, after an independent check of every rule, and
    prints how good the plan is beside what any plan could reach. The same
    input and seed always give the same plan. Press Ctrl-C to stop early with
    the best plan so far.
    """
    from scheduler.workflow.plan import (  # noqa: PLC0415  the engine loads slowly
        make_plan,
        publish,
        verified,
    )
    from scheduler.workflow.season_plan import recalled  # noqa: PLC0415

    forms, zone = parse_formats(formats), parse_zone(zone)
    _check_goes_with("--picture", given=picture is not None, other="--compare", there=compare)
    _check_goes_with(
        "--season-levels", given=season_levels, other="--season", there=season is not None
    )
    read = _read(event, ListOptions(courts, rounds, minutes, start, name))
    known = recalled(
        _overridden(read.event, emphasis, exchange, set_format), season, levels=season_levels
    )
    if known.told and not quiet:
        say(known.told, error=as_json)
    wanted = known.event
    if fit:
        _tell_fit(wanted, as_json=as_json)
        return
    if compare:
        _tell_curve(wanted, seed, effort, picture, as_json=as_json, quiet=quiet)
        return
    with progress(silent=as_json or quiet) as report:
        made = make_plan(
            wanted,
            seed=seed,
            effort=effort.value,
            warnings=(*read.warnings, *known.questions),
            report=report,
            pace=known.pace,
        )
    made = replace(made, plan=verified(known.seen_in(made.plan)))
    files = publish(made.plan, out, forms, paper.value, zone)
    if as_json:
        print_json(plan_to_dict(made.plan))
    else:
        _tell(made.plan, files, quiet=quiet)
    if made.interrupted:
        say(f"Interrupted: the best plan so far is saved as {files[0]}", error=True)
        raise typer.Exit(EXIT_INTERRUPTED)


def _tell(plan: Plan, files: tuple[Path, ...], *, quiet: bool) -> None:
    """Print the plan and the files, and last what the organiser should know."""
    if not quiet:
        say(plan_text(plan))
        say("\n".join(f"Wrote {path}" for path in files))
    for warning in plan.warnings:
        say(f"Please note: {warning}", error=True)


def _check_goes_with(option: str, *, given: bool, other: str, there: bool) -> None:
    """End with a usage error where an option means nothing without another."""
    if given and not there:
        raise typer.BadParameter(f"goes with {other}", param_hint=option)


def _read(path: Path, options: ListOptions) -> ReadEvent:
    """Read the event, taking a csv file or one with numbers given for a players list."""
    from scheduler.readers.event_workbook import read_event  # noqa: PLC0415  openpyxl is slow
    from scheduler.readers.players_list import event_from_players  # noqa: PLC0415

    is_list = path.suffix.casefold() in {".csv", ".tsv", ".txt"}
    if not is_list and not options.given:
        return read_event(path)
    if options.courts is None or options.rounds is None or options.minutes is None:
        raise typer.BadParameter(
            "a players list needs all three: --courts, --rounds and --minutes",
            param_hint=path.name,
        )
    return event_from_players(
        path, options.courts, options.rounds, options.minutes, options.start, options.name
    )


def _overridden(
    event: Event,
    emphasis: Emphasis | None,
    exchange: float | None,
    set_format: SetFormat | None,
) -> Event:
    """Return the event with what the command line says in place of the sheet's."""
    return replace(
        event,
        emphasis=event.emphasis if emphasis is None else emphasis,
        exchange=event.exchange if exchange is None else exchange,
        set_format=event.set_format if set_format is None else set_format,
    )


def _tell_fit(event: Event, *, as_json: bool) -> None:
    """Say which minutes would let the evening end in time."""
    from scheduler.workflow.clock import minutes_that_fit  # noqa: PLC0415

    if event.until is None:
        raise BadInput.one("Event", "--fit needs an Until on the Event sheet")
    proposal = minutes_that_fit(event)
    if as_json:
        print_json({"fits": not proposal, "proposal": list(proposal)})
    else:
        say("\n".join(proposal) or "The rounds fit as they are.")


_EASIER = {Effort.QUICK: "quick", Effort.NORMAL: "quick", Effort.THOROUGH: "normal"}
"""Comparing plans the event several times, each with less effort than one plan gets."""


def _tell_curve(  # noqa: PLR0913  each an option of the command
    event: Event, seed: int, effort: Effort, picture: Path | None, *, as_json: bool, quiet: bool
) -> None:
    """Show the curve between variety and balance, and draw it where a picture is wanted."""
    from scheduler.cli.compare_text import curve_document, curve_text  # noqa: PLC0415
    from scheduler.workflow.compare import (  # noqa: PLC0415  the engine loads slowly
        compare,
        write_picture,
    )

    with progress(silent=as_json or quiet) as report:
        curve = compare(event, seed=seed, effort=_EASIER[effort], report=report)
    if picture is not None:
        write_picture(curve, event.name, picture)
    if as_json:
        print_json(curve_document(curve))
    else:
        say(curve_text(curve))
