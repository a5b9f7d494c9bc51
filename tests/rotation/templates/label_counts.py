"""A recount of schedules of labels by arrays, sharing no code with the package."""

from __future__ import annotations

import numpy as np


def matrices(players, rounds):
    """Return how often each two labels were partners and opponents, and each one's matches."""
    partners = np.zeros((players, players), dtype=int)
    opponents = np.zeros((players, players), dtype=int)
    seats = np.array([match for played in rounds for match in played]).reshape(-1, 4)
    for grid, pairs in (
        (partners, [(0, 1), (2, 3)]),
        (opponents, [(0, 2), (0, 3), (1, 2), (1, 3)]),
    ):
        for one, other in pairs:
            np.add.at(grid, (seats[:, one], seats[:, other]), 1)
            np.add.at(grid, (seats[:, other], seats[:, one]), 1)
    return partners, opponents, np.bincount(seats.ravel(), minlength=players)


def repeats(grid):
    """Return the sum of k(k-1)/2 over unordered pairs."""
    return int((grid * (grid - 1) // 2).sum()) // 2


def assert_is_schedule(players, courts, rounds, wanted):
    """Everybody sits once at most in a round, all courts are in use, and the labels exist."""
    seats = np.array(rounds)
    assert seats.shape == (wanted, courts, 4)
    assert seats.min() >= 0
    assert seats.max() < players
    flat = np.sort(seats.reshape(wanted, 4 * courts), axis=1)
    assert (np.diff(flat, axis=1) > 0).all()


def spread_of(turns):
    """Return the most less the fewest turns."""
    return int(turns.max() - turns.min())


def least(total, cells):
    """Return the least sum of k(k-1)/2 over whole k with this sum, dealing them out one by one."""
    counts = [0] * cells
    for k in range(total):
        counts[k % cells] += 1
    return sum(k * (k - 1) // 2 for k in counts)
