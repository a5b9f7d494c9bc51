"""Sets of players that every round must split oddly and a mix of rounds does not."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Mapping

TRIES = 60
"""Orders of the foursomes tried."""


def odd_sets(everyone: int, share: Mapping[int, float]) -> Iterator[int]:
    """Yield sets of players, odd in number, that most of a mix of rounds meets evenly.

    First the foursomes with the largest shares are made to meet the set
    evenly; then others, drawn one after the other in proportion to their shares.

    Parameters
    ----------
    everyone
        Bit set of the players of a round in which everybody plays.
    share
        How much of each foursome, as a bit set, there is in a mix of rounds.
    """
    lots = random.Random(1)  # noqa: S311  repeatable
    for attempt in range(TRIES):
        # Who waits an exponential time of rate x comes first with chance x / sum of x.
        waits = {four: (lots.expovariate(1) if attempt else 1) / x for four, x in share.items()}
        yield odd_set(everyone, sorted(waits, key=lambda four: (waits[four], four)))


def odd_set(everyone: int, foursomes: Iterable[int]) -> int:
    """Return an odd set that meets the foursomes evenly, the first ones before the later.

    The sets that meet given foursomes evenly are an affine space over two
    elements: `found` plus any of `free`. Each foursome takes one dimension off it,
    unless it is even already or can no longer be made so.
    """
    found = everyone & -everyone
    others = everyone ^ found
    free = [found | 1 << i for i in range(others.bit_length()) if others >> i & 1]
    for four in foursomes:
        odd = [some for some in free if (some & four).bit_count() % 2]
        if odd:
            used = odd[0]
            free = [some ^ used if some in odd else some for some in free if some != used]
            found ^= used if (found & four).bit_count() % 2 else 0
    return found
