"""A set of any format: chances, mean lengths, and the whole distribution of its length.

Sources: ITF Rules of Tennis, Rules 5 and 6, and the appendix "Alternative
Procedures and Scoring Methods" for the formats; Newton and Keller (2005) for
the recursion, and for the fact that a team's chance of a set does not depend
on who serves first when partners are alike.

A tie-break counts as one game of its set (Rule 5b); so does a match tie-break
that is the whole match.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from scheduler.domain.errors import BadInput
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing.game import game_chance, game_points_mean, play_game
from scheduler.timing.servers import CYCLE, Servers
from scheduler.timing.tie_break import tie_break_means, tie_break_points
from scheduler.timing.two_clear import PairOfTrials, two_clear
from scheduler.timing.window import CERTAIN_START, Window

#: An advantage set's distribution is listed until less than this is still playing ...
_STILL_PLAYING = 1e-9
#: ... or so many games are over; what is left stays in `SetLengths.beyond`.
_MOST_GAMES = 200

Score = tuple[int, int]


@dataclass(frozen=True, slots=True)
class SetMeans:
    """The first team's chance of a set, and its mean numbers of games and points."""

    chance: float
    games: float
    points: float


@dataclass(frozen=True, slots=True)
class Ending:
    """One way a set can end, with the distribution of its points.

    Parameters
    ----------
    games
        Games played, a tie-break counted as one.
    first_won
        True when the first team won.
    points
        Chances of the numbers of points, over the whole set; together they
        are the chance of this ending.
    """

    games: int
    first_won: bool
    points: Window


@dataclass(frozen=True, slots=True)
class SetLengths:
    """The joint distribution of winner, games and points of a set."""

    endings: tuple[Ending, ...]

    @property
    def beyond(self) -> float:
        """The chance of sets too long to be listed; 0 but for odd chances or long tails."""
        return max(0.0, 1 - sum(ending.points.total() for ending in self.endings))

    @property
    def games(self) -> dict[int, float]:
        """The chance of each number of games."""
        chances: dict[int, float] = {}
        for ending in self.endings:
            chances[ending.games] = chances.get(ending.games, 0.0) + ending.points.total()
        return dict(sorted(chances.items()))

    @property
    def points(self) -> dict[int, float]:
        """The chance of each number of points."""
        chances: dict[int, float] = {}
        for ending in self.endings:
            for points, chance in ending.points:
                chances[points] = chances.get(points, 0.0) + chance
        return dict(sorted(chances.items()))


def set_means(
    servers: Servers,
    set_format: SetFormat = SetFormat.TIE_BREAK,
    game_format: GameFormat = GameFormat.AD,
) -> SetMeans:
    """Return the first team's chance and the mean length of a set, exactly.

    Parameters
    ----------
    servers
        The four servers; fractions give exact fractions.
    set_format, game_format
        What is played; not `SetFormat.TIMED`, which the clock ends.

    Raises
    ------
    BadInput
        If the format is timed, or the chances never let the set end.
    """
    _refuse_timed(set_format)
    if (to := set_format.only_tie_break_to) is not None:
        alone = tie_break_means(servers, to)
        return SetMeans(alone.chance, 1, alone.points)
    chance: float = 0
    games: float = 0
    points: float = 0
    for played, scores in _walk(servers, set_format, game_format):
        mean = _game_points(servers, played, game_format)
        for score, mass in scores.items():
            if _is_won(score, set_format):
                chance += mass if score[0] > score[1] else 0
            elif _is_level_at_last(score, set_format):
                rest = _from_level(servers, score, set_format, game_format)
                chance += mass * rest.chance
                games += mass * rest.games
                points += mass * rest.points
            else:
                games += mass
                points += mass * mean
    return SetMeans(chance, games, points)


@lru_cache(maxsize=512)
def set_lengths(
    servers: Servers,
    set_format: SetFormat = SetFormat.TIE_BREAK,
    game_format: GameFormat = GameFormat.AD,
) -> SetLengths:
    """Return the joint distribution of winner, games and points of a set.

    Parameters
    ----------
    servers
        The four servers.
    set_format, game_format
        What is played; not `SetFormat.TIMED`.

    Raises
    ------
    BadInput
        If the format is timed.

    Notes
    -----
    Endless tails (deuces, tie-breaks, advantage sets) are followed until their
    chance is negligible; what an unusual tail leaves over is in
    `SetLengths.beyond`, never hidden.
    """
    _refuse_timed(set_format)
    if (to := set_format.only_tie_break_to) is not None:
        won, lost = tie_break_points(servers, to)
        return SetLengths((Ending(1, True, won), Ending(1, False, lost)))
    return SetLengths(tuple(_endings(servers, set_format, game_format)))


def _refuse_timed(set_format: SetFormat) -> None:
    if set_format is SetFormat.TIMED:
        raise BadInput.one(
            "set", "a timed round is ended by the clock and has no length of its own"
        )


def _is_won(score: Score, set_format: SetFormat) -> bool:
    """Return whether a score without a tie-break ends the set: enough games, two ahead."""
    return max(score) >= (set_format.games_to_win or 0) and abs(score[0] - score[1]) >= 2


def _level_at_last(set_format: SetFormat) -> int:
    """Return the games each from where a closed form takes over."""
    if set_format.tie_break_at is not None:
        return set_format.tie_break_at
    return (set_format.games_to_win or 0) - 1


def _is_level_at_last(score: Score, set_format: SetFormat) -> bool:
    return score[0] == score[1] == _level_at_last(set_format)


def _walk(
    servers: Servers, set_format: SetFormat, game_format: GameFormat
) -> Iterator[tuple[int, dict[Score, float]]]:
    """Yield the chances of the scores after 0, 1, ... games, up to the last level score."""
    scores: dict[Score, float] = {(0, 0): 1}
    yield 0, scores
    for played in range(2 * _level_at_last(set_format)):
        won, lost = _game(servers, played, game_format)
        after: dict[Score, float] = {}
        for (first, second), mass in scores.items():
            if not _is_won((first, second), set_format):
                after[first + 1, second] = after.get((first + 1, second), 0) + mass * won
                after[first, second + 1] = after.get((first, second + 1), 0) + mass * lost
        scores = after
        yield played + 1, scores


def _game(servers: Servers, turn: int, game_format: GameFormat) -> tuple[float, float]:
    """Return the chances that the first and the second team win a game.

    Both are computed, as one minus a chance near 1 would lose its digits.
    """
    chance = servers.chances[turn % CYCLE]
    held, broken = game_chance(chance, game_format), game_chance(1 - chance, game_format)
    return (broken, held) if turn % 2 else (held, broken)


def _game_points(servers: Servers, turn: int, game_format: GameFormat) -> float:
    return game_points_mean(servers.chances[turn % CYCLE], game_format)


def _from_level(
    servers: Servers, score: Score, set_format: SetFormat, game_format: GameFormat
) -> SetMeans:
    """Return what is still to come at the last level score: a tie-break or an advantage set."""
    if set_format.tie_break_at is not None:
        last = tie_break_means(servers, first_turn=sum(score))
        return SetMeans(last.chance, 1, last.points)
    turns = range(sum(score), sum(score) + CYCLE)
    games = [_game(servers, turn, game_format) for turn in turns]
    points = [_game_points(servers, turn, game_format) for turn in turns]
    cycle = [PairOfTrials.of(games[j], games[j + 1]) for j in (0, 2)]
    chance, visits = two_clear(cycle)
    mean = sum(n * (points[2 * j] + points[2 * j + 1]) for j, n in enumerate(visits))
    return SetMeans(chance, 2 * sum(visits), mean)


def _endings(servers: Servers, set_format: SetFormat, game_format: GameFormat) -> Iterator[Ending]:
    live: dict[Score, Window] = {(0, 0): CERTAIN_START}
    played = 0
    while live and played < _MOST_GAMES:
        if (tied := set_format.tie_break_at) is not None and (tied, tied) in live:
            yield from _by_tie_break(servers, played, live.pop((tied, tied)))
        after = _one_game_more(servers, played, live, game_format)
        played += 1
        live = {}
        for score, window in after.items():
            if _is_won(score, set_format):
                yield Ending(played, score[0] > score[1], window)
            else:
                live[score] = window
        if sum(window.total() for window in live.values()) < _STILL_PLAYING:
            return


def _by_tie_break(servers: Servers, played: int, before: Window) -> Iterator[Ending]:
    for first_won, points in zip(
        (True, False), tie_break_points(servers, first_turn=played), strict=True
    ):
        yield Ending(played + 1, first_won, before.convolved(points).trimmed())


def _one_game_more(
    servers: Servers, turn: int, live: dict[Score, Window], game_format: GameFormat
) -> dict[Score, Window]:
    after: dict[Score, Window] = {}
    for (first, second), before in live.items():
        ends = play_game(before, servers.chances[turn % CYCLE], game_format)
        won, lost = reversed(ends) if turn % 2 else ends
        for score, window in (((first + 1, second), won), ((first, second + 1), lost)):
            after[score] = after[score] + window if score in after else window
    return after
