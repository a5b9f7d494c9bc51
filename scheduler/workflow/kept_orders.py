"""Serving orders that people have on paper stay theirs when the plan changes around them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from scheduler.domain.plan import CourtEntry, Match, PlannedRound
from scheduler.rules.order import serving_order

Pair = tuple[str, str]


def kept_orders(
    rounds: tuple[PlannedRound, ...], printed: Mapping[int, PlannedRound]
) -> tuple[PlannedRound, ...]:
    """Return the rounds with the serving orders that the printed ones had.

    A match of the same two teams keeps its order, wherever it is played now.
    Where people were replaced but those who stay face each other as before,
    the new ones take the turns and receiving sides of those they replace. A
    match of other teams is left without an order.
    """
    return tuple(
        _as_printed(planned, printed[at]) if at in printed else planned
        for at, planned in enumerate(rounds)
    )


def _as_printed(planned: PlannedRound, known: PlannedRound) -> PlannedRound:
    known_matches = known.matches
    courts = tuple(
        _with_order(entry, known_matches) if isinstance(entry, Match) else entry
        for entry in planned.courts
    )
    resting = planned.resting
    if set(resting) == set(known.resting):
        resting = known.resting
    return replace(planned, courts=courts, resting=resting)


def _with_order(match: Match, known: tuple[Match, ...]) -> CourtEntry:
    for old in known:
        if _teams(old) == _teams(match):
            return replace(old, court=match.court)
    for old in known:
        if old.court == match.court and old.serving_order:
            return _filled_in(match, old) or match
    return match


def _teams(match: Match) -> frozenset[frozenset[str]]:
    return frozenset({frozenset(match.team_a), frozenset(match.team_b)})


def _filled_in(match: Match, old: Match) -> Match | None:
    """Return the match with new people in the places of those they replace, if that is clear."""
    for new_a, new_b in ((match.team_a, match.team_b), (match.team_b, match.team_a)):
        one, other = _same_places(new_a, old.team_a), _same_places(new_b, old.team_b)
        if one is not None and other is not None:
            instead = dict(zip((*old.team_a, *old.team_b), (*one, *other), strict=True))
            return replace(
                old,
                team_a=one,
                team_b=other,
                serving_order=serving_order(one, other),
                deuce_receivers=tuple(instead[name] for name in old.deuce_receivers),
            )
    return None


def _same_places(new: Pair, old: Pair) -> Pair | None:
    """Return a team with each one who stays in the old place; None where nobody stays."""
    stays = set(new) & set(old)
    if not stays:
        return None
    if new[0] == old[1] or new[1] == old[0]:
        return (new[1], new[0])
    return new
