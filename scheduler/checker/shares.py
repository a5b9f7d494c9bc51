"""How often everybody rests, beside the fair share of the rounds they were there for."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction

from scheduler.checker.demands import TWO_GROUPS
from scheduler.checker.evening import Evening, RoundView, pair
from scheduler.domain.event import Kind

_ALWAYS_RESTS = Fraction(1)


def rest_balance(evening: Evening) -> dict[str, tuple[int, Fraction]]:
    """Return each player's rests and fair share of rests.

    The share adds up, over the rounds a player takes part in, the part of the
    people there who rest. In ``mixed`` and ``group against group`` these are
    the people of the player's group, in ``pairs`` the pairs; somebody there
    without a partner in a ``pairs`` round can only rest, so that counts whole.
    """
    rests: dict[str, int] = defaultdict(int)
    shares: dict[str, Fraction] = defaultdict(Fraction)
    for view in evening.rounds:
        for name, share in _round_shares(evening, view).items():
            shares[name] += share
            rests[name] += name in view.resting
    return {name: (rests[name], shares[name]) for name in shares}


def unfairness(balance: tuple[int, Fraction]) -> Fraction:
    """Return how far a player's rests are from the fair share."""
    rests, share = balance
    return abs(rests - share)


def pairs_there(evening: Evening, view: RoundView) -> int:
    """Return how many pairs could be told to play in a ``pairs`` round.

    These are the pairs the plan shows whose two people both take part, and as
    many pairs as those who never play a ``pairs`` round could make.
    """
    return len(_known_pairs(evening, view)) + len(_never_seated(evening, view)) // 2


def _round_shares(evening: Evening, view: RoundView) -> dict[str, Fraction]:
    names = [*view.entry_of, *(name for name in view.planned.resting if name not in view.entry_of)]
    if view.planned.kind is Kind.PAIRS:
        return _pair_shares(evening, view, names)
    if view.planned.kind in TWO_GROUPS:
        return _shares_within(names, view, evening.group_of)
    return _shares_within(names, view, {})


def _shares_within(
    names: list[str], view: RoundView, group_of: dict[str, str]
) -> dict[str, Fraction]:
    there: dict[str, int] = defaultdict(int)
    resting: dict[str, int] = defaultdict(int)
    for name in names:
        there[group_of.get(name, "")] += 1
        resting[group_of.get(name, "")] += name in view.resting
    share = {group: Fraction(resting[group], there[group]) for group in there}
    return {name: share[group_of.get(name, "")] for name in names}


def _pair_shares(evening: Evening, view: RoundView, names: list[str]) -> dict[str, Fraction]:
    known = _known_pairs(evening, view)
    unseated = _never_seated(evening, view)
    total = len(known) + len(unseated) // 2
    resting = sum(one in view.resting and other in view.resting for one, other in known)
    share = Fraction(resting + len(unseated) // 2, total) if total else _ALWAYS_RESTS
    in_a_pair = {name for both in known for name in both}
    if len(unseated) > 1:
        in_a_pair.update(unseated)
    return {name: share if name in in_a_pair else _ALWAYS_RESTS for name in names}


def _known_pairs(evening: Evening, view: RoundView) -> list[tuple[str, str]]:
    found = {
        pair(one, other): None
        for one, other in evening.fixed_partner.items()
        if view.takes_part(one) and view.takes_part(other)
    }
    return list(found)


def _never_seated(evening: Evening, view: RoundView) -> list[str]:
    """Return who rests here, never plays a pairs round, and is there for all of them."""
    rounds = [other for other in evening.rounds if other.planned.kind is Kind.PAIRS]
    return [
        name
        for name in view.planned.resting
        if name not in evening.fixed_partner and all(other.takes_part(name) for other in rounds)
    ]
