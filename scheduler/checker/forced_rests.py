"""Whether unfair rests are the plan's fault, or left over from rounds that are settled.

When somebody goes home, a court is lost or two people exchange seats, rests
already given may be further from the new fair shares than the rounds ahead
can mend. A plan is then as fair as can be when no chain of exchanges in the
rounds ahead brings it nearer: rests are a flow of whole units from rounds to
people, with a convex price on each person's total, and such a flow is the
cheapest exactly when no path in its residual network makes it cheaper
(Ahuja, Magnanti and Orlin, Network Flows, 1993, sections 9.3 and 14.3).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import ceil, floor

from scheduler.checker.demands import TWO_GROUPS
from scheduler.checker.evening import Evening, RoundView
from scheduler.domain.event import Kind

Balance = Mapping[str, tuple[int, Fraction]]


def could_be_fairer(evening: Evening, balance: Balance, name: str) -> bool:
    """Return whether the rounds ahead could bring a person nearer their fair share of rests.

    A plan without settled rounds can always do so. Rounds of fixed pairs are
    left as they are: there whole pairs rest, whom this does not follow.

    Parameters
    ----------
    evening
        The plan, its number of settled rounds and its event.
    balance
        Everybody's rests and fair share.
    name
        Somebody whose rests are one or more away from the share.
    """
    if not evening.plan.settled:
        return True
    rests, share = balance[name]
    step = -1 if rests > share else 1
    saved = _excess(rests, share) - _excess(rests + step, share)
    return any(
        saved > _excess(balance[other][0] - step, balance[other][1]) - _excess(*balance[other])
        for other in _reached(_exchanges(evening, gives=step < 0), name)
    )


def _excess(rests: int, share: Fraction) -> int:
    """Return how far rests are from the whole numbers beside a share, squared."""
    return max(0, floor(share) - rests, rests - ceil(share)) ** 2


def _exchanges(evening: Evening, *, gives: bool) -> dict[str, dict[str, None]]:
    """Return who can give a rest to whom (or take one from whom) in a round ahead."""
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for view in evening.rounds:
        if view.planned.number <= evening.plan.settled or view.planned.kind is Kind.PAIRS:
            continue
        for resting, playing in _pairs(evening, view):
            one, other = (resting, playing) if gives else (playing, resting)
            found[one][other] = None
    return found


def _pairs(evening: Evening, view: RoundView) -> Iterator[tuple[str, str]]:
    group_of = evening.group_of if view.planned.kind in TWO_GROUPS else {}
    for resting in view.planned.resting:
        for playing in view.entry_of:
            if group_of.get(resting) == group_of.get(playing):
                yield resting, playing


def _reached(exchanges: Mapping[str, Mapping[str, None]], name: str) -> list[str]:
    """Return everybody whom a chain of exchanges from one person leads to."""
    seen = {name: None}
    waiting = [name]
    while waiting:
        for other in exchanges.get(waiting.pop(), {}):
            if other not in seen:
                seen[other] = None
                waiting.append(other)
    return [other for other in seen if other != name]
