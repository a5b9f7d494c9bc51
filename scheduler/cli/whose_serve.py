"""``rota whose-serve``: the one point about to be played, and what a wrong server means."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

import typer

from scheduler.cli.console import JsonOption, answering, print_json, say
from scheduler.cli.court_diagram import Places, court_diagram
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
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.domain.suggest import hint
from scheduler.rules.corrections import Ruling, wrong_server, wrong_server_all_game
from scheduler.rules.ends import changes_after_game, changes_after_point
from scheduler.rules.position import ImpossibleScore, after_games, refuse_finished
from scheduler.rules.score_words import call, read_games, with_points, written_points
from scheduler.rules.scoring import is_deciding_point
from scheduler.rules.serving import (
    Serve,
    choose_half,
    next_serve,
    receiver_in,
    server_of,
    serving_team,
)
from scheduler.rules.state import Half, Pair, SetState


@dataclass(frozen=True, slots=True)
class _Answer:
    """A state, the point about to be played (None while a half must be chosen), the rulings.

    `ruling` takes the name given as that of the turn under way, `turn_over`
    as that of the turn just over, where one is.
    """

    state: SetState
    serve: Serve | None
    ruling: Ruling | None = None
    turn_over: Ruling | None = None


@answering
def whose_serve(  # noqa: PLR0913, PLR0917  one parameter an option
    first: FirstOption,
    second: SecondOption,
    games: Annotated[
        str, typer.Option("--games", help="Games so far, the first team's first: 4-3.")
    ] = "0-0",
    points: Annotated[
        str,
        typer.Option(
            "--points",
            help="Points in this game, the first team's first: 30-15. A-40 is advantage to the "
            "first team, 40-40 deuce. In a tie-break, numbers: 5-4.",
        ),
    ] = "0-0",
    deuce: DeuceOption = None,
    ends: EndsOption = "near,far",
    set_format: SetOption = SetFormat.TIE_BREAK,
    game: GameOption = GameFormat.AD,
    end_changes: EndChangesOption = EndChanges.SIX,
    chosen_half: Annotated[
        Half | None,
        typer.Option(
            "--chosen-half",
            case_sensitive=False,
            help="At 40-40 without advantage: the half in which the receivers chose to receive.",
        ),
    ] = None,
    served_by: Annotated[
        str | None,
        typer.Option(
            "--served-by",
            metavar="NAME",
            help="Who has in fact been serving: says what the rules make of it and who serves "
            "now. Where a turn has just ended, the turn before is told too.",
        ),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Who serves the next point, to whom, from which side and which end.

    Example: rota whose-serve --first "Mo,Ana" --second "Ines,Jo" --games 4-3 --points 30-15
    """
    start = set_at_start(first, second, deuce, ends, set_format, game, end_changes)
    state = _chosen(_at_score(start, games, points), chosen_half)
    ruling = turn_over = None
    if served_by is not None:
        ruling, turn_over = _rulings(state, served_by)
        state = ruling.state
    open_half = is_deciding_point(state) and state.chosen_half is None
    answer = _Answer(state, None if open_half else next_serve(state), ruling, turn_over)
    if as_json:
        print_json(_document(answer))
    else:
        end_names = (start.ends[0], start.ends[1])
        say(_words(answer, end_names))


def _at_score(start: SetState, games: str, points: str) -> SetState:
    """Return the set at the score given, naming the option that cannot be."""
    try:
        state = refuse_finished(after_games(start, read_games(games)))
    except ImpossibleScore as error:
        raise BadInput.one("--games", str(error)) from None
    try:
        return with_points(state, points)
    except ImpossibleScore as error:
        raise BadInput.one("--points", str(error)) from None


def _chosen(state: SetState, half: Half | None) -> SetState:
    if half is None:
        return state
    try:
        return choose_half(state, half)
    except ValueError as error:
        raise BadInput.one("--chosen-half", str(error)) from None


def _rulings(state: SetState, served_by: str) -> tuple[Ruling, Ruling | None]:
    """Return the ruling, and where a turn has just ended the one for that turn."""
    everyone = state.teams[0] + state.teams[1]
    if served_by not in everyone:
        what = f'"{served_by}" is not one of the four{hint(served_by, everyone)}'
        raise BadInput([Fault("--served-by", what)])
    ruling = wrong_server(state, served_by)
    if state.in_tie_break and served_by == server_of(state) and ruling.state != state:
        right = Ruling("27d", f"{served_by} is the right server; play on.", state)
        return right, ruling
    if state.points_played == 0 and sum(state.games) > 0:
        return ruling, wrong_server_all_game(state, served_by)
    return ruling, None


def _document(answer: _Answer) -> dict[str, Any]:
    state, serve = answer.state, answer.serve
    document: dict[str, Any] = {
        "game": state.game_number,
        "tie_break": state.in_tie_break,
        "server": server_of(state),
        "half": serve.half if serve else None,
        "receiver": serve.receiver if serve else None,
        "server_end": state.ends[serving_team(state)],
        "change_ends_next": _ends_change_next(state),
        "call": call(state),
    }
    if answer.ruling is not None:
        document["ruling"] = _ruling(answer.ruling)
    if answer.turn_over is not None:
        document["ruling_if_turn_just_over"] = _ruling(answer.turn_over)
    return document


def _ruling(ruling: Ruling) -> dict[str, str]:
    return {
        "rule": ruling.rule,
        "sentence": ruling.sentence,
        "server": server_of(ruling.state),
    }


def _words(answer: _Answer, ends: Pair) -> str:
    state = answer.state
    lines = [_headline(answer), f'Call, server\'s side first: "{call(state)}". {_ends_line(state)}']
    if answer.serve is not None:
        places = Places(
            answer.serve,
            servers_partner=state.partner_of(answer.serve.server),
            receivers_partner=state.partner_of(answer.serve.receiver),
            ends=ends,
        )
        lines += ["", court_diagram(places)]
    if answer.ruling is not None:
        lines += ["", f"Out of turn? Rule {answer.ruling.rule}: {answer.ruling.sentence}"]
    if answer.turn_over is not None:
        lines.append(
            f"If it was all of the turn just over, Rule {answer.turn_over.rule}: "
            f"{answer.turn_over.sentence}"
        )
    return "\n".join(lines)


def _headline(answer: _Answer) -> str:
    state, serve = answer.state, answer.serve
    score = f"{_game_name(state)}, {written_points(state)}"
    server, end = server_of(state), state.ends[serving_team(state)]
    if serve is not None:
        to = f"{server} serves to {serve.receiver}"
        return f"{score}: {to}, from the {end} end, on the {serve.half} side."
    deuce, ad = receiver_in(state, Half.DEUCE), receiver_in(state, Half.AD)
    return (
        f"{score}: {server} serves the deciding point from the {end} end. The receivers choose: "
        f"{deuce} on the deuce side or {ad} on the ad side, without changing places. "
        "In mixed doubles the one of the server's own gender receives."
    )


def _game_name(state: SetState) -> str:
    if not state.in_tie_break:
        return f"Game {state.game_number}"
    return "Match tie-break" if state.rules.tie_break_at == 0 else "Tie-break"


def _ends_line(state: SetState) -> str:
    unit = "point" if state.in_tie_break else "game"
    if _ends_change_next(state):
        return f"Change ends after this {unit}."
    line = f"Stay at these ends after this {unit}"
    return line + (", unless it ends the tie-break." if state.in_tie_break else ".")


def _ends_change_next(state: SetState) -> bool:
    if state.in_tie_break:
        return changes_after_point(state.points_played + 1, state.rules.end_changes)
    return changes_after_game(state.game_number)
