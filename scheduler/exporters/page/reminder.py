"""How to keep score and whose turn it is to serve, in a few lines for a beginner.

After the ITF Rules of Tennis: 5 (scoring in a game), 6 (in a set), 10 (ends),
14 (order of service), 15 (order of receiving), 17 (serving), and the appendix
"Alternative Procedures and Scoring Methods".
"""

from __future__ import annotations

from scheduler.domain.event import Event, Kind
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat

_ENDS_IN_TIE_BREAK = {
    EndChanges.SIX: "after every six points",
    EndChanges.FIRST_THEN_FOUR: "after the first point and then after every four",
}


def reminder(event: Event) -> tuple[str, ...]:
    """Return the lines that fit the event's format of play."""
    form = event.set_format
    to = form.only_tie_break_to
    ends = _ENDS_IN_TIE_BREAK[event.end_changes]
    if to is not None:
        return (
            f"Points count 1, 2, 3; the first team with {to} and two more than the other wins.",
            (
                "The first server serves one point; after that each player serves two, the teams "
                "in turn and partners in turn."
            ),
            "The first point is served from the right half, then left and right in turn.",
            f"Change ends {ends}.",
            _SIDES,
        )
    return (
        _game(event),
        _set(form),
        (
            "The teams serve game by game in turn, and partners take turns: each player serves "
            "every fourth game."
        ),
        "In each game the first point is served from the right half, then left and right in turn.",
        _SIDES,
        "Change ends after the first, third, fifth and every odd game.",
        *_tie_break(form, ends),
    )


_SIDES = (
    "Each partner receives on one side, right (deuce) or left (ad), and keeps to it all "
    "through the set."
)


def _game(event: Event) -> str:
    start = "A game counts love, 15, 30, 40, game, the server's score first; 40 all is deuce."
    if event.game_format is GameFormat.NO_AD:
        return f"{start} One point decides at deuce, and {_half(event)}."
    return f"{start} From deuce a team needs two points running: advantage, then game."


def _half(event: Event) -> str:
    mixed = [asked.kind is Kind.MIXED for asked in event.rounds]
    own = "the one of the server's own gender receives"
    if mixed and all(mixed):
        return own
    choose = "the receivers choose the half"
    return f"{choose}; in mixed doubles {own}" if any(mixed) else choose


def _set(form: SetFormat) -> str:
    if form is SetFormat.TIMED:
        return "Play as many games as fit until the bell."
    need = f"The first team with {form.games_to_win} games and two more than the other wins."
    at = form.tie_break_at
    return need if at is None else f"{need} At {at} games all, a tie-break decides."


def _tie_break(form: SetFormat, ends: str) -> tuple[str, ...]:
    if form.tie_break_at is None:
        return ()
    return (
        (
            "A tie-break counts 1, 2, 3 to seven with a lead of two. Whoever is due serves one "
            f"point, then each player two, in the same order as before. Change ends {ends}."
        ),
    )
