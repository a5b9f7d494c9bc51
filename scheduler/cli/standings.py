"""``rota standings``: who won how much, on one evening or over the season."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from scheduler.cli.columns import columns
from scheduler.cli.console import JsonOption, answering, print_json, say
from scheduler.results.standings import Order

if TYPE_CHECKING:
    from scheduler.results import Standing
    from scheduler.workflow.season_tables import Standings

SeasonArgument = Annotated[
    Path, typer.Argument(metavar="SEASON.db", help="The season file that rota scores writes.")
]
TableOption = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE", help="Write the table to a .csv or .xlsx file as well."),
]
PublicOption = Annotated[
    bool,
    typer.Option("--public", help="Short names, fit to be shown where anybody can read them."),
]


@answering
def standings(  # noqa: PLR0913, PLR0917  one parameter an option
    season: SeasonArgument,
    evening: Annotated[
        str | None,
        typer.Option(
            "--evening", help="One evening only: its number, its date, its plan's id, or last."
        ),
    ] = None,
    by: Annotated[
        Order,
        typer.Option(
            "--by",
            case_sensitive=False,
            help="won: matches won first. share: the share of matches won first, fair to those "
            "who come less often.",
        ),
    ] = Order.WON,
    out: TableOption = None,
    public: PublicOption = False,
    as_json: JsonOption = False,
) -> None:
    """Standings of a season or of one evening.

    Example: rota standings club.db --evening last --out standings.xlsx

    Order: matches won; among people level on that, if all of them stood
    against one another, matches won less lost between them; then games won
    less lost; then games won. Who is still level shares the place. With --by
    share the share of matches won comes first, smoothed as (won + half of
    those without a winner + 1) / (matches + 2), so that one win out of one
    does not pass eight out of ten, and the share of games stands for the
    difference.

    Unfinished matches count their games and are won by nobody; where a team
    retired the other wins. Tie-breaks played alone count points as games.
    """
    from scheduler.workflow.season_tables import (  # noqa: PLC0415  loads slowly
        season_standings,
        standings_table,
        write_table,
    )

    found = season_standings(season, evening=evening, order=by, public=public)
    if out is not None:
        write_table(standings_table(found), out)
    if as_json:
        print_json({"standings": [_document(line) for line in found.lines]})
    else:
        say(_text(found, by))
        if out is not None:
            say(f"Wrote {out}")


def _document(line: Standing) -> dict[str, Any]:
    return {
        "place": line.place,
        "player": line.player,
        "matches": line.matches,
        "matches_won": line.matches_won,
        "matches_lost": line.matches_lost,
        "neither": line.neither,
        "sets_won": line.sets_won,
        "sets_lost": line.sets_lost,
        "games_won": line.games_won,
        "games_lost": line.games_lost,
        "games_difference": line.games_difference,
        "games_share": round(line.games_share, 4),
        "matches_share": round(line.matches_share, 4),
    }


def _text(found: Standings, by: Order) -> str:
    if not found.lines:
        return f"{found.title}: no scores yet."
    heads = ("", "", "matches", "won", "lost", "neither", "sets", "games", "+/-", "games won")
    rows = [heads, *map(_row, found.lines)]
    parts = [f"{found.title}{_evenings(found)}", columns(rows)]
    fewest, most = found.matches
    if by is Order.WON and fewest != most:
        parts.append(f"People played from {fewest} to {most} matches; --by share is fair to that.")
    return "\n\n".join(parts)


def _row(line: Standing) -> tuple[str, ...]:
    return (
        f"{line.place}.",
        line.player,
        str(line.matches),
        str(line.matches_won),
        str(line.matches_lost),
        str(line.neither),
        f"{line.sets_won}-{line.sets_lost}",
        f"{line.games_won}-{line.games_lost}",
        f"{line.games_difference:+d}",
        f"{100 * line.games_share:.0f} %",
    )


def _evenings(found: Standings) -> str:
    if found.title != "Season":
        return ""
    return f", {found.evenings} evening{'' if found.evenings == 1 else 's'}"
