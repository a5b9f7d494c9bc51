"""The toss before the warm-up (ITF Rule 9)."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from scheduler.rules.state import Pair, Team


class Choice(StrEnum):
    """What the winner of the toss may take, or what is left to the loser."""

    SERVE = "serve"
    RECEIVE = "receive"
    FIRST_END = "first end"
    SECOND_END = "second end"
    LEAVE_IT = "leave it to the others"


_SERVICE = (Choice.SERVE, Choice.RECEIVE)
_ENDS = (Choice.FIRST_END, Choice.SECOND_END)

AFTER_A_BROKEN_WARM_UP = (
    "If the warm-up is stopped and the players leave the court, the toss stands, "
    "but both teams may choose again."
)


@dataclass(frozen=True, slots=True)
class TossResult:
    """Who serves game 1, and the end each team starts from, team A first."""

    serves: Team
    ends: Pair


def left_to_the_other(choice: Choice) -> tuple[Choice, ...]:
    """Return what the loser of the toss may choose after the winner's choice.

    Rule 9: who takes serve or receive leaves the end; who takes an end leaves
    serve or receive; who leaves the first choice leaves all of it.
    """
    if choice in _SERVICE:
        return _ENDS
    if choice in _ENDS:
        return _SERVICE
    return _SERVICE + _ENDS


def left_to_the_winner(choice: Choice, answer: Choice) -> tuple[Choice, ...]:
    """Return what comes back to the winner who left the first choice to the other team."""
    return left_to_the_other(answer) if choice is Choice.LEAVE_IT else ()


def toss(
    winner: Team, choices: tuple[Choice, ...], end_names: Pair = ("near", "far")
) -> TossResult:
    """Return the outcome of a toss.

    Parameters
    ----------
    winner
        The team that won the toss.
    choices
        The choices in the order made: the winner's, the loser's, and again the
        winner's where the first was to leave it to the others.
    end_names
        The first and the second end.

    Raises
    ------
    ValueError
        If a choice is missing, left over, or was not open.
    """
    chooser, open_now = winner, tuple(Choice)
    taken: list[tuple[Team, Choice]] = []
    for choice in choices:
        if choice not in open_now:
            raise ValueError(f'"{choice}" was not open to choose')
        taken.append((chooser, choice))
        open_now = left_to_the_other(choice) if len(taken) == 1 else ()
        if len(taken) == 2 and taken[0][1] is Choice.LEAVE_IT:
            open_now = left_to_the_winner(taken[0][1], choice)
        chooser = chooser.other
    if open_now:
        raise ValueError("one team has still to choose: " + " or ".join(open_now))
    return _result(taken, end_names)


def _result(taken: list[tuple[Team, Choice]], end_names: Pair) -> TossResult:
    serves, first_end = Team.A, Team.A
    for team, choice in taken:
        if choice in _SERVICE:
            serves = team if choice is Choice.SERVE else team.other
        elif choice in _ENDS:
            first_end = team if choice is Choice.FIRST_END else team.other
    ends = end_names if first_end is Team.A else (end_names[1], end_names[0])
    return TossResult(serves, ends)
