"""Whether serving orders and receiving sides are lawful (ITF Rules of Tennis, Rules 14 and 15)."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.checker.evening import RoundView
from scheduler.checker.words import listed, place
from scheduler.domain.plan import Match


def check_serving(view: RoundView) -> Iterator[str]:
    """Yield a sentence for every match whose serving order or receivers break a rule.

    The serving order is the four players once each, teams alternating, the
    first team to serve being ``team_a`` (Rule 14); the receivers on the deuce
    side are one of each team (Rule 15).
    """
    for match in view.planned.matches:
        here = place(view.planned, match)
        if not _alternates(match):
            order = ", ".join(match.serving_order) or "missing"
            yield (
                f"{here}: the serving order is {order}, but {listed(match.team_a)} "
                f"serve games 1 and 3, {listed(match.team_b)} games 2 and 4"
            )
        if not _one_of_each(match):
            receivers = ", ".join(match.deuce_receivers) or "missing"
            yield (
                f"{here}: the receivers on the deuce side are {receivers}, but must be "
                f"one of {listed(match.team_a)} and one of {listed(match.team_b)}"
            )


def _alternates(match: Match) -> bool:
    order = match.serving_order
    return sorted(order[::2]) == sorted(match.team_a) and sorted(order[1::2]) == sorted(
        match.team_b
    )


def _one_of_each(match: Match) -> bool:
    receivers = match.deuce_receivers
    return len(receivers) == 2 and all(
        sum(name in team for name in receivers) == 1 for team in (match.team_a, match.team_b)
    )
