"""What a schedule of labels amounts to, counted pair by pair."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

Match = tuple[int, int, int, int]
Rounds = tuple[tuple[Match, ...], ...]


@dataclass(frozen=True, slots=True)
class Score:
    """Repeats of a schedule (k(k-1)/2 of each pair's times k), and how far rests are from fair.

    `unfair` is the number of rests by which people lie outside the whole
    numbers beside the even share.
    """

    unfair: int
    partner: int
    opponent: int
    meeting: int


def score(players: int, rounds: Sequence[Sequence[Match]], kinds: Sequence[int] = ()) -> Score:
    """Count a schedule of labels 0 to players - 1.

    `kinds` gives the kind of each label where rests are shared within kinds.
    """
    partners: Counter[tuple[int, int]] = Counter()
    meetings: Counter[tuple[int, int]] = Counter()
    matches = [0] * players
    for played in rounds:
        for a1, a2, b1, b2 in played:
            partners.update([_pair(a1, a2), _pair(b1, b2)])
            meetings.update(combinations(sorted((a1, a2, b1, b2)), 2))
            for label in (a1, a2, b1, b2):
                matches[label] += 1
    opponents = meetings - partners
    return Score(
        sum(_unfair(group) for group in _by_kind(matches, kinds)),
        _repeats(partners),
        _repeats(opponents),
        _repeats(meetings),
    )


def _by_kind(matches: list[int], kinds: Sequence[int]) -> list[list[int]]:
    if not kinds:
        return [matches]
    return [
        [k for k, its in zip(matches, kinds, strict=True) if its == kind]
        for kind in sorted(set(kinds))
    ]


def _unfair(matches: list[int]) -> int:
    low, more = divmod(sum(matches), len(matches))
    high = low + bool(more)
    return sum(max(low - k, k - high, 0) for k in matches)


def _pair(one: int, other: int) -> tuple[int, int]:
    return (one, other) if one < other else (other, one)


def _repeats(counter: Counter[tuple[int, int]]) -> int:
    return sum(k * (k - 1) // 2 for k in counter.values())
