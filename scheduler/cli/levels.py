"""``rota levels``: how strong everybody is, from results, as a range."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from scheduler.cli.columns import columns
from scheduler.cli.console import JsonOption, answering, print_json, say
from scheduler.cli.standings import PublicOption, SeasonArgument, TableOption

if TYPE_CHECKING:
    from scheduler.results import LevelRow, Levels


@answering
def levels(
    season: SeasonArgument,
    out: TableOption = None,
    public: PublicOption = False,
    as_json: JsonOption = False,
) -> None:
    """Everybody's level on the scale of 1 to 10, learned from the season's results.

    Example: rota levels club.db

    Starts from the organiser's levels and moves with every finished match
    (Weng and Lin 2011, Bradley-Terry form for two teams). Each level stands
    between a low and a high one, which come closer with every match. Margins
    in games are used only if they predict the winners of held-out evenings
    better than wins alone; the last line says so.
    """
    from scheduler.workflow.season_tables import (  # noqa: PLC0415  loads slowly
        levels_table,
        season_levels,
        write_table,
    )

    found = season_levels(season, public=public)
    if out is not None:
        write_table(levels_table(found), out)
    if as_json:
        print_json(_document(found))
    else:
        say(_text(found))
        if out is not None:
            say(f"Wrote {out}")


def _document(found: Levels) -> dict[str, Any]:
    trial = found.trial
    return {
        "levels": [
            {
                "player": row.player,
                "level": row.level,
                "low": row.low,
                "high": row.high,
                "start": row.start,
                "matches": row.matches,
            }
            for row in found.rows
        ],
        "margin": {
            "used": trial.margin_helps,
            "evenings_held_out": trial.evenings,
            "matches_predicted": trial.matches,
            "loss_wins_alone": round(trial.wins_alone, 4),
            "loss_with_margin": round(trial.with_margin, 4),
        },
    }


def _text(found: Levels) -> str:
    if not found.rows:
        return "Nobody is in the season yet."
    heads = ("", "level", "from", "to", "started at", "matches")
    return f"{columns([heads, *map(_row, found.rows)])}\n\n{_about_margins(found)}"


def _row(row: LevelRow) -> tuple[str, ...]:
    numbers = (row.level, row.low, row.high)
    return (row.player, *(f"{x:.1f}" for x in numbers), f"{row.start:g}", str(row.matches))


def _about_margins(found: Levels) -> str:
    trial = found.trial
    if not trial.matches:
        return (
            "Levels go by who won. Whether it helps to count by how much is tried once there is a "
            "second evening to predict."
        )
    used = "used" if trial.margin_helps else "not used"
    return (
        f"Margins in games are {used}: over {trial.matches} matches of held-out evenings the "
        f"loss is {trial.with_margin:.3f} with them and {trial.wins_alone:.3f} from wins alone "
        "(a coin's is 0.693; smaller is better)."
    )
