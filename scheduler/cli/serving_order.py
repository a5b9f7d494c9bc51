"""``rota serving-order``: a whole set, game by game, and its tie-break."""

from __future__ import annotations

from dataclasses import asdict

from scheduler.cli.columns import columns
from scheduler.cli.console import JsonOption, answering, print_json, say
from scheduler.cli.set_options import (
    DeuceOption,
    EndChangesOption,
    EndsOption,
    FirstOption,
    GameOption,
    SecondOption,
    SetOption,
    set_at_start,
)
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.rules.state import SetState
from scheduler.rules.tables import GameRow, PointRow, game_rows, tie_break_rows

CHANGE = "change ends"


@answering
def serving_order(  # noqa: PLR0913, PLR0917  one parameter an option
    first: FirstOption,
    second: SecondOption,
    deuce: DeuceOption = None,
    ends: EndsOption = "near,far",
    set_format: SetOption = SetFormat.TIE_BREAK,
    game: GameOption = GameFormat.AD,
    end_changes: EndChangesOption = EndChanges.SIX,
    as_json: JsonOption = False,
) -> None:
    """Who serves, from which end, and who receives where, for a whole set.

    Example: rota serving-order --first "Mo,Ana" --second "Ines,Jo" --set "short set"

    A set without a tie-break, or until the bell, shows 12 games; the order
    then starts again from game 1. A tie-break shows 24 points, in case it is long.
    """
    start = set_at_start(first, second, deuce, ends, set_format, game, end_changes)
    games, points = game_rows(start), tie_break_rows(start)
    if as_json:
        print_json(
            {
                "games": [asdict(row) for row in games],
                "tie_break": [asdict(row) for row in points],
            }
        )
        return
    say(_sheet(start, set_format, games, points))


def _sheet(
    start: SetState,
    set_format: SetFormat,
    games: tuple[GameRow, ...],
    points: tuple[PointRow, ...],
) -> str:
    one, two = (" and ".join(team) for team in start.teams)
    parts = [f"{one} against {two}: {set_format.words}. {start.queue[0]} serves first."]
    if games:
        parts.append(_games(games))
    if points:
        parts.append(_heading(start) + "\n" + _points(points))
    parts.append(_may_change(start, games=bool(games), tie_break=bool(points)))
    return "\n\n".join(parts)


def _games(rows: tuple[GameRow, ...]) -> str:
    head = ("Game", "Serves", "From the", "Receive: deuce side", "ad side", "After it")
    body = [
        (
            str(row.game),
            row.server,
            f"{row.server_end} end",
            row.deuce_receiver,
            row.ad_receiver,
            CHANGE if row.change_ends_after else "",
        )
        for row in rows
    ]
    return columns([head, *body])


def _points(rows: tuple[PointRow, ...]) -> str:
    head = ("Point", "Serves", "Side", "To", "From the", "After it")
    body = [
        (
            str(row.point),
            row.server,
            row.half,
            row.receiver,
            f"{row.server_end} end",
            CHANGE if row.change_ends_after else "",
        )
        for row in rows
    ]
    return columns([head, *body])


def _heading(start: SetState) -> str:
    rules = start.rules
    when = (
        f"Tie-break at {rules.tie_break_at}-{rules.tie_break_at}"
        if rules.tie_break_at
        else ("Tie-break")
    )
    return f"{when}: first to {rules.tie_break_to} points with a lead of two."


def _may_change(start: SetState, *, games: bool, tie_break: bool) -> str:
    lines = ["Order and sides stay the same for the whole set; both may change in a new one."]
    if not games:
        lines = ["Order and sides stay the same to the end."]
    elif tie_break:
        lines.append(
            f"After a tie-break ends change, and {' or '.join(start.teams[1])} "
            "serves first in the next set."
        )
    return "\n".join(lines)
