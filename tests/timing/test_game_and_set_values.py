"""Chances and mean lengths against published formulas and independently computed tables."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.errors import BadInput
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.timing import (
    Servers,
    best_of_three,
    game_chance,
    game_points_mean,
    set_lengths,
    set_means,
    tie_break_means,
    tie_break_points,
)

# Every value to six digits, from a recursion in exact fractions written apart
# from this code; no published table was at hand. Rows: chance of a point,
# then game, points of a game, no-ad game, its points, tie-break, its points,
# set, games, points, set of no-ad games, its games, its points.
SAME_CHANCE = [
    (0.50, 0.500000, 6.750000, 0.500000, 5.812500, 0.500000, 11.744141,
     0.500000, 9.662109, 65.833752, 0.500000, 9.662109, 56.890881),
    (0.55, 0.623149, 6.680915, 0.608288, 5.783268, 0.654151, 11.602614,
     0.815042, 9.159225, 61.608029, 0.785688, 9.266853, 54.129437),
    (0.60, 0.735729, 6.484185, 0.710208, 5.697280, 0.787456, 11.208632,
     0.963433, 8.128062, 52.832494, 0.943787, 8.379864, 47.953547),
    (0.65, 0.829645, 6.188237, 0.800154, 5.559541, 0.886574, 10.640980,
     0.996392, 7.238365, 44.810608, 0.991648, 7.505001, 41.767177),
    (0.70, 0.900789, 5.831490, 0.873964, 5.378020, 0.949102, 9.995468,
     0.999832, 6.661950, 38.850161, 0.999355, 6.868038, 36.940603),
]  # fmt: skip

# First team's chance on its serve, second team's on its: tie-break, its
# points, set, games, points, set of no-ad games, its games, its points.
ON_SERVE = [
    (0.50, 0.50, 0.500000, 11.744141, 0.500000, 9.662109, 65.833752,
     0.500000, 9.662109, 56.890881),
    (0.55, 0.55, 0.500000, 11.767297, 0.500000, 9.739824, 65.758376,
     0.500000, 9.721812, 57.015638),
    (0.60, 0.60, 0.500000, 11.839371, 0.500000, 9.972184, 65.591028,
     0.500000, 9.902366, 57.409432),
    (0.65, 0.65, 0.500000, 11.969139, 0.500000, 10.365824, 65.580902,
     0.500000, 10.212612, 58.171967),
    (0.70, 0.70, 0.500000, 12.175236, 0.500000, 10.940581, 66.215482,
     0.500000, 10.678575, 59.584616),
    (0.50, 0.60, 0.344938, 11.623270, 0.187358, 9.290499, 61.988730,
     0.214975, 9.365052, 54.498495),
    (0.55, 0.60, 0.420433, 11.759320, 0.330522, 9.743059, 64.877818,
     0.347151, 9.722436, 56.632645),
    (0.65, 0.60, 0.581617, 11.857966, 0.663495, 9.976450, 64.211561,
     0.651238, 9.898083, 56.771669),
    (0.70, 0.60, 0.662973, 11.810615, 0.794854, 9.838862, 61.517711,
     0.779895, 9.757936, 55.047212),
]  # fmt: skip

TIE_BREAK_TO_10 = [
    (0.50, 0.500000, 17.032471),
    (0.55, 0.679340, 16.793367),
    (0.60, 0.825764, 16.142558),
    (0.65, 0.922466, 15.242006),
    (0.70, 0.973040, 14.266585),
]

# Chances on serve, then set, games, points of a short set (tie-break at 4-4).
SHORT_SET = [
    (0.50, 0.50, 0.500000, 6.281250, 43.178772),
    (0.55, 0.45, 0.772384, 6.020183, 40.819048),
    (0.60, 0.40, 0.931950, 5.431331, 35.487824),
    (0.65, 0.35, 0.987117, 4.854030, 30.108958),
    (0.70, 0.30, 0.998498, 4.452468, 25.975145),
    (0.55, 0.55, 0.500000, 6.351762, 43.311274),
    (0.60, 0.60, 0.500000, 6.569088, 43.795857),
    (0.65, 0.65, 0.500000, 6.953953, 44.919870),
    (0.70, 0.70, 0.500000, 7.495051, 46.798214),
]

EXACT_GAMES = [
    (Fraction(50, 100), Fraction(1, 2)),
    (Fraction(55, 100), Fraction(50350399, 80800000)),
    (Fraction(60, 100), Fraction(29889, 40625)),
    (Fraction(65, 100), Fraction(72345013, 87200000)),
    (Fraction(70, 100), Fraction(81634, 90625)),
]

SETS = [kind for kind in SetFormat if kind is not SetFormat.TIMED]
four_servers = st.tuples(*[st.floats(0.35, 0.7)] * 4).map(Servers)


def close(value: float) -> object:
    """Return what equals a table's value to its last digit."""
    return pytest.approx(value, abs=1e-6)


def set_values(servers: Servers, game_format: GameFormat) -> list[float]:
    """Return chance, games and points of a tie-break set."""
    means = set_means(servers, SetFormat.TIE_BREAK, game_format)
    return [means.chance, means.games, means.points]


def test_game_formula_is_the_published_one() -> None:
    """The game is p⁴(15 - 4p - 10p²/(1 - 2pq)) for every p (Newton and Keller 2005).

    Times 1 - 2pq both sides are polynomials of degree 8 at most, so 20 exact
    points prove them equal.
    """
    for p in (Fraction(k, 19) for k in range(20)):
        q = 1 - p
        published = p**4 * (15 - 4 * p - 10 * p**2 / (1 - 2 * p * q))
        assert game_chance(p) == published


def test_no_ad_game_is_best_of_seven() -> None:
    """A no-ad game is p⁴(1 + 4q + 10q² + 20q³), the chance to win four of seven points."""
    binomial = {4: 35, 5: 21, 6: 7, 7: 1}
    for p in (Fraction(k, 19) for k in range(20)):
        q = 1 - p
        four_of_seven = sum(ways * p**won * q ** (7 - won) for won, ways in binomial.items())
        assert game_chance(p, GameFormat.NO_AD) == four_of_seven
        assert four_of_seven == p**4 * (1 + 4 * q + 10 * q**2 + 20 * q**3)


def test_points_of_a_game_are_the_published_ones() -> None:
    """Mean points of a game follow the published polynomial in p and q (O'Malley 2008)."""
    for p in (Fraction(k, 19) for k in range(20)):
        q = 1 - p
        before = 4 * (p**4 + q**4) + 20 * p * q * (p**3 + q**3)
        before += 60 * p**2 * q**2 * (p**2 + q**2)
        ad = before + 20 * p**3 * q**3 * (6 + 2 / (p**2 + q**2))
        assert game_points_mean(p) == ad
        assert game_points_mean(p, GameFormat.NO_AD) == before + 140 * p**3 * q**3


@pytest.mark.parametrize(("p", "expected"), EXACT_GAMES)
def test_games_in_exact_fractions(p: Fraction, expected: Fraction) -> None:
    """Fractions in give the exact fraction out; 0.6 gives 29889/40625 = 0.735729."""
    assert game_chance(p) == expected
    assert game_chance(float(p)) == pytest.approx(float(expected), abs=1e-14)


@pytest.mark.parametrize("row", SAME_CHANCE, ids=lambda row: str(row[0]))
def test_table_of_one_chance_whoever_serves(row: tuple[float, ...]) -> None:
    """Game, tie-break and set for a team that wins p of all points."""
    p = row[0]
    servers = Servers.of_teams(p, 1 - p)
    no_ad = GameFormat.NO_AD
    tie_break = tie_break_means(servers)
    found = [game_chance(p), game_points_mean(p), game_chance(p, no_ad), game_points_mean(p, no_ad)]
    found += [tie_break.chance, tie_break.points]
    found += set_values(servers, GameFormat.AD) + set_values(servers, no_ad)
    assert found == [close(value) for value in row[1:]]


@pytest.mark.parametrize("row", ON_SERVE, ids=lambda row: f"{row[0]},{row[1]}")
def test_table_of_chances_on_serve(row: tuple[float, ...]) -> None:
    """Tie-break and set where each team has its own chance on serve."""
    servers = Servers.of_teams(row[0], row[1])
    tie_break = tie_break_means(servers)
    found = [tie_break.chance, tie_break.points]
    found += set_values(servers, GameFormat.AD) + set_values(servers, GameFormat.NO_AD)
    assert found == [close(value) for value in row[2:]]


@pytest.mark.parametrize("row", TIE_BREAK_TO_10, ids=lambda row: str(row[0]))
def test_table_of_tie_breaks_to_ten(row: tuple[float, ...]) -> None:
    """A match tie-break to 10 for a team that wins p of all points."""
    means = set_means(Servers.of_teams(row[0], 1 - row[0]), SetFormat.MATCH_TIE_BREAK_10)
    assert [means.chance, means.points] == [close(value) for value in row[1:]]


@pytest.mark.parametrize("row", SHORT_SET, ids=lambda row: f"{row[0]},{row[1]}")
def test_table_of_short_sets(row: tuple[float, ...]) -> None:
    """A short set with its tie-break at 4-4."""
    means = set_means(Servers.of_teams(row[0], row[1]), SetFormat.SHORT)
    assert [means.chance, means.games, means.points] == [close(value) for value in row[2:]]


@pytest.mark.parametrize("set_format", SETS)
@pytest.mark.parametrize("game_format", GameFormat)
def test_set_chance_does_not_depend_on_the_first_server(
    set_format: SetFormat, game_format: GameFormat
) -> None:
    """A team's chance is the same whoever serves first (Newton and Keller 2005), exactly."""
    servers = Servers.of_teams(Fraction(31, 50), Fraction(11, 20))
    serving = set_means(servers, set_format, game_format).chance
    receiving = 1 - set_means(servers.swapped(), set_format, game_format).chance
    assert isinstance(serving, Fraction)
    assert serving == receiving


@pytest.mark.parametrize("set_format", SETS)
@pytest.mark.parametrize("game_format", GameFormat)
def test_fractions_give_exact_means(set_format: SetFormat, game_format: GameFormat) -> None:
    """Four even servers have exactly half a chance, and floats agree with exact means."""
    half = Fraction(1, 2)
    exact = Servers((Fraction(3, 5), half, Fraction(7, 10), half))
    assert set_means(Servers((half,) * 4), set_format, game_format).chance == half
    means = set_means(exact, set_format, game_format)
    floats = set_means(Servers((0.6, 0.5, 0.7, 0.5)), set_format, game_format)
    assert isinstance(means.points, Fraction)
    assert floats.chance == pytest.approx(float(means.chance), abs=1e-12)
    assert floats.games == pytest.approx(float(means.games), abs=1e-10)
    assert floats.points == pytest.approx(float(means.points), abs=1e-9)


@pytest.mark.parametrize("set_format", SETS)
@given(servers=four_servers, game_format=st.sampled_from(GameFormat))
@settings(deadline=None, max_examples=30)
def test_distribution_has_the_exact_means(
    set_format: SetFormat, servers: Servers, game_format: GameFormat
) -> None:
    """Chance, games and points of the whole distribution are those of the recursion."""
    lengths = set_lengths(servers, set_format, game_format)
    means = set_means(servers, set_format, game_format)
    won = sum(ending.points.total() for ending in lengths.endings if ending.first_won)
    games = sum(count * chance for count, chance in lengths.games.items())
    points = sum(count * chance for count, chance in lengths.points.items())
    slack = 1e-7 + 3000 * lengths.beyond
    assert lengths.beyond < 1e-7
    assert won == pytest.approx(means.chance, abs=1e-7)
    assert games == pytest.approx(means.games, abs=slack)
    assert points == pytest.approx(means.points, abs=slack)


@given(servers=four_servers, first_turn=st.integers(0, 3))
def test_tie_break_distribution_has_the_exact_means(servers: Servers, first_turn: int) -> None:
    """Chance and points of a tie-break's distribution are those of its closed form."""
    means = tie_break_means(servers, 7, first_turn)
    won, lost = tie_break_points(servers, 7, first_turn)
    assert won.total() == pytest.approx(means.chance, abs=1e-10)
    points = sum(count * chance for window in (won, lost) for count, chance in window)
    assert points == pytest.approx(means.points, abs=1e-8)


def test_possible_lengths_are_those_of_the_rules() -> None:
    """A tie-break set has 6 to 13 games but never 11, a 3-3 short set 4 to 7 (Rule 6)."""
    servers = Servers.of_teams(0.6, 0.55)
    full, short = (
        set_lengths(servers, kind).games for kind in (SetFormat.TIE_BREAK, SetFormat.SHORT_3_3)
    )
    assert [count for count, chance in full.items() if chance > 0] == [6, 7, 8, 9, 10, 12, 13]
    assert [count for count, chance in short.items() if chance > 0] == [4, 5, 6, 7]


def test_certain_points_give_the_shortest_set() -> None:
    """A team that wins every point needs 24 points for 6-0."""
    means = set_means(Servers.of_teams(1, 0))
    assert (means.chance, means.games, means.points) == (1, 6, 24)
    assert set_lengths(Servers.of_teams(1, 0)).points == {24: 1.0}


@pytest.mark.parametrize("chance", [0, 1])
@pytest.mark.parametrize("set_format", [SetFormat.TIE_BREAK, SetFormat.ADVANTAGE])
def test_endless_play_is_refused(set_format: SetFormat, chance: int) -> None:
    """Where every server always wins, or always loses, a set never ends."""
    with pytest.raises(BadInput, match="never ends"):
        set_means(Servers.of_teams(chance, chance), set_format)


def test_long_tail_is_told_and_not_hidden() -> None:
    """Sets of strong servers that are too long to be listed stay in `beyond`."""
    lengths = set_lengths(Servers.of_teams(0.9, 0.9), SetFormat.ADVANTAGE)
    listed = sum(lengths.games.values())
    assert lengths.beyond > 0.5
    assert lengths.beyond + listed == pytest.approx(1)
    assert set_means(Servers.of_teams(0.9, 0.9), SetFormat.ADVANTAGE).games > 500


def test_best_of_three_follows_from_its_sets() -> None:
    """With partners alike a match is P²(3 - 2P), and lasts 2 + 2P(1 - P) sets (Rule 7)."""
    servers = Servers.of_teams(0.62, 0.55)
    won = set_means(servers).chance
    match = best_of_three(servers)
    assert match.chance == pytest.approx(won**2 * (3 - 2 * won), abs=1e-9)
    assert match.sets == pytest.approx(2 + 2 * won * (1 - won), abs=1e-9)
    deciding = best_of_three(servers, deciding=SetFormat.MATCH_TIE_BREAK_10)
    tie_break = set_means(servers, SetFormat.MATCH_TIE_BREAK_10).chance
    expected = won**2 + 2 * won * (1 - won) * tie_break
    assert deciding.chance == pytest.approx(expected, abs=1e-9)
    assert deciding.points < match.points


def test_best_of_three_refuses_tie_breaks_as_sets() -> None:
    """The first two sets of a match cannot be match tie-breaks."""
    with pytest.raises(BadInput, match="first two sets"):
        best_of_three(Servers.of_teams(0.6, 0.6), SetFormat.MATCH_TIE_BREAK_7)


@pytest.mark.parametrize(
    ("bad", "count"),
    [
        ((-0.1, 0.5, 0.5, 0.5), 1),
        ((1.1, 0.5, float("nan"), 0.5), 2),
        ((float("inf"),) * 4, 4),
        ((), 1),
        ((0.5, 0.5), 1),
    ],
)
def test_every_bad_chance_is_named(bad: tuple[float, ...], count: int) -> None:
    """Negative chances, chances above 1, nan and a wrong number of them are all reported."""
    with pytest.raises(BadInput) as caught:
        Servers(bad)
    assert len(caught.value.faults) == count


def test_timed_round_has_no_length_of_its_own() -> None:
    """A timed round is refused where a length is asked for."""
    servers = Servers.of_teams(0.6, 0.6)
    for ask in (set_means, set_lengths):
        with pytest.raises(BadInput, match="clock"):
            ask(servers, SetFormat.TIMED)
