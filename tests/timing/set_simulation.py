"""Sets played point by point through the rules, to hold the formulas against.

As a program it plays many sets of every format and prints how far the
formulas are from the sample means, in standard errors:

    python tests/timing/set_simulation.py 200000
"""

from __future__ import annotations

import math
import random
import sys
from dataclasses import dataclass, field
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.rules.play import play
from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import server_of
from scheduler.rules.state import SetState, Team, rules_of, start_set
from scheduler.timing import Servers, set_means

ORDER = ("A1", "B1", "A2", "B2")
FORMATS = [
    (kind, game)
    for kind in SetFormat
    if kind is not SetFormat.TIMED
    for game in GameFormat
    if kind.only_tie_break_to is None or game is GameFormat.AD
]


@dataclass
class Node:
    """A state of the set with the states after either team's point, filled in when needed."""

    state: SetState
    server: int
    over: bool
    after: list[Node | None] = field(default_factory=lambda: [None, None])


class Simulator:
    """Plays sets of one format; every step is one call of the rules, kept for the next set."""

    def __init__(self, set_format: SetFormat, game_format: GameFormat) -> None:
        self.nodes: dict[SetState, Node] = {}
        rules = rules_of(set_format, game_format)
        self.start = self._node(start_set(rules, ("A1", "A2"), ("B1", "B2")))

    def play_set(self, servers: Servers, dice: random.Random) -> tuple[bool, int, int]:
        """Return whether team A won, and the games and points played."""
        node, points = self.start, 0
        while not node.over:
            chance = servers.chances[node.server]
            first = dice.random() < (1 - chance if node.server % 2 else chance)
            winner = Team.A if first else Team.B
            following = node.after[winner]
            if following is None:
                following = self._node(play(node.state, winner))
                node.after[winner] = following
            node = following
            points += 1
        games = node.state.games
        return games[0] > games[1], sum(games), points

    def _node(self, state: SetState) -> Node:
        known = self.nodes.get(state)
        if known is None:
            server = ORDER.index(server_of(state))
            known = Node(state, server, winner_of(state) is not None)
            self.nodes[state] = known
        return known


def deviations(
    set_format: SetFormat, game_format: GameFormat, servers: Servers, sets: int, seed: int
) -> tuple[float, float, float]:
    """Return the distances of chance, games and points from the formulas, in standard errors."""
    dice, simulator = random.Random(seed), Simulator(set_format, game_format)
    sample = [simulator.play_set(servers, dice) for _ in range(sets)]
    means = set_means(servers, set_format, game_format)
    expected = (means.chance, means.games, means.points)
    first, second, third = (
        _distance([float(row[column]) for row in sample], expected[column]) for column in range(3)
    )
    return first, second, third


def _distance(values: list[float], expected: float) -> float:
    mean = sum(values) / len(values)
    variance = sum((value - mean) ** 2 for value in values) / (len(values) - 1)
    if variance == 0:
        return 0.0 if mean == expected else math.inf
    return (mean - expected) / math.sqrt(variance / len(values))


def main() -> None:
    """Play so many sets of every format and print the distances."""
    sets = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    servers = Servers((0.62, 0.55, 0.58, 0.66))
    for number, (set_format, game_format) in enumerate(FORMATS):
        found = deviations(set_format, game_format, servers, sets, seed=number)
        distances = "  ".join(f"{distance:+.2f}" for distance in found)
        sys.stdout.write(f"{set_format:20} {game_format:6} {sets} sets: {distances}\n")


if __name__ == "__main__":
    main()
