"""``rota timing``: how long a format takes, and what fits into a round."""

from __future__ import annotations

import math
from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any, NoReturn

import typer

from scheduler.cli.console import JsonOption, answering, print_json, say
from scheduler.cli.timing_text import fit_text, length_text
from scheduler.domain.errors import Fault
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing import ORIGINS, UNITS, Pace
from scheduler.workflow.timing import (
    TIMED_MINUTES,
    FormatsThatFit,
    LengthOfPlay,
    formats_that_fit,
    length_of_play,
)
from scheduler.workflow.timing_players import Play, who_plays

_EXIT_USAGE = 2
_PACE = Pace()

_SECONDS = "SECONDS"


@answering
def timing(  # noqa: PLR0913, PLR0917  one parameter an option
    points_won: Annotated[
        str | None,
        typer.Option(
            "--points-won",
            metavar="P,Q",
            help="Chance that the first team wins a point on its own serve, and the second on "
            "its: 0.6,0.55. Or one for each server: 0.62,0.58/0.55,0.5.",
        ),
    ] = None,
    levels: Annotated[
        str | None,
        typer.Option(
            "--levels",
            metavar="A,A/B,B",
            help="The four players' levels instead, 1 to 10: 3.0,3.5/4.0,2.5. What a level is "
            "worth is an invented default. Without either, the teams are even.",
        ),
    ] = None,
    set_format: Annotated[
        SetFormat | None,
        typer.Option(
            "--set",
            case_sensitive=False,
            help="What is played; a tie-break set without it. With --fit, only this.",
        ),
    ] = None,
    game: Annotated[
        GameFormat | None,
        typer.Option(
            "--game",
            case_sensitive=False,
            help="With advantage, or one point at 40-40; with advantage without it.",
        ),
    ] = None,
    courts: Annotated[
        int, typer.Option("--courts", min=1, max=200, help="Courts that all have to finish.")
    ] = 1,
    fit: Annotated[
        float | None,
        typer.Option(
            "--fit", metavar="MINUTES", help="List which formats are over within these minutes."
        ),
    ] = None,
    minutes: Annotated[
        float | None,
        typer.Option(
            "--minutes",
            metavar="MINUTES",
            help=f"Length of a timed round, changeover and knock-up included; "
            f"{TIMED_MINUTES:g} without it.",
        ),
    ] = None,
    beginners: Annotated[
        bool, typer.Option("--beginners", help="The players are beginners: play is slower.")
    ] = False,
    rally: Annotated[
        float, typer.Option(metavar=_SECONDS, help="From the serve to the end of the point.")
    ] = _PACE.rally,
    between_points: Annotated[
        float, typer.Option(metavar=_SECONDS, help="From a point's end to the next serve.")
    ] = _PACE.between_points,
    change_of_ends: Annotated[
        float, typer.Option(metavar=_SECONDS, help="The same at a change of ends with a rest.")
    ] = _PACE.change_of_ends,
    knock_up: Annotated[
        float, typer.Option(metavar=_SECONDS, help="Knocking up before the first point.")
    ] = _PACE.knock_up,
    changeover: Annotated[
        float, typer.Option(metavar=_SECONDS, help="From the round's start to the knock-up.")
    ] = _PACE.changeover,
    factor: Annotated[
        float, typer.Option(help="Multiplies the time of play: 1.1 is a tenth slower.")
    ] = _PACE.factor,
    beginner_factor: Annotated[
        float, typer.Option(help="Multiplies it besides where beginners play.")
    ] = _PACE.beginner_factor,
    beginner_below: Annotated[
        float,
        typer.Option(metavar="LEVEL", help="Beginners: players whose mean level is below this."),
    ] = _PACE.beginner_below,
    season: Annotated[
        Path | None,
        typer.Option(
            "--season", metavar="SEASON.db", help="Take --factor from lengths noted there."
        ),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """How long a game, a set and a round take, and which format fits the clock.

    Minutes count from the round's start to the end of the last point on the
    last court: half of such rounds are done by the median, 80 % and 95 % by
    the other two. Every default is listed with where it comes from.

    Example: rota timing --set "short set" --game no-ad --courts 4

    Example: rota timing --fit 25 --courts 4
    """
    if (fault := _contradiction(points_won, levels, set_format, fit, minutes)) is not None:
        _usage(fault, as_json=as_json)
    pace = Pace(
        rally=rally,
        between_points=between_points,
        change_of_ends=change_of_ends,
        knock_up=knock_up,
        changeover=changeover,
        factor=factor if season is None else _learned_factor(season),
        beginner_factor=beginner_factor,
        beginner_below=beginner_below,
    )
    play = who_plays(points_won, levels, courts, pace, beginners)
    if fit is not None:
        found = formats_that_fit(play, fit, set_format, game)
        if as_json:
            print_json({"fit": _fit_document(found), **_shared_document(play)})
        else:
            say(fit_text(play, found))
        return
    length = length_of_play(
        play,
        set_format or SetFormat.TIE_BREAK,
        game or GameFormat.AD,
        TIMED_MINUTES if minutes is None else minutes,
    )
    if as_json:
        print_json({**_length_document(length), **_shared_document(play)})
    else:
        say(length_text(play, length))


def _contradiction(
    points_won: str | None,
    levels: str | None,
    set_format: SetFormat | None,
    fit: float | None,
    minutes: float | None,
) -> Fault | None:
    """Return which two options cannot both be meant, if any."""
    if points_won is not None and levels is not None:
        return Fault("--points-won, --levels", "give chances of a point or levels, not both")
    if minutes is not None and fit is not None:
        return Fault("--minutes, --fit", "--fit gives the minutes already")
    if minutes is not None and set_format is not SetFormat.TIMED:
        what = "only a timed round has a length to give: --set timed, or --fit to see what fits"
        return Fault("--minutes", what)
    return None


def _usage(fault: Fault, *, as_json: bool) -> NoReturn:
    if as_json:
        print_json({"faults": [{"where": fault.where, "what": fault.what}]})
    else:
        say(str(fault), error=True)
    raise typer.Exit(_EXIT_USAGE)


def _length_document(length: LengthOfPlay) -> dict[str, Any]:
    document: dict[str, Any] = {
        "set": str(length.set_format),
        "game": str(length.game_format),
        "game_chance": list(length.game_chance),
        "game_chance_by_server": list(length.holds),
        "tie_break_chance": length.tie_break_chance,
        "set_chance": length.set_chance,
        "games_mean": length.games_mean,
        "points_mean": length.points_mean,
        "minutes": _finite(asdict(length.every_court)),
        "minutes_one_court": _finite(asdict(length.one_court)),
    }
    if length.timed is not None:
        document["timed"] = _timed_document(length)
    return document


def _timed_document(length: LengthOfPlay | FormatsThatFit) -> dict[str, Any]:
    timed = length.timed
    assert timed is not None
    return {
        "games": list(timed.games),
        "games_mean": timed.games_mean,
        "level_chance": timed.level,
        "served_equally": timed.served_equally,
        "everyone_served": timed.everyone_served,
    }


def _fit_document(found: FormatsThatFit) -> dict[str, Any]:
    return {
        "minutes": found.minutes,
        "formats": [
            {
                "set": str(fit.set_format),
                "game": str(fit.game_format),
                "done_in_time": fit.done_in_time,
                "fits_80": fit.done_in_time >= 0.8,
                "fits_95": fit.done_in_time >= 0.95,
                "minutes": _finite({"median": fit.median, "p80": fit.p80, "p95": fit.p95}),
            }
            for fit in found.formats
        ],
        "timed": _timed_document(found),
    }


def _shared_document(play: Play) -> dict[str, Any]:
    return {
        "courts": play.courts,
        "points_won": list(play.court.servers.chances),
        "points_won_from": play.basis,
        "slower_by": play.court.times,
        "defaults": {
            name: {
                "value": getattr(play.pace, name),
                "unit": UNITS[name],
                "origin": _origin(play, name),
            }
            for name in ORIGINS
        },
    }


def _origin(play: Play, name: str) -> str:
    return ORIGINS[name] if getattr(play.pace, name) == getattr(_PACE, name) else "given"


def _finite(minutes: dict[str, float]) -> dict[str, float | None]:
    """Return minutes as JSON can hold them: null where a tail is too long to tell."""
    return {
        name: round(value, 4) if math.isfinite(value) else None for name, value in minutes.items()
    }


def _learned_factor(season: Path) -> float:
    """Return the factor a season has taught; sqlite loads only for who asks."""
    from scheduler.season.lengths import learned_pace  # noqa: PLC0415

    return learned_pace(season).factor
