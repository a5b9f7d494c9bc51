"""``rota season``: the season as a workbook and back, names put right, short names."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from scheduler.cli.columns import columns
from scheduler.cli.console import JsonOption, QuietOption, answering, print_json, say
from scheduler.cli.standings import SeasonArgument
from scheduler.domain.clock import DAY, parse_time
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import GameFormat, SetFormat

season = typer.Typer(
    help="The season as a workbook and back; names put right; short names for the public.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


@season.command("export")
@answering
def export(
    season_file: SeasonArgument,
    workbook: Annotated[
        Path, typer.Argument(metavar="WORKBOOK.xlsx", help="The workbook to write.")
    ],
    force: Annotated[
        bool, typer.Option("--force", help="Write over a workbook that is there.")
    ] = False,
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Write the whole season into a workbook.

    Example: rota season export club.db club.xlsx

    The first sheets (Evenings, Results, People, Levels over time) are for reading. The sheets
    that begin with "data" hold everything the season remembers, corrections
    included; rota season import makes the same season of them again.
    """
    from scheduler.workflow.season_tables import export_season  # noqa: PLC0415  loads slowly

    if workbook.suffix.casefold() != ".xlsx":
        raise BadInput.one(str(workbook), "must end in .xlsx")
    if workbook.exists() and not force:
        raise BadInput.one(str(workbook), "is there already; --force writes over it")
    export_season(season_file, workbook)
    _done(workbook, as_json=as_json, quiet=quiet)


@season.command("import")
@answering
def import_(
    workbook: Annotated[
        Path, typer.Argument(metavar="WORKBOOK.xlsx", help="A workbook that was exported.")
    ],
    season_file: Annotated[
        Path, typer.Argument(metavar="SEASON.db", help="The season file to make.")
    ],
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Make a season file of an exported workbook, row for row.

    Example: rota season import club.xlsx club-again.db

    It never writes over a season file. Only the sheets that begin with "data"
    are read: to correct a score, type it into the evening's workbook and use
    rota scores.
    """
    from scheduler.workflow.season_tables import import_season  # noqa: PLC0415  loads slowly

    import_season(workbook, season_file)
    _done(season_file, as_json=as_json, quiet=quiet)


@season.command("length")
@answering
def length(  # noqa: PLR0913, PLR0917  one parameter an option
    season_file: SeasonArgument,
    set_format: Annotated[
        SetFormat, typer.Option("--set", case_sensitive=False, help="What was played.")
    ],
    began: Annotated[
        str, typer.Option("--began", metavar="HH:MM", help="When the four walked on.")
    ],
    ended: Annotated[
        str, typer.Option("--ended", metavar="HH:MM", help="When the last point was over.")
    ],
    game: Annotated[
        GameFormat, typer.Option("--game", case_sensitive=False, help="How games were scored.")
    ] = GameFormat.AD,
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Note how long a court really took; estimates with --season learn from it.

    Example: rota season length club.db --set "short set" --began 18:52 --ended 19:20

    The knock-up counts, the changeover before it does not. Timed rounds are
    not learned from, since the bell and not the play ends them.
    """
    from scheduler.season.lengths import record_length  # noqa: PLC0415  loads slowly
    from scheduler.timing import RecordedMatch  # noqa: PLC0415

    minutes = _minutes_between(began, ended)
    learned = record_length(season_file, RecordedMatch(set_format, game, minutes))
    if as_json:
        print_json({"minutes": minutes, "matches": learned.matches, "factor": learned.factor})
    elif not quiet:
        say(
            f"{minutes} minutes noted. From {learned.matches} lengths, play here takes "
            f"{learned.factor:.2f} times as long as the stated defaults."
        )


def _minutes_between(began: str, ended: str) -> int:
    """Return the minutes from one time of day to a later one, past midnight where need be."""
    faults, times = [], []
    for option, text in (("--began", began), ("--ended", ended)):
        try:
            times.append(parse_time(text))
        except ValueError as error:
            faults.append(Fault(option, str(error)))
    if faults:
        raise BadInput(faults)
    return (times[1] - times[0]) % DAY


@season.command("rename")
@answering
def rename(
    season_file: SeasonArgument,
    old: Annotated[str, typer.Argument(metavar="OLD", help="The name as it is now.")],
    new: Annotated[str, typer.Argument(metavar="NEW", help="The name as it should be.")],
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Give a person another name, on all evenings; the old spelling stays known.

    Example: rota season rename club.db "Jon Smyth" "John Smyth"
    """
    from scheduler.season.naming import rename as rename_person  # noqa: PLC0415  loads slowly

    was = rename_person(season_file, old, new)
    if as_json:
        print_json({"was": was, "now": new})
    elif not quiet:
        say(f"{was} is now {new}.")


@season.command("merge")
@answering
def merge(
    season_file: SeasonArgument,
    gone: Annotated[str, typer.Argument(metavar="NAME", help="The name that goes.")],
    kept: Annotated[str, typer.Argument(metavar="INTO", help="The name that stays.")],
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Make one person of two who were recorded apart, with everything both have played.

    Example: rota season merge club.db "A. Birch" "Ada Birch"

    Refused where both took part in one evening. Both spellings stay known.
    """
    from scheduler.season.naming import merge as merge_people  # noqa: PLC0415  loads slowly

    first, second = merge_people(season_file, gone, kept)
    if as_json:
        print_json({"merged": first, "into": second})
    elif not quiet:
        say(f"{first} is {second} from now on, and on all evenings so far.")


@season.command("names")
@answering
def names(
    season_file: SeasonArgument,
    short: Annotated[
        list[str] | None,
        typer.Option(
            "--short",
            metavar="NAME=SHORT",
            help="The short name of a person; NAME= takes it back. Repeats.",
        ),
    ] = None,
    show: Annotated[
        str | None,
        typer.Option(
            "--show",
            metavar="full|short",
            help="How tables of this season show names from now on.",
        ),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """List everybody with the short name for pages and sheets that anybody may read.

    Example: rota season names club.db --show short --short "Ada Birch=Ace"

    A short name is the first name and as much of the last as tells people
    apart ("Ada B."), unless one is given. With --show short, standings and
    levels use them; --public does so once.
    """
    from scheduler.season.naming import (  # noqa: PLC0415  loads slowly
        PublicNames,
        public_names,
        set_public_names,
    )

    style = None
    if show is not None:
        if show not in list(PublicNames):
            raise typer.BadParameter(f'must be full or short, got "{show}"', param_hint="--show")
        style = PublicNames(show)
    if short or style is not None:
        given = dict(_name_and_short(text) for text in short or [])
        set_public_names(season_file, style, given)
    chosen, shorts = public_names(season_file)
    if as_json:
        print_json({"show": chosen, "names": shorts})
    else:
        rows = sorted(shorts.items())
        say("\n".join([*([columns(rows)] if rows else []), f"Tables show {chosen} names."]))


def _name_and_short(text: str) -> tuple[str, str]:
    name, equals, short = text.partition("=")
    if not equals or not name.strip():
        raise typer.BadParameter(f'must look like "Ada Birch=Ada", got "{text}"')
    return name.strip(), short.strip()


def _done(path: Path, *, as_json: bool, quiet: bool) -> None:
    if as_json:
        print_json({"files": [str(path)]})
    elif not quiet:
        say(f"Wrote {path}")
