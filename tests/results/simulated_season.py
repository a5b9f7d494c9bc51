"""A season of people whose true levels are known, played out game by game.

Each game is held or broken by the chances that a server's and a receiver's
team have of a point (an invented relation of levels to points, marked so in
`scheduler.timing.levels`), so the results do not come from the model that the
levels are learned with. Evenings are drawn at random from the members, and
teams at random from those who come: what a drop-in club sees.
"""

from __future__ import annotations

import random
import sys
from dataclasses import dataclass
from statistics import mean

from scipy.stats import spearmanr

from scheduler.domain.formats import SetFormat
from scheduler.domain.score_text import SetScore
from scheduler.results import PlayedMatch, Starting, levels_from
from scheduler.timing import LevelModel, game_chance, tie_break_means


@dataclass(frozen=True)
class Season:
    """True levels, the organiser's guesses of them, and what was played."""

    true: dict[str, float]
    starting: dict[str, Starting]
    matches: list[PlayedMatch]


def season(
    seed: int,
    *,
    people: int = 24,
    evenings: int = 12,
    rounds: int = 5,
    guess: float = 1.0,
    coming: int = 16,
) -> Season:
    """Return a season; `guess` is the standard deviation of the organiser's guesses."""
    rng = random.Random(f"season {seed}")
    names = [f"P{number:02d}" for number in range(1, people + 1)]
    true = {name: min(max(rng.gauss(5, 1.5), 1), 10) for name in names}
    starting = {
        name: Starting(min(max(round(2 * (level + rng.gauss(0, guess))) / 2, 1), 10))
        for name, level in true.items()
    }
    matches = []
    for evening in range(1, evenings + 1):
        there = rng.sample(names, coming)
        for number in range(1, rounds + 1):
            rng.shuffle(there)
            for court in range(coming // 4):
                four = there[4 * court : 4 * court + 4]
                score = play_set(rng, [true[name] for name in four])
                matches.append(
                    PlayedMatch(
                        evening,
                        f"R{number}C{court + 1}",
                        (four[0], four[1]),
                        (four[2], four[3]),
                        (score,),
                        None,
                        SetFormat.TIE_BREAK,
                    )
                )
    return Season(true, starting, matches)


def play_set(rng: random.Random, levels: list[float]) -> SetScore:
    """Return a tie-break set between four people, A1, A2, B1, B2 (ITF Rule 6b)."""
    servers = LevelModel().servers((levels[0], levels[1]), (levels[2], levels[3]))
    a = b = turn = 0
    while not ((max(a, b) >= 6 and abs(a - b) >= 2) or max(a, b) == 7):
        if a == b == 6:
            chance = tie_break_means(servers, 7).chance
        else:
            held = game_chance(servers.chances[turn % 4])
            chance = held if turn % 2 == 0 else 1 - held
        won = rng.random() < chance
        a, b, turn = a + won, b + (not won), turn + 1
    return SetScore(a, b)


def elo(played: Season, k: float = 32.0, points_a_level: float = 170.0) -> dict[str, float]:
    """Return a plain Elo of teams' mean ratings, in levels, started from the same guesses.

    Elo (1978, *The Rating of Chessplayers*): expected score 1/(1 + 10^(-d/400)), every player of
    a team moved by k times the surprise. `points_a_level` puts the levels on Elo's scale.
    """
    rating = {name: start.level * points_a_level for name, start in played.starting.items()}
    for match in played.matches:
        (a1, a2), (b1, b2) = match.teams
        lead = (rating[a1] + rating[a2] - rating[b1] - rating[b2]) / 2
        won = 1.0 if match.sets[0].a > match.sets[0].b else 0.0
        step = k * (won - 1 / (1 + 10 ** (-lead / 400)))
        for name, sign in ((a1, 1), (a2, 1), (b1, -1), (b2, -1)):
            rating[name] += sign * step
    return {name: value / points_a_level for name, value in rating.items()}


def rank_correlation(one: dict[str, float], other: dict[str, float]) -> float:
    """Return Spearman's rank correlation of two lists of the same people (scipy)."""
    names = sorted(one)
    return float(spearmanr([one[n] for n in names], [other[n] for n in names]).statistic)


def measure_levels(seasons: int = 30) -> str:
    """Return the figures to report, from that many seasons; some minutes."""
    lines = []
    made = [season(seed) for seed in range(seasons)]
    for k in (16, 32, 64, 100):
        found = mean(rank_correlation(s.true, elo(s, k=k)) for s in made)
        lines.append(f"plain Elo, k = {k}: {found:.3f}")
    start = [{n: g.level for n, g in s.starting.items()} for s in made]
    guesses = mean(rank_correlation(s.true, g) for s, g in zip(made, start, strict=True))
    lines.insert(0, f"organiser's guesses: {guesses:.3f}")
    found = [levels_from(s.matches, s.starting) for s in made]
    ours = [
        rank_correlation(s.true, {row.player: row.level for row in levels.rows})
        for s, levels in zip(made, found, strict=True)
    ]
    inside = mean(
        row.low <= s.true[row.player] <= row.high
        for s, levels in zip(made, found, strict=True)
        for row in levels.rows
    )
    lines.append(f"rota levels: {mean(ours):.3f} (from {min(ours):.3f} to {max(ours):.3f})")
    lines.append(f"margins used in {sum(levels.trial.margin_helps for levels in found)} seasons")
    lines.append(f"true level within the range: {inside:.2f}")
    return "\n".join(lines)


if __name__ == "__main__":
    sys.stdout.write(measure_levels() + "\n")
