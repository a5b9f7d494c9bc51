"""Options that describe a set: who plays, who receives where, which ends, which format."""

from __future__ import annotations

from typing import Annotated

import typer

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.domain.suggest import hint
from scheduler.rules.state import Pair, SetState, rules_of, start_set

FirstOption = Annotated[
    str,
    typer.Option(
        "--first",
        metavar="NAME,NAME",
        help="The team that serves game 1, the one who serves it named first.",
    ),
]
SecondOption = Annotated[
    str,
    typer.Option(
        "--second",
        metavar="NAME,NAME",
        help="The other team, the one who serves game 2 named first.",
    ),
]
DeuceOption = Annotated[
    str | None,
    typer.Option(
        "--deuce",
        metavar="NAME,NAME",
        help="Who receives on the deuce side (the right), one of each team. "
        "Without it, the first named of each.",
    ),
]
EndsOption = Annotated[
    str,
    typer.Option(
        "--ends",
        metavar="END,END",
        help="Two names for the ends, the one game 1 is served from first: 'clubhouse,road'.",
    ),
]
SetOption = Annotated[
    SetFormat, typer.Option("--set", case_sensitive=False, help="What is played.")
]
GameOption = Annotated[
    GameFormat,
    typer.Option("--game", case_sensitive=False, help="With advantage, or one point at 40-40."),
]
EndChangesOption = Annotated[
    EndChanges,
    typer.Option(
        "--end-changes",
        case_sensitive=False,
        help="Change ends in a tie-break after every six points, "
        "or after the first and then every four.",
    ),
]


def set_at_start(  # noqa: PLR0913, PLR0917  one parameter an option
    first: str,
    second: str,
    deuce: str | None,
    ends: str,
    set_format: SetFormat,
    game: GameFormat,
    end_changes: EndChanges,
) -> SetState:
    """Return the set the options describe, before its first point.

    Raises
    ------
    BadInput
        With every fault of the names and ends.
    """
    faults: list[Fault] = []
    teams = (_two("--first", first, faults), _two("--second", second, faults))
    end_names = _two("--ends", ends, faults)
    faults += _twice((*teams[0], *teams[1]))
    if faults:
        raise BadInput(faults)
    return start_set(
        rules_of(set_format, game, end_changes),
        *teams,
        deuce_receivers=None if deuce is None else _deuce_receivers(deuce, teams),
        ends=end_names,
    )


def _two(option: str, text: str, faults: list[Fault]) -> Pair:
    parts = [" ".join(part.split()) for part in text.split(",")]
    if len(parts) != 2 or not all(parts):
        faults.append(Fault(option, f'two names with a comma between, got "{text}"'))
        return ("", "")
    if option == "--ends" and parts[0] == parts[1]:
        faults.append(Fault(option, f'the two ends need different names, got "{text}"'))
    return (parts[0], parts[1])


def _twice(names: tuple[str, ...]) -> list[Fault]:
    repeated = {name: None for name in names if name and names.count(name) > 1}
    return [Fault("--first, --second", f'"{name}" is named twice') for name in repeated]


def _deuce_receivers(text: str, teams: tuple[Pair, Pair]) -> Pair:
    """Return the two names in the order of the teams, whichever way they were given."""
    faults: list[Fault] = []
    given = _two("--deuce", text, faults)
    everyone = teams[0] + teams[1]
    faults += [
        Fault("--deuce", f'"{name}" is not one of the four{hint(name, everyone)}')
        for name in given
        if name and name not in everyone
    ]
    if faults:
        raise BadInput(faults)
    chosen = [[name for name in given if name in team] for team in teams]
    if any(len(names) != 1 for names in chosen):
        raise BadInput.one("--deuce", f'name one of each team, got "{text}"')
    return (chosen[0][0], chosen[1][0])
