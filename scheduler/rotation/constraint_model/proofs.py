"""Least opponent repeats of small plain evenings, worked out with proof.

Run ``python -m scheduler.rotation.constraint_model.proofs`` for the sizes at
which no schedule meets the counting bound and which take seconds, or name
sizes as PLAYERSxROUNDS; 11x7 takes about half an hour of one core.

For each size the counting bound is raised until an evening is found: nobody
partners twice, rests differ by one at most, and all courts that the players
fill are used. Every evening found is counted again from its seats.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from scheduler.rotation.bounds import spread
from scheduler.rotation.constraint_model.exhaust import Round, Rounds, Search
from scheduler.rotation.counts import repeats

SIZES = ("5x2", "5x3", "6x3", "7x5", "8x4", "8x5", "9x4", "9x5", "12x5")


@dataclass(frozen=True, slots=True)
class Least:
    """The least opponent repeats of a size.

    Parameters
    ----------
    people, courts, length
        The size; `length` is the number of rounds.
    bound
        The counting bound.
    value
        The least value, for which `evening` is an example; all smaller ones
        were searched through without finding any.
    evening
        Its rounds.
    """

    people: int
    courts: int
    length: int
    bound: int
    value: int
    evening: tuple[Round, ...]

    @property
    def squares(self) -> int:
        """The sum of squared opponent counts: opponents and twice the repeats."""
        return 4 * self.courts * self.length + 2 * self.value


def least(people: int, length: int) -> Least:
    """Return the least opponent repeats of a plain evening on all courts the players fill.

    Raises
    ------
    ArithmeticError
        If an evening found is not what was asked, which is a fault of ours.
    """
    courts = people // 4
    bound = counting_bound(people, courts, length)
    rounds = Rounds(people, courts)
    value = bound
    while True:
        evening = Search(rounds, length, value).run()
        if evening is not None:
            if repeats_of(evening) > value:
                raise ArithmeticError(f"the evening found has more repeats than {value}")
            return Least(people, courts, length, bound, value, evening)
        value += 1


def counting_bound(people: int, courts: int, length: int) -> int:
    """Return the fewest opponent repeats by counting, in all and player by player.

    A player of k matches has 2k opponents among n-1 people, and the sum of
    C(O, 2) over these is least when the counts differ by one at most.
    """
    in_all = spread(4 * courts * length, people * (people - 1) // 2)
    matches, more = divmod(4 * courts * length, people)
    by_player = more * spread(2 * matches + 2, people - 1)
    by_player += (people - more) * spread(2 * matches, people - 1)
    return max(in_all, -(-by_player // 2))


def repeats_of(evening: Sequence[Round]) -> int:
    """Count the opponent repeats of an evening from its seats.

    Raises
    ------
    ArithmeticError
        If somebody partners twice.
    """
    matches = [match for found in evening for match in found]
    partners = Counter(frozenset(team) for a, b, c, d in matches for team in ((a, b), (c, d)))
    if max(partners.values()) > 1:
        raise ArithmeticError("somebody partners twice")
    opponents = Counter(
        frozenset((one, other)) for a, b, c, d in matches for one in (a, b) for other in (c, d)
    )
    return repeats(opponents.values())


def table(sizes: Sequence[str]) -> Iterator[str]:
    """Yield a line for each size, as soon as it is settled."""
    yield f"{'size':>6} {'bound':>6} {'least':>6} {'squares':>8} {'seconds':>8}"
    for size in sizes:
        people, length = (int(part) for part in size.split("x"))
        start = time.perf_counter()
        found = least(people, length)
        taken = time.perf_counter() - start
        yield f"{size:>6} {found.bound:>6} {found.value:>6} {found.squares:>8} {taken:>8.1f}"


if __name__ == "__main__":
    for line in table(sys.argv[1:] or SIZES):
        sys.stdout.write(line + "\n")
        sys.stdout.flush()
