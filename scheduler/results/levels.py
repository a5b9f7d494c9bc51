"""Everybody's level from results, evening by evening, as a range from low to high.

Levels start from the organiser's and move with every finished match
(`scheduler.results.rating`). Between two evenings the uncertainty grows a
little, since people get better, or rusty.

Whether the margin in games is used is decided by the data: every evening but
the first is predicted from those before it, once with levels learned from
wins alone and once from margins, and margins are used only where they
predicted the winners of the held-out evenings better (mean logarithmic score;
Good 1952, "Rational Decisions", J. Roy. Stat. Soc. B 14, 107-114).

Matches cut short move no level: an injury says nothing about strength.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby

from scheduler.domain.suggest import fold
from scheduler.results.played import PlayedMatch
from scheduler.results.rating import Model, Rating, Team, chance, update
from scheduler.rules.state import Team as Side

RANGE = 1.65
"""Half the width of the range in standard deviations.

9 out of 10 of a normal distribution; in simulated seasons the true level lies within it at least
8 times out of 10, for the update is an approximation.
"""

LOWEST, HIGHEST = 1.0, 10.0
FEWEST_EVENINGS, FEWEST_MATCHES = 4, 30
"""What must have been predicted before margins may replace wins."""

_LEAST_CHANCE = 1e-6


@dataclass(frozen=True, slots=True)
class Starting:
    """The organiser's level of one person, and whether it was given or filled in."""

    level: float
    given: bool = True


@dataclass(frozen=True, slots=True)
class LevelRow:
    """One person's level now; `start` is the organiser's."""

    player: str
    level: float
    low: float
    high: float
    start: float
    matches: int


@dataclass(frozen=True, slots=True)
class Trial:
    """How well winners of held-out evenings were predicted, as mean logarithmic loss.

    A loss of 0.693 is a coin's; smaller is better.
    """

    evenings: int
    matches: int
    wins_alone: float
    with_margin: float

    @property
    def margin_helps(self) -> bool:
        """Whether enough was predicted, and better with margins."""
        enough = self.evenings >= FEWEST_EVENINGS and self.matches >= FEWEST_MATCHES
        return enough and self.with_margin < self.wins_alone


@dataclass(frozen=True, slots=True)
class Levels:
    """Everybody's level, strongest first, and how it was found.

    `course` is the level of everyone who had one after each evening with matches.
    """

    rows: tuple[LevelRow, ...]
    trial: Trial
    course: tuple[tuple[int, Mapping[str, float]], ...] = field(default=())


def levels_from(
    matches: Iterable[PlayedMatch],
    starting: Mapping[str, Starting],
    model: Model | None = None,
) -> Levels:
    """Return the level of everybody who started with one.

    Parameters
    ----------
    matches
        The season's matches, in any order.
    starting
        Everybody's level before the season, by name; people of the matches
        who are missing start in the middle of the others.
    model
        The numbers of the update.
    """
    model = model or Model()
    played = sorted((m for m in matches if m.mark is None), key=lambda m: (m.evening, m.key))
    wins = _Course(played, starting, model, margins=False)
    margins = _Course(played, starting, model, margins=True)
    trial = Trial(wins.evenings, wins.predicted, wins.loss, margins.loss)
    best = margins if trial.margin_helps else wins
    return Levels(best.rows(), trial, tuple(best.course))


class _Course:
    """Ratings carried through a season, every evening predicted before it is learned from."""

    def __init__(
        self,
        played: Sequence[PlayedMatch],
        starting: Mapping[str, Starting],
        model: Model,
        *,
        margins: bool,
    ) -> None:
        self.model, self.margins = model, margins
        self.starting = _complete(played, starting)
        self.ratings = {name: _first(start, model) for name, start in self.starting.items()}
        self.matches = dict.fromkeys(self.ratings, 0)
        self.course: list[tuple[int, Mapping[str, float]]] = []
        self.evenings = self.predicted = 0
        self._total_loss = 0.0
        for number, evening in groupby(played, key=lambda match: match.evening):
            self._evening(number, list(evening))

    @property
    def loss(self) -> float:
        """Mean logarithmic loss over the matches predicted; a coin's before the first."""
        return self._total_loss / self.predicted if self.predicted else math.log(2)

    def rows(self) -> tuple[LevelRow, ...]:
        """Return everybody's level, strongest first."""
        rows = [
            _row(name, rating, self.starting[name].level, self.matches[name])
            for name, rating in self.ratings.items()
        ]
        return tuple(sorted(rows, key=lambda r: (-r.level, fold(r.player), r.player)))

    def _evening(self, number: int, matches: Sequence[PlayedMatch]) -> None:
        if self.course:
            self._drift()
            self._predict(matches)
        for match in matches:
            self._learn(match)
        now = {name: _within(rating.level) for name, rating in self.ratings.items()}
        self.course.append((number, now))

    def _drift(self) -> None:
        for name, rating in self.ratings.items():
            spread = min(math.hypot(rating.spread, self.model.drift), self.model.spread * 2)
            self.ratings[name] = Rating(rating.level, spread)

    def _predict(self, matches: Sequence[PlayedMatch]) -> None:
        decided = [match for match in matches if match.outcome.winner is not None]
        self.evenings += bool(decided)
        for match in decided:
            a_wins = chance(*self._teams(match), self.model)
            right = a_wins if match.outcome.winner is Side.A else 1 - a_wins
            self._total_loss -= math.log(max(right, _LEAST_CHANCE))
        self.predicted += len(decided)

    def _learn(self, match: PlayedMatch) -> None:
        teams, model = self._teams(match), self.model
        if self.margins:
            score, scale, weight = _margin(match), model.margin_scale, model.margin_weight
            after = update(*teams, score, model, scale, weight)
        else:
            after = update(*teams, _win(match), model)
        for names, team in zip(match.teams, after, strict=True):
            for name, rating in zip(names, team, strict=True):
                self.ratings[name] = rating
                self.matches[name] += 1

    def _teams(self, match: PlayedMatch) -> tuple[Team, Team]:
        (a1, a2), (b1, b2) = match.teams
        of = self.ratings
        return (of[a1], of[a2]), (of[b1], of[b2])


def _win(match: PlayedMatch) -> float:
    winner = match.outcome.winner
    return 0.5 if winner is None else float(winner is Side.A)


def _margin(match: PlayedMatch) -> float:
    """Return 1 for all games to team A, 0 for none, a half for as many."""
    a, b = match.outcome.games
    return (1 + (a - b) / max(a, b)) / 2 if max(a, b) else 0.5


def _complete(
    played: Sequence[PlayedMatch], starting: Mapping[str, Starting]
) -> dict[str, Starting]:
    complete = dict(starting)
    known = [start.level for start in starting.values()]
    middle = sum(known) / len(known) if known else (LOWEST + HIGHEST) / 2
    for match in played:
        for name in (*match.team_a, *match.team_b):
            complete.setdefault(name, Starting(middle, given=False))
    return complete


def _first(start: Starting, model: Model) -> Rating:
    """Return what is believed at the start; a level filled in says half as much."""
    return Rating(start.level, model.spread * (1 if start.given else 2))


def _within(level: float) -> float:
    return min(max(level, LOWEST), HIGHEST)


def _row(name: str, rating: Rating, start: float, matches: int) -> LevelRow:
    half = RANGE * rating.spread
    return LevelRow(
        player=name,
        level=round(_within(rating.level), 2),
        low=round(_within(rating.level - half), 2),
        high=round(_within(rating.level + half), 2),
        start=start,
        matches=matches,
    )
