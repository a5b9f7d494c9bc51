"""Levels learned in simulated seasons of known true levels, beside a plain Elo.

Reported (30 seasons, 12 evenings, 16 of 24 people an evening, 5 rounds, organiser's guesses with a
standard deviation of one level): see `measure_levels` in `simulated_season`.
"""

from __future__ import annotations

import functools
import math
import statistics
from dataclasses import replace

from simulated_season import Season, elo, rank_correlation, season

from scheduler.domain.score_text import Mark
from scheduler.results import Levels, PlayedMatch, Starting, levels_from
from scheduler.results.levels import FEWEST_EVENINGS, Trial
from scheduler.rules.state import Team

SEEDS = range(4)


@functools.cache
def played(seed: int) -> Season:
    """Return a season, made once."""
    return season(seed)


@functools.cache
def learned(seed: int) -> Levels:
    """Return the levels after a season."""
    return levels_from(played(seed).matches, played(seed).starting)


def correlation(seed: int) -> float:
    """Return the rank correlation of learned and true levels."""
    found = {row.player: row.level for row in learned(seed).rows}
    return rank_correlation(played(seed).true, found)


def test_twelve_evenings_recover_the_order_better_than_guesses_and_a_plain_elo() -> None:
    """Mean rank correlation (Spearman, by scipy) over a few seasons; Elo with its usual k of 32."""
    guesses = statistics.mean(
        rank_correlation(played(s).true, {n: g.level for n, g in played(s).starting.items()})
        for s in SEEDS
    )
    plain_elo = statistics.mean(rank_correlation(played(s).true, elo(played(s))) for s in SEEDS)
    ours = statistics.mean(map(correlation, SEEDS))
    assert ours > plain_elo > guesses
    assert ours > 0.9


def test_the_range_holds_the_true_level_most_of_the_time() -> None:
    """At least 7 of 10 true levels lie from low to high, and ranges are not all of the scale."""
    inside, width = [], []
    for seed in SEEDS:
        for row in learned(seed).rows:
            inside.append(row.low <= played(seed).true[row.player] <= row.high)
            width.append(row.high - row.low)
    assert statistics.mean(inside) >= 0.7
    assert statistics.mean(width) < 4


def test_margins_are_used_only_where_held_out_evenings_say_so() -> None:
    """The choice is that of the smaller loss, and needs enough to go by."""
    good = Trial(FEWEST_EVENINGS, 100, wins_alone=0.6, with_margin=0.5)
    assert good.margin_helps
    assert not replace(good, with_margin=0.7).margin_helps
    assert not replace(good, evenings=FEWEST_EVENINGS - 1).margin_helps
    assert not replace(good, matches=3).margin_helps


def test_margins_that_are_noise_are_not_used() -> None:
    """Where the losers' games are turned to say the opposite, wins alone predict better."""
    honest = played(0)

    def misleading(match: PlayedMatch) -> PlayedMatch:
        # The favourite wins by little, the outsider by much: true winners, false margins.
        levels = [sum(honest.true[name] for name in team) for team in match.teams]
        winner = match.outcome.winner
        assert winner is not None
        by_favourite = levels[winner] > levels[winner.other]
        lost = 5 if by_favourite else 0
        games = (7, lost) if lost == 5 else (6, lost)
        if winner is Team.B:
            games = games[::-1]
        return replace(match, sets=(replace(match.sets[0], a=games[0], b=games[1]),))

    found = levels_from(map(misleading, honest.matches), honest.starting)
    assert not found.trial.margin_helps
    assert found.trial.matches == sum(match.evening > 1 for match in honest.matches)


def test_matches_cut_short_move_nobody_and_order_of_matches_does_not_matter() -> None:
    """An injury says nothing about strength; evenings go by their number."""
    honest = played(1)
    more = [replace(match, mark=Mark.A_RETIRED, key="R9C9") for match in honest.matches[:20]]
    assert levels_from(honest.matches[::-1] + more, honest.starting).rows == learned(1).rows


def test_who_never_played_keeps_the_organisers_level_within_the_scale() -> None:
    """A level of 10 stays 10 with a range that ends at 10."""
    found = levels_from([], {"A": Starting(10.0), "B": Starting(4.0, given=False)})
    first, second = found.rows
    assert (first.player, first.level, first.high) == ("A", 10.0, 10.0)
    assert second.high - second.low > first.high - first.low
    assert math.isclose(found.trial.wins_alone, math.log(2))
