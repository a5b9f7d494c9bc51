"""Minutes of a court and of the slowest of many, timed rounds, and what fits."""

from __future__ import annotations

import math
import random
import time
from dataclasses import fields, replace

import pytest
from set_simulation import Simulator

from scheduler.domain.errors import BadInput
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing import (
    ORIGINS,
    UNITS,
    AllCourts,
    Court,
    Durations,
    LevelModel,
    Pace,
    RecordedMatch,
    RoundFit,
    Servers,
    all_courts,
    court_durations,
    fits,
    formats_for,
    learn_factor,
    round_fit,
    set_lengths,
    set_means,
    timed_round,
)
from scheduler.timing.advice import LEVEL_STEP
from scheduler.timing.wording import described

EVEN = Servers.of_teams(0.55, 0.55)
UNEQUAL = Servers((0.62, 0.55, 0.58, 0.66))
PACE = Pace()


def test_every_default_says_where_it_comes_from() -> None:
    """Each setting of the pace has an origin that names a rule or owns to having none."""
    names = [item.name for item in fields(Pace)]
    assert list(ORIGINS) == names == list(UNITS)
    honest = ("ITF Rule 29", "common practice, no source", "assumption, no source", "1 = as stated")
    assert all(origin.startswith(honest) for origin in ORIGINS.values())


def test_limits_of_rule_29_are_the_defaults() -> None:
    """25 s between points, 90 s at a change of ends, 120 s between sets (ITF Rule 29)."""
    assert (PACE.between_points, PACE.change_of_ends, PACE.set_break) == (25, 90, 120)


def test_seconds_of_a_set_add_up() -> None:
    """A 6-0 of 24 points: 24 rallies, 23 pauses, of which two are rests after games 3 and 5."""
    assert PACE.play_seconds(24, 6) == 24 * 8 + 21 * 25 + 2 * 90
    assert Pace(factor=1.1).play_seconds(24, 6, times=2) == pytest.approx(2.2 * 897)


@pytest.mark.parametrize("games", [1, 4, 9])
def test_points_that_fit_are_the_last_that_are_over(games: int) -> None:
    """The points within a time are over by then, and one more would not be."""
    pace = Pace(factor=1.3)
    for seconds in (10, 33, 500, 1501.5):
        points = pace.points_within(seconds, games, 1.25)
        assert points == 0 or pace.play_seconds(points, games, 1.25) <= seconds + 1e-6
        assert pace.play_seconds(points + 1, games, 1.25) > seconds


@pytest.mark.parametrize(
    "wrong",
    [
        {"rally": -1},
        {"between_points": math.nan},
        {"change_of_ends": math.inf},
        {"factor": 0},
        {"factor": math.nan},
        {"beginner_below": math.nan},
        {"rally": 0, "between_points": 0},
    ],
)
def test_bad_pace_is_refused(wrong: dict[str, float]) -> None:
    """Negative, endless and missing times and factors are refused."""
    with pytest.raises(BadInput):
        Pace(**wrong)


def test_every_fault_of_a_pace_is_named() -> None:
    """All bad settings are reported together."""
    with pytest.raises(BadInput) as caught:
        Pace(rally=-1, knock_up=math.nan, factor=99)
    assert [fault.where for fault in caught.value.faults] == ["rally", "knock up", "factor"]


def test_beginners_are_slower_by_the_stated_factor() -> None:
    """A court whose mean level is below the limit takes the beginners' factor longer."""
    assert PACE.times_at((2, 2, 2, 3.9)) == PACE.beginner_factor
    assert PACE.times_at((2.5, 2.5, 2.5, 2.5)) == 1
    slow = court_durations(EVEN, SetFormat.SHORT, GameFormat.AD, PACE, 1.25)
    fast = court_durations(EVEN, SetFormat.SHORT, GameFormat.AD, PACE)
    before = PACE.before_play
    assert slow.quantile(0.5) - before == pytest.approx(1.25 * (fast.quantile(0.5) - before))


@pytest.mark.parametrize("courts", [1, 4, 12])
def test_slowest_court_agrees_with_simulation(courts: int) -> None:
    """The maximum over courts played through the rules follows the product of chances.

    Dvoretzky, Kiefer and Wolfowitz: with 3000 rounds no sampled chance is off
    by more than 0.036 but once in 2000 times.
    """
    rounds, dice = 3000, random.Random(courts)
    simulator = Simulator(SetFormat.SHORT, GameFormat.NO_AD)
    slowest = []
    for _ in range(rounds):
        played = [simulator.play_set(UNEQUAL, dice) for _ in range(courts)]
        seconds = [PACE.play_seconds(points, games) for _, games, points in played]
        slowest.append(PACE.before_play + max(seconds))
    court = court_durations(UNEQUAL, SetFormat.SHORT, GameFormat.NO_AD, PACE)
    every = AllCourts(((court, courts),))
    for seconds in sorted(slowest)[::25]:
        sampled = sum(value <= seconds + 1e-6 for value in slowest) / rounds
        assert every.chance_by(seconds + 1e-6) == pytest.approx(sampled, abs=0.036)


def test_maximum_of_unlike_courts_by_hand() -> None:
    """Two dice of unlike faces: the chance of both at most t is the product."""
    die = Durations.of((float(face), 1 / 6) for face in range(1, 7))
    coin = Durations.of([(2.5, 0.5), (5.5, 0.5)])
    both = all_courts([die, coin, die])
    assert sorted(count for _, count in both.courts) == [1, 2]
    assert both.chance_by(5) == pytest.approx((5 / 6) ** 2 / 2)
    assert both.chance_by(5.5) == pytest.approx((5 / 6) ** 2)
    assert both.quantile(0.6) == 5.5
    assert both.quantile(0.7) == 6
    assert both.quantile(0.001) == 2.5


def test_quantiles_by_hand() -> None:
    """A quantile is the first value by which the chance is reached."""
    spread = Durations.of([(30.0, 0.25), (10.0, 0.5), (20.0, 0.2)])
    assert [spread.quantile(chance) for chance in (0.5, 0.51, 0.7, 0.95)] == [10, 20, 20, 30]
    assert spread.quantile(0.96) == math.inf
    assert (spread.chance_by(9.9), spread.chance_by(10)) == (0, 0.5)
    mean, variance = Durations.of([(1.0, 0.5), (3.0, 0.5)]).mean_and_variance()
    assert (mean, variance) == (2, 1)


def test_more_courts_never_finish_earlier() -> None:
    """Every quantile rises with the number of courts, and with the chance asked for."""
    last = 0.0
    for courts in (1, 2, 5, 20):
        fit = round_fit(SetFormat.TIE_BREAK, GameFormat.AD, 60, [Court(EVEN)] * courts, PACE)
        assert last < fit.median < fit.p80 < fit.p95
        last = fit.median


def timed_by_dice(dice: random.Random, seconds: float) -> tuple[int, int, int]:
    """Return finished games, first team's lead and points until the bell, played out in time.

    An event clock of its own: it shares the settings, not the sums, with the
    code it tests.
    """
    clock, games, lead, points = 0.0, 0, 0, 0
    while True:
        won, lost = 0, 0
        while max(won, lost) < 4 or abs(won - lost) < 2:
            if clock + PACE.rally > seconds:
                return games, lead, points
            clock += PACE.rally
            points += 1
            server_wins = dice.random() < UNEQUAL.chances[games % 4]
            won, lost = won + server_wins, lost + (not server_wins)
            clock += PACE.between_points
        first_won = (won > lost) == (games % 2 == 0)
        games, lead = games + 1, lead + (1 if first_won else -1)
        if games % 2 == 1 and games > 1:
            clock += PACE.change_of_ends - PACE.between_points


def test_timed_round_agrees_with_simulation() -> None:
    """Games, leads and points at the bell are those of rounds played against a clock."""
    rounds, dice, minutes = 8000, random.Random(5), 25
    sample = [timed_by_dice(dice, minutes * 60 - PACE.before_play) for _ in range(rounds)]
    found = timed_round(UNEQUAL, GameFormat.AD, minutes, PACE)
    error = 4 * 0.5 / math.sqrt(rounds)
    for count, chance in enumerate(found.games):
        share = sum(games == count for games, _, _ in sample) / rounds
        assert chance == pytest.approx(share, abs=error)
    assert sum(found.games) == pytest.approx(1, abs=1e-9)
    ahead = sum(lead > 0 for _, lead, _ in sample) / rounds
    level = sum(lead == 0 for _, lead, _ in sample) / rounds
    fours = sum(games > 0 and games % 4 == 0 for games, _, _ in sample) / rounds
    assert found.first_ahead == pytest.approx(ahead, abs=error)
    assert found.level == pytest.approx(level, abs=error)
    assert found.served_equally == pytest.approx(fours, abs=error)
    points = sum(points for _, _, points in sample) / rounds
    assert found.points_mean == pytest.approx(points, abs=0.05)


def test_timed_round_too_short_for_a_game() -> None:
    """Changeover and knock-up leave no game in four minutes, and nobody leads."""
    found = timed_round(EVEN, GameFormat.AD, 4, PACE)
    assert found.games == (1.0,)
    assert (found.level, found.first_ahead, found.everyone_served) == (1, 0, 0)
    assert found.served_equally == 0
    assert found.points_mean == 2
    assert timed_round(EVEN, GameFormat.AD, 1, PACE).points_mean == 0


@pytest.mark.parametrize("minutes", [0, -5, math.nan, math.inf, 241])
def test_bad_minutes_are_refused(minutes: float) -> None:
    """A round needs a number of minutes above 0 and within an evening."""
    with pytest.raises(BadInput, match="minutes"):
        fits(SetFormat.SHORT, GameFormat.AD, minutes)
    with pytest.raises(BadInput, match="minutes"):
        timed_round(EVEN, GameFormat.AD, minutes, PACE)


def test_games_of_a_timed_round_in_eight_rounds_of_ten() -> None:
    """A quantile of games splits the rounds as it says."""
    found = timed_round(EVEN, GameFormat.AD, 40, PACE)
    low = found.games_quantile(0.1)
    assert sum(found.games[:low]) <= 0.1 < sum(found.games[: low + 1])


def test_levels_are_fair_to_equals_and_to_the_stronger() -> None:
    """Equal teams have the stated chance; a level more per player wins six points in ten."""
    model = LevelModel()
    assert model.servers((4, 4), (4, 4)).chances == pytest.approx((model.equal_serve,) * 4)
    neutral = LevelModel(equal_serve=0.5)
    assert neutral.servers((5, 5), (4, 4)).chances[0] == pytest.approx(0.6, abs=0.002)
    mixed = model.servers((5, 3), (4, 4)).chances
    assert mixed[0] > model.equal_serve > mixed[2]
    assert mixed[1] == mixed[3] == pytest.approx(model.equal_serve)


@pytest.mark.parametrize("level", [0.5, 10.5, math.nan, -1])
def test_bad_levels_are_named_with_their_match(level: float) -> None:
    """A level outside 1 to 10 is reported with the match it belongs to."""
    teams = [((3.0, 3.0), (3.0, 3.0)), ((3.0, level), (3.0, 3.0))]
    with pytest.raises(BadInput, match="match 2"):
        fits(SetFormat.SHORT, GameFormat.AD, 25, teams)


def test_fitting_format_needs_no_words() -> None:
    """A match tie-break on one court fits 25 minutes, without warning or proposal."""
    fit = fits(SetFormat.MATCH_TIE_BREAK_10, GameFormat.AD, 25)
    assert fit.fits
    assert fit.done_in_time >= 0.95
    assert (fit.proposal, fit.warning) == ("", "")


def test_misfit_is_answered_with_a_format_that_fits() -> None:
    """A tie-break set misses 25 minutes on four courts; the format proposed does fit."""
    teams = [((3.0, 3.5), (4.0, 2.5))] * 4
    fit = fits(SetFormat.TIE_BREAK, GameFormat.AD, 25, teams)
    assert not fit.fits
    assert fit.p80 > 25
    assert "match tie-break to 10 would fit" in fit.proposal
    assert "finished games" in fit.proposal
    assert "all 4 courts" in fit.warning
    assert fits(SetFormat.MATCH_TIE_BREAK_10, GameFormat.AD, 25, teams).fits


@pytest.mark.parametrize("minutes", [15, 25, 35, 45, 55, 65])
def test_proposal_is_the_longest_that_fits(minutes: int) -> None:
    """Of all formats but the advantage set, the longest that fits is proposed for a pro set."""
    fit = fits(SetFormat.PRO, GameFormat.AD, minutes)
    fitting = [
        other
        for other in formats_for(minutes, [Court(EVEN)], PACE)
        if other.fits and other.set_format is not SetFormat.ADVANTAGE
    ]
    longest = max(fitting, key=lambda other: other.median)
    words = described(longest.set_format, longest.game_format)
    assert fit.proposal.startswith(f"{words} would fit")


def test_hopeless_round_says_so() -> None:
    """Where not a game would be finished, more minutes are proposed."""
    for kind in (SetFormat.TIE_BREAK, SetFormat.TIMED):
        fit = fits(kind, GameFormat.AD, 5)
        assert not fit.fits
        assert "more minutes" in fit.warning


def test_timed_round_fits_by_the_bell() -> None:
    """A timed round is over when the bell says so."""
    fit = fits(SetFormat.TIMED, GameFormat.NO_AD, 25, courts=6)
    assert fit == RoundFit(
        SetFormat.TIMED, GameFormat.NO_AD, 25, 6, 25, 25, 25, fit.done_in_time, fits=True
    )


def test_own_changeover_can_be_left_out() -> None:
    """An evening with its own changeover passes a pace without one and gains that minute."""
    with_it = fits(SetFormat.SHORT, GameFormat.AD, 30)
    without = fits(SetFormat.SHORT, GameFormat.AD, 30, pace=replace(PACE, changeover=0))
    assert with_it.p80 - without.p80 == pytest.approx(PACE.changeover / 60)


def test_rounded_levels_cost_little_accuracy() -> None:
    """Judging teams by their rounded difference alone moves no estimate by two minutes.

    The teams' levels are from 3 to 5; the worst of 45 such rounds was 1.7 minutes off.
    """
    dice = random.Random(3)
    for _ in range(8):
        teams = [
            tuple((dice.uniform(3, 5), dice.uniform(3, 5)) for _ in range(2)) for _ in range(4)
        ]
        rounded = fits(SetFormat.TIE_BREAK, GameFormat.AD, 40, teams)
        courts = [Court(LevelModel().servers(*pair)) for pair in teams]
        exact = round_fit(SetFormat.TIE_BREAK, GameFormat.AD, 40, courts, PACE)
        for name in ("median", "p80", "p95"):
            assert getattr(rounded, name) == pytest.approx(getattr(exact, name), abs=2)
    assert LEVEL_STEP <= 0.5


def test_planner_is_not_kept_waiting() -> None:
    """Fifty courts of unlike teams are judged in a tenth of a second of computing.

    The limit here is wider, for slower machines; the caches are emptied first.
    """
    dice = random.Random(2)
    teams = [tuple((dice.gauss(4, 0.7), dice.gauss(4, 0.7)) for _ in range(2)) for _ in range(50)]
    set_lengths.cache_clear()
    court_durations.cache_clear()
    start = time.process_time()
    fits(SetFormat.TIE_BREAK, GameFormat.AD, 25, teams)
    assert time.process_time() - start < 0.4


def test_nothing_recorded_changes_nothing() -> None:
    """Without matches the factor is 1, with the prior's spread."""
    learned = learn_factor([], prior_spread=0.2)
    assert (learned.factor, learned.matches) == (1, 0)
    assert learned.spread == pytest.approx(0.2)


def test_factor_is_learned_from_played_sets() -> None:
    """Forty sets of a club a fifth slower, played by the dice, give a factor near 1.2."""
    dice, simulator = random.Random(11), Simulator(SetFormat.TIE_BREAK, GameFormat.AD)
    slow = Pace(factor=1.2)
    records = []
    for _ in range(40):
        _, games, points = simulator.play_set(EVEN, dice)
        seconds = slow.knock_up + slow.play_seconds(points, games)
        records.append(
            RecordedMatch(SetFormat.TIE_BREAK, GameFormat.AD, seconds / 60, servers=EVEN)
        )
    learned = learn_factor(records)
    assert abs(learned.factor - 1.2) < 3 * learned.spread
    assert learned.spread < 0.05
    assert learned.applied_to(PACE).factor == learned.factor


def test_one_odd_match_moves_little() -> None:
    """A single set far too short pulls the factor less than a third of the way to its ratio."""
    record = RecordedMatch(SetFormat.TIE_BREAK, GameFormat.AD, 10, servers=EVEN)
    expected = set_means(EVEN).points * PACE.point / 60
    ratio = (10 - PACE.knock_up / 60) / expected
    assert 1 - (1 - ratio) / 3 < learn_factor([record]).factor < 1


def test_timed_matches_teach_nothing() -> None:
    """Timed matches are counted and left out, for the bell ended them."""
    learned = learn_factor([RecordedMatch(SetFormat.TIMED, GameFormat.AD, 25)])
    assert (learned.factor, learned.matches, learned.timed) == (1, 0, 1)


def test_bad_records_are_all_named() -> None:
    """Every recorded length that cannot be is reported with its place in the list."""
    records = [
        RecordedMatch(SetFormat.SHORT, GameFormat.AD, minutes)
        for minutes in (20, 0, math.nan, -3, 10_000)
    ]
    with pytest.raises(BadInput) as caught:
        learn_factor(records)
    assert [fault.where for fault in caught.value.faults] == [f"match {n}" for n in (2, 3, 4, 5)]
