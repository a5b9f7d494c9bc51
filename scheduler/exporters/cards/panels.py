"""The short texts on a card: keeping score, serving out of turn, a new set, a caution.

Sources: ITF Rules of Tennis, Rules 5 and 6 (score), 10 (ends), 14, 15 and 17
(order, sides, halves), 27 (errors), and the appendix on alternative procedures
and scoring methods (no-ad, match tie-breaks).
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.event import Event
from scheduler.domain.formats import GameFormat, SetFormat


@dataclass(frozen=True, slots=True)
class Panel:
    """A heading and a few short sentences."""

    title: str
    text: str


def panels(event: Event, *, mixed: bool) -> tuple[Panel, ...]:
    """Return the panels of the cards of an event.

    Parameters
    ----------
    event
        The event; its formats decide the words.
    mixed
        Whether the match is mixed doubles, where nobody chooses the half of a
        deciding point.
    """
    only_tie_break = event.set_format.only_tie_break_to is not None
    score = [] if only_tie_break else [_points(event, mixed=mixed)]
    score += [_goal(event), _tie_break(event)]
    parts = [
        Panel("Score:", " ".join(filter(None, score))),
        Panel("Served out of turn?", _errors(event)),
        Panel("New set:", _new_set(event)),
        Panel("Take care:", CAUTION),
    ]
    return tuple(part for part in parts if part.text)


CAUTION = (
    "stop for loose balls; keep the run-off clear; drink, shade; off court at thunder; an adult "
    "near juniors. Club rules, local codes and qualified coaches go first."
)
CHANGE = "\u21c4"


def legend(counts: str) -> str:
    """Return how the boxes are used; `counts` is ``"game"`` or ``"point"``."""
    sides = "" if counts == "game" else " R, L: serve from the right, the left."
    return (
        f"When a {counts} ends, write its winners (A or B) in its box. The lowest number without "
        f"a letter shows who serves next. {CHANGE} change ends after it.{sides} "
        "Right and left: your own, facing the net."
    )


def _points(event: Event, *, mixed: bool) -> str:
    counting = "love (0), 15, 30, 40, game; the server's points come first."
    crosswise = "Serve from the right, then left, right: always crosswise."
    if event.game_format is GameFormat.AD:
        deuce = "40\N{EN DASH}40 is deuce: one point is advantage, two running win the game."
    elif mixed:
        deuce = "At 40\N{EN DASH}40 one point decides: the one of the server's own gender receives."
    else:
        deuce = "At 40\N{EN DASH}40 one point decides: the receivers choose the side and stay put."
    return f"{counting} {deuce} {crosswise}"


def _goal(event: Event) -> str:
    goal = event.set_format.games_to_win
    if goal is None:
        return ""
    ahead = "" if event.set_format is SetFormat.SHORT_3_3 else ", two ahead,"
    return f"{goal} games{ahead} win the set."


def _tie_break(event: Event) -> str:
    if event.set_format.only_tie_break_to is not None:
        return (
            "points count 1, 2, 3; call the server's first. The first server has one point, then "
            "everybody two, served from the left, then the right: always crosswise. "
            "Boxes full? Go on down the rows in the same way."
        )
    if event.set_format.tie_break_at is not None:
        return f"Tie-break: stay at your end until {CHANGE}; boxes full? Go on down the rows."
    return "Boxes full? Go on from the top row."


def _errors(event: Event) -> str:
    points = "Points played stand."
    in_game = "Noticed in the game: the right player serves at once; after it: leave the new order."
    tie_break = "Tie-break: after an even number of points put it right, after an odd one leave it."
    sides = "Receivers on the wrong sides: finish the game so, then change back."
    if event.set_format.only_tie_break_to is not None:
        return f"{points} {tie_break[11:].capitalize()} Receivers on the wrong sides: stay so."
    has_tie_break = event.set_format.tie_break_at is not None
    return " ".join([points, in_game, *([tie_break] if has_tie_break else []), sides])


def _new_set(event: Event) -> str:
    if event.set_format is SetFormat.TIMED or event.set_format.only_tie_break_to is not None:
        return ""
    return (
        "order and sides may change. After an odd number of games change ends once, team B serves "
        "first; after an even number stay, team A does."
    )
