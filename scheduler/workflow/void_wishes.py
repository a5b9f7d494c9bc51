"""Wishes that can mean nothing any more: somebody left or never came, or a court is lost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from scheduler.domain.event import Event, Kind, Strength, Wish, WishKind
from scheduler.domain.plan import Match, Plan, PlannedRound

_ONCE = frozenset({WishKind.PARTNERS_ONCE, WishKind.AGAINST_ONCE})


def without_void_wishes(
    plan: Plan, event: Event, played: tuple[PlannedRound, ...]
) -> tuple[Event, list[str]]:
    """Return the event without wishes that became void, and a sentence for each of these.

    Void is a wish to meet at least once of two who have not met and share no
    round to come, and a wish for a court that will not be open again. A must
    to be partners is void in a round played in which the two were partners of
    a match somebody never came to, and stays for the other rounds. Wishes
    about people who are not there ask for nothing anyway and stay.

    Parameters
    ----------
    plan
        The plan before the changes.
    event
        The event after them.
    played
        The rounds played.
    """
    kept: list[Wish] = []
    void: list[Wish] = []
    for wish in event.wishes:
        broken = [planned.number for planned in played if _is_broken_up(wish, planned)]
        if broken:
            void.extend(replace(wish, round=number) for number in broken)
            kept.extend(_in_other_rounds(wish, event, broken))
        elif _is_void(wish, plan, event, played):
            void.append(wish)
        else:
            kept.append(wish)
    said = [f"void is the wish that {replace(wish, where='').sentence}" for wish in void]
    return replace(event, wishes=tuple(kept)), said


def _is_broken_up(wish: Wish, planned: PlannedRound) -> bool:
    """Return whether two who must be partners were, but for somebody who never came."""
    if wish.kind is not WishKind.PARTNERS or wish.strength is not Strength.MUST:
        return False
    both = {wish.player, wish.other}
    matches = {match.court for match in planned.matches}
    return wish.round in (None, planned.number) and any(
        entry.court in matches and not isinstance(entry, Match) and both <= set(entry.players)
        for entry in planned.as_it_was.courts
    )


def _in_other_rounds(wish: Wish, event: Event, broken: list[int]) -> Iterator[Wish]:
    """Yield a wish for all rounds of matches but some, one for each."""
    for number, asked in enumerate(event.rounds, 1):
        is_asked = wish.round in (None, number) and asked.kind is not Kind.DRILL
        if is_asked and number not in broken:
            yield replace(wish, round=number)


def _is_void(wish: Wish, plan: Plan, event: Event, played: tuple[PlannedRound, ...]) -> bool:
    after = len(played)
    if wish.kind is WishKind.ON_COURT and wish.round is not None and wish.round <= after:
        return False
    if wish.kind is WishKind.ON_COURT:
        before, now = (_court_rounds(wish, asked, after) for asked in (plan.event, event))
        return bool(before) and not now
    if wish.kind not in _ONCE:
        return False
    before, now = (_shared_rounds(wish, asked, after) for asked in (plan.event, event))
    in_print = any(_met(wish, planned) for planned in played)
    as_it_was = any(_met(wish, planned.as_it_was) for planned in played)
    return not now and not as_it_was and (in_print or bool(before))


def _court_rounds(wish: Wish, event: Event, after: int) -> list[int]:
    court = next(court for court in event.courts if court.name == wish.other)
    return [
        number
        for number, asked in enumerate(event.rounds[after:], after + 1)
        if wish.round in (None, number) and court.is_open(asked.start, asked.end)
    ]


def _shared_rounds(wish: Wish, event: Event, after: int) -> list[int]:
    both = [event.player_by_name[name] for name in (wish.player, wish.other)]
    return [
        number
        for number, asked in enumerate(event.rounds[after:], after + 1)
        if wish.round in (None, number)
        and asked.kind is not Kind.DRILL
        and all(player.is_present(asked.start, asked.end) for player in both)
    ]


def _met(wish: Wish, planned: PlannedRound) -> bool:
    both = {wish.player, wish.other}
    for match in planned.matches if wish.round in (None, planned.number) else ():
        if both <= set(match.players):
            are_partners = both in (set(match.team_a), set(match.team_b))
            if are_partners is (wish.kind is WishKind.PARTNERS_ONCE):
                return True
    return False
