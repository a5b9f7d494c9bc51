"""Scores as people write and call them (ITF Rule 5)."""

from __future__ import annotations

import re

from scheduler.domain.formats import GameFormat
from scheduler.rules.position import ImpossibleScore, after_points
from scheduler.rules.scoring import DEUCE, is_deciding_point
from scheduler.rules.serving import serving_team
from scheduler.rules.state import Score, SetState

_PAIR = re.compile(r"\s*([^\s:–-]+)\s*[-–:]\s*([^\s:–-]+)\s*")  # noqa: RUF001  typed dashes differ
_WRITTEN = {"0": 0, "love": 0, "15": 1, "30": 2, "40": 3, "a": 4, "ad": 4, "adv": 4}
_CALLED = ("love", "fifteen", "thirty", "forty")
# fmt: off
_ONES = (
    "zero", "one", "two", "three", "four", "five", "six",
    "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
    "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)
# fmt: on
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def read_games(text: str) -> Score:
    """Return games such as ``"4-3"`` as numbers.

    Raises
    ------
    ImpossibleScore
        If the text is not two whole numbers.
    """
    return _whole_numbers(text, 'games are two numbers such as 4-3, got "{}"')


def with_points(state: SetState, text: str) -> SetState:
    """Return the set after points written as ``"30-15"``, or as ``"6-5"`` in a tie-break.

    Parameters
    ----------
    state
        The set before the first point of the game.
    text
        Team A's points first; ``A-40`` is the advantage of team A, ``40-40`` deuce.

    Raises
    ------
    ImpossibleScore
        If no game can stand so.
    """
    if state.in_tie_break:
        wording = 'a tie-break is counted 1, 2, 3, so points look like 3-2; got "{}"'
        return after_points(state, _whole_numbers(text, wording))
    points = _read_points(text)
    _refuse_odd_advantage(points, text, state.rules.game)
    return after_points(state, points)


def written_points(state: SetState) -> str:
    """Return the points as written, team A first: ``"30-15"``, ``"A-40"``, ``"6-5"``."""
    if state.in_tie_break:
        return f"{state.points[0]}-{state.points[1]}"
    words = ("0", "15", "30", "40", "A")
    return f"{words[state.points[0]]}-{words[state.points[1]]}"


def call(state: SetState) -> str:
    """Return the score as called out, the server's side first (Rule 5a).

    ``"fifteen-thirty"``, ``"thirty-all"``, ``"deuce"``, ``"advantage server"``,
    in a tie-break ``"three-two"``.
    """
    team = serving_team(state)
    served, received = state.points[team], state.points[team.other]
    if state.in_tie_break:
        return _spoken(number_word(served), number_word(received))
    if state.points == DEUCE:
        return "deuce, deciding point" if is_deciding_point(state) else "deuce"
    if max(served, received) > 3:
        return "advantage server" if served > received else "advantage receiver"
    return _spoken(_CALLED[served], _CALLED[received])


def number_word(number: int) -> str:
    """Return a number from 0 to 99 as a word, a larger one in digits."""
    if number < len(_ONES):
        return _ONES[number]
    tens, ones = divmod(number, 10)
    if tens > 9:
        return str(number)
    return _TENS[tens - 2] + (f" {_ONES[ones]}" if ones else "")


def _spoken(first: str, second: str) -> str:
    return f"{first}-all" if first == second else f"{first}-{second}"


def _whole_numbers(text: str, wording: str) -> Score:
    match = _PAIR.fullmatch(text)
    if match is None or not (match[1].isdecimal() and match[2].isdecimal()):
        raise ImpossibleScore(wording.format(text))
    return (int(match[1]), int(match[2]))


def _read_points(text: str) -> Score:
    if text.strip().casefold() == "deuce":
        return DEUCE
    match = _PAIR.fullmatch(text)
    if match is None:
        raise ImpossibleScore(f'points look like 30-15, got "{text}"')
    counts = [_WRITTEN.get(word.casefold()) for word in match.groups()]
    if None in counts:
        unknown = match[1 + counts.index(None)]
        raise ImpossibleScore(
            f'points go 0, 15, 30, 40 and A for advantage; "{unknown}" is not one of them'
        )
    return (counts[0] or 0, counts[1] or 0)


def _refuse_odd_advantage(points: Score, text: str, game: GameFormat) -> None:
    if max(points) < 4:
        return
    if game is GameFormat.NO_AD:
        raise ImpossibleScore(
            f"{text} cannot happen: a no-ad game has no advantage, the point at 40-40 decides it"
        )
    if points == (4, 4):
        raise ImpossibleScore(f"{text} cannot happen: only one team can have the advantage")
    if min(points) != 3:
        raise ImpossibleScore(f"{text} cannot happen: advantage comes only after 40-40")
