"""The formulas against the state machine of the rules, which shares no code with them."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse import coo_array
from scipy.sparse.linalg import spsolve
from set_simulation import FORMATS, ORDER, Simulator, deviations

from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.rules.ends import changes_after_game
from scheduler.rules.play import play
from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import server_of
from scheduler.rules.state import SetState, Team, rules_of, start_set
from scheduler.timing import Pace, Servers, set_means

UNEQUAL = Servers((0.62, 0.55, 0.58, 0.66))


def folded(state: SetState) -> SetState:
    """Return an equivalent state nearer the start, so that endless sets have few states.

    Points each beyond a tie-break's goal, and games each beyond five all of an
    advantage set, can be taken off both teams: only the lead counts, and who
    serves is in the state's queue.
    """
    games, points = state.games, state.points
    goal = state.rules.tie_break_to
    if state.in_tie_break and min(points) >= goal:
        points = (points[0] - 1, points[1] - 1)
    if state.rules.tie_break_at is None and min(games) > 5:
        games = (games[0] - 1, games[1] - 1)
    # Ends do not matter to who wins a point.
    return replace(state, games=games, points=points, ends=("near", "far"))


def solved(
    set_format: SetFormat, game_format: GameFormat, servers: Servers
) -> tuple[float, float, float]:
    """Return chance, games and points by solving the chain the rules make (scipy)."""
    start = folded(start_set(rules_of(set_format, game_format), ("A1", "A2"), ("B1", "B2")))
    index, waiting = {start: 0}, [start]
    rows: list[tuple[int, int, float]] = []
    rewards: list[tuple[float, float, float]] = []
    while waiting:
        state = waiting.pop()
        turn = ORDER.index(server_of(state))
        chance = servers.chances[turn] if turn % 2 == 0 else 1 - servers.chances[turn]
        won = games = 0.0
        for team, share in ((Team.A, chance), (Team.B, 1 - chance)):
            after = play(state, team)
            games += share * (sum(after.games) - sum(state.games))
            if (winner := winner_of(after)) is not None:
                won += share * (winner is Team.A)
                continue
            after = folded(after)
            if after not in index:
                index[after] = len(index)
                waiting.append(after)
            rows.append((index[state], index[after], share))
        rewards.append((index[state], won, games))
    size = len(index)
    move = coo_array(
        ([r[2] for r in rows], ([r[0] for r in rows], [r[1] for r in rows])), shape=(size, size)
    )
    stay = (coo_array(np.eye(size)) - move).tocsc()
    gains = np.zeros((size, 3))
    for place, won, games in rewards:
        gains[int(place)] = (won, games, 1.0)
    chance_won, games_mean, points_mean = (spsolve(stay, gains[:, j])[0] for j in range(3))
    return float(chance_won), float(games_mean), float(points_mean)


@pytest.mark.parametrize(("set_format", "game_format"), FORMATS)
def test_chain_of_the_rules_has_the_same_means(
    set_format: SetFormat, game_format: GameFormat
) -> None:
    """Solving the rules' own Markov chain gives each format's chance, games and points."""
    means = set_means(UNEQUAL, set_format, game_format)
    expected = solved(set_format, game_format, UNEQUAL)
    assert (means.chance, means.games, means.points) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("set_format", "game_format"), FORMATS)
def test_simulated_sets_agree(set_format: SetFormat, game_format: GameFormat) -> None:
    """Sets played point by point through the rules are within four standard errors."""
    found = deviations(set_format, game_format, UNEQUAL, sets=2000, seed=8)
    assert max(abs(distance) for distance in found) < 4


def test_simulation_notices_a_wrong_chance() -> None:
    """The simulation is sharp enough to refuse chances that are off by three points in 100."""
    off = Servers((0.65, 0.55, 0.61, 0.66))
    simulator_agrees = deviations(SetFormat.TIE_BREAK, GameFormat.AD, UNEQUAL, 2000, seed=8)[0]
    wrong = set_means(off).chance - set_means(UNEQUAL).chance
    assert abs(simulator_agrees) < 4
    assert wrong / (0.25 / 2000) ** 0.5 > 4


@pytest.mark.parametrize("games", range(1, 20))
def test_rests_are_those_of_the_rules(games: int) -> None:
    """A rest comes at every change of ends but the first of a set (Rules 10 and 29)."""
    pace = Pace(rally=1, between_points=0, change_of_ends=100)
    changes = [number for number in range(1, games) if changes_after_game(number) and number > 1]
    assert pace.play_seconds(points=1, games=games) == 1 + 100 * len(changes)


def test_simulator_plays_by_the_rules() -> None:
    """A certain winner takes a set in 24 points and six games."""
    simulator = Simulator(SetFormat.TIE_BREAK, GameFormat.AD)
    assert simulator.play_set(Servers.of_teams(1, 0), random.Random(1)) == (True, 6, 24)
