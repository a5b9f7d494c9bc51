"""What no schedule of labels can beat, by closed formulas.

The first three are the bounds of `scheduler.rotation.bounds` for the plain
case (everybody present, nothing wished, rests fair), quick enough to be asked for
every cell of the book. All rest on one fact: for whole counts k with a
given sum the sum of k(k-1)/2 is least when they differ by at most one.
"""

from __future__ import annotations

from scheduler.rotation.bounds import spread
from scheduler.rotation.settled_cases import FEWEST_OPPONENT_REPEATS, ON_ONE_COURT


def partner_limit(players: int, courts: int, rounds: int) -> int:
    """Return the least sum of P(P-1)/2: everybody on court has one partner."""
    return _within(players, 4 * courts * rounds, 1)


def opponent_limit(players: int, courts: int, rounds: int) -> int:
    """Return the least sum of O(O-1)/2: everybody on court has two opponents."""
    return _within(players, 4 * courts * rounds, 2)


def meeting_limit(players: int, courts: int, rounds: int) -> int:
    """Return the least sum of M(M-1)/2, M counting partners and opponents together.

    Beside the pigeonhole bounds: in two rounds at least x people play in
    both, and they fall into courts x courts cells (one for each match of the
    one and the other round); two people in a cell meet in both rounds.
    """
    in_both = max(0, players - 2 * (players - 4 * courts))
    pairs_of_rounds = rounds * (rounds - 1) // 2
    return max(
        _within(players, 4 * courts * rounds, 3),
        pairs_of_rounds * spread(in_both, courts * courts),
    )


def least_repeats(players: int, courts: int, rounds: int, aim: str) -> int:
    """Return the best lower bound on an aim's repeats, rests fair and partner repeats least.

    The pigeonhole bounds, and above them the small cases that were settled
    one by one, here or in `scheduler.rotation.settled_cases`.
    """
    if aim == "meetings":
        bound, settled = meeting_limit(players, courts, rounds), 0
    else:
        bound = opponent_limit(players, courts, rounds)
        whole = courts == players // 4
        settled = FEWEST_OPPONENT_REPEATS.get((players, rounds), 0) if whole else 0
    one_court = ON_ONE_COURT[aim].get((players, rounds), 0) if courts == 1 else 0
    return max(bound, settled, one_court)


def mixed_limits(size: int, courts: int, rounds: int, *, couples: bool) -> tuple[int, int]:
    """Return the least partner and opponent repeats of mixed doubles, `size` men and women.

    Everybody on court has one partner and one opponent of the other sex, and
    one opponent of their own. Couples never meet.
    """
    seats = 2 * courts * rounds
    across = _across(size, size - couples, seats, 1)
    return across, across + 2 * _within(size, seats, 1)


def group_limits(first: int, second: int, courts: int, rounds: int) -> tuple[int, int]:
    """Return the least partner and opponent repeats of one group against another.

    Everybody on court has a partner in their own group and two opponents in the other.
    """
    seats = 2 * courts * rounds
    partner = _within(first, seats, 1) + _within(second, seats, 1)
    return partner, max(_across(first, second, seats, 2), _across(second, first, seats, 2))


def _within(people: int, seats: int, each: int) -> int:
    """Bound repeats among people who can all meet: over all pairs, and person by person.

    There are `seats` turns to play, and each turn means `each` meetings. Every
    pair is seen from both its ends.
    """
    over_pairs = spread(each * seats // 2, people * (people - 1) // 2)
    return max(over_pairs, -(-_one_by_one(people, people - 1, seats, each) // 2))


def _across(people: int, open_to: int, seats: int, each: int) -> int:
    """Bound repeats between two groups, seen from the first: over all pairs, person by person."""
    return max(spread(each * seats, people * open_to), _one_by_one(people, open_to, seats, each))


def _one_by_one(people: int, others: int, seats: int, each: int) -> int:
    """Sum over people the least repeats with their `others`.

    How many turns each has is free; as the costs are convex, turns spread
    evenly cost least.
    """
    fewest, more = divmod(seats, people)
    return more * spread(each * (fewest + 1), others) + (people - more) * spread(
        each * fewest, others
    )
