"""A whole format of a set as a table, made by stepping the rules' own state machine.

The page's score keeper only looks things up here; it holds no rule of the
game. The four are numbered by their place in the serving order: 0 and 2 are
the team that serves game 1, 1 and 3 the other.

Sets that may go on for ever become finite by taking scores together that the
rules cannot tell apart: beyond the score at which only a lead counts, twelve
points each more in a tie-break, or two games each more in an advantage set,
bring back the same server, ends and needs. Were that wrong anywhere, the
states would differ in more than the score and the table would not end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntFlag
from typing import Any

from scheduler.rules.choices import (
    TooLateToChoose,
    choose_deuce_receiver,
    choose_server,
    next_set,
    next_to_serve,
)
from scheduler.rules.play import play, play_game
from scheduler.rules.score_words import call, written_points
from scheduler.rules.scoring import is_deciding_point, winner_of
from scheduler.rules.serving import half_of, server_of, serving_team
from scheduler.rules.state import Half, Score, SetRules, SetState, Team, start_set

_FIRST, _SECOND = ("0", "2"), ("1", "3")
_START, _OPPOSITE = "0", "1"  # ends, as seen from the first server's at the start
_TIE_BREAK_LAP, _GAME_LAP = 12, 2  # points, games each, after which all comes round again
_OLD = 6  # games of a timed set after which the count no longer matters to any choice
_DEUCE, _AD, _TO_CHOOSE = 0, 1, 2


class Open(IntFlag):
    """Choices that may still be made; first and second are the teams by turn to serve."""

    FIRST_SERVER = 1
    SECOND_SERVER = 2
    FIRST_RECEIVER = 4
    SECOND_RECEIVER = 8


@dataclass(frozen=True, slots=True)
class Look:
    """What there is to know at one score, the same for many scores.

    `turn` numbers the server; `half` is 0 (deuce), 1 (ad) or 2 (the receivers
    choose); `server_end` and `first_end` are the ends of the server and of the
    team that served game 1, 0 for the one it started from; `changes` says
    that ends change after this game, or in a tie-break after this point if
    the set goes on; `fresh` that no point of the game has been played.
    `points` and `call` are empty in a tie-break, which is counted in numbers.
    """

    turn: int
    half: int
    server_end: int
    first_end: int
    changes: int
    fresh: int
    tie_break: int
    open: int
    points: str
    call: str


@dataclass(frozen=True, slots=True)
class Over:
    """A set that is over, and how the next one begins.

    Teams are 0 for the one that served game 1, and 1. `first` serves first in
    the next set, from the end `end`, and `queue` is the order in which the
    four would go on.
    """

    winner: int
    first: int
    end: int
    queue: tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class SetTable:
    """A format as a table.

    `moves` has, for each score, where it goes when the first and when the
    second team wins the point: another row, or ``-1 - k`` for the end
    ``overs[k]``. `look_of` gives each row's place in `looks`. Row 0 is the start.
    """

    moves: tuple[tuple[int, int], ...]
    look_of: tuple[int, ...]
    looks: tuple[Look, ...]
    overs: tuple[Over, ...]

    def as_json(self) -> dict[str, Any]:
        """Return the table as plain lists, small enough to travel in a page."""
        rows = zip(self.moves, self.look_of, strict=True)
        return {
            "rows": [number for move, look in rows for number in (*move, look)],
            "looks": [
                [
                    look.turn, look.half, look.server_end, look.first_end, look.changes,
                    look.fresh, look.tie_break, look.open, look.points, look.call,
                ]
                for look in self.looks
            ],
            "overs": [[over.winner, over.first, over.end, *over.queue] for over in self.overs],
        }  # fmt: skip


def set_table(rules: SetRules) -> SetTable:
    """Return the table of a format; every score that play can reach is in it."""
    start = start_set(rules, _FIRST, _SECOND, ends=(_START, _OPPOSITE))
    rows: dict[SetState, int] = {start: 0}
    looks: dict[Look, int] = {}
    overs: dict[Over, int] = {}
    moves, look_of = [], []
    waiting = [start]
    for state in waiting:  # grows while it is walked
        look_of.append(looks.setdefault(_look(state), len(looks)))
        move = []
        for team in Team:
            after = play(state, team)
            if winner_of(after) is not None:
                move.append(-1 - overs.setdefault(_over(after), len(overs)))
                continue
            after = _taken_together(after)
            if after not in rows:
                rows[after] = len(rows)
                waiting.append(after)
            move.append(rows[after])
        moves.append((move[0], move[1]))
    return SetTable(tuple(moves), tuple(look_of), tuple(looks), tuple(overs))


def _taken_together(state: SetState) -> SetState:
    """Return the first state that the rules cannot tell from this one."""
    rules = state.rules
    if state.in_tie_break:
        return replace(state, points=_folded(state.points, rules.tie_break_to - 1, _TIE_BREAK_LAP))
    if rules.tie_break_at is not None:
        return state
    if rules.games_to_win is not None:
        return replace(state, games=_folded(state.games, rules.games_to_win - 1, _GAME_LAP))
    played = sum(state.games)  # a timed set: nobody wins it, so only the count matters
    return replace(state, games=(played if played < _OLD else played - 2 * _GAME_LAP, 0))


def _folded(score: Score, level: int, lap: int) -> Score:
    while min(score) >= level + lap:
        score = (score[0] - lap, score[1] - lap)
    return score


def _look(state: SetState) -> Look:
    serving = serving_team(state)
    return Look(
        turn=int(server_of(state)),
        half=_half(state),
        server_end=int(state.ends[serving]),
        first_end=int(state.ends[Team.A]),
        changes=int(_changes(state)),
        fresh=int(state.points == (0, 0)),
        tie_break=int(state.in_tie_break),
        open=int(_open_choices(state)),
        points="" if state.in_tie_break else written_points(state),
        call="" if state.in_tie_break else call(state),
    )


def _half(state: SetState) -> int:
    if is_deciding_point(state):
        return _TO_CHOOSE
    return _DEUCE if half_of(state) is Half.DEUCE else _AD


def _changes(state: SetState) -> bool:
    if not state.in_tie_break:
        return play_game(state, Team.A).ends != state.ends
    afters = [play(state, team) for team in Team]
    return any(after.ends != state.ends for after in afters if winner_of(after) is None)


def _open_choices(state: SetState) -> Open:
    found = Open(0)
    for team, players in ((Team.A, _FIRST), (Team.B, _SECOND)):
        for choose, flags in (
            (choose_server, (Open.FIRST_SERVER, Open.SECOND_SERVER)),
            (choose_deuce_receiver, (Open.FIRST_RECEIVER, Open.SECOND_RECEIVER)),
        ):
            try:
                choose(state, team, players[0])
            except TooLateToChoose:
                continue
            found |= flags[team]
    return found


def _over(finished: SetState) -> Over:
    winner = winner_of(finished)
    assert winner is not None
    following, first = next_set(finished), next_to_serve(finished)
    one, two, three, four = (int(player) for player in following.queue)
    return Over(int(winner), int(first), int(following.ends[first]), (one, two, three, four))
