"""Wishes that can mean nothing any more, because somebody left or a court is lost."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.event import Event, Kind, Wish, WishKind
from scheduler.domain.plan import Plan, PlannedRound

_ONCE = frozenset({WishKind.PARTNERS_ONCE, WishKind.AGAINST_ONCE})


def without_void_wishes(
    plan: Plan, event: Event, played: tuple[PlannedRound, ...]
) -> tuple[Event, list[str]]:
    """Return the event without wishes that became void, and a sentence for each of these.

    Void is a wish to meet at least once of two who have not met and share no
    round to come, and a wish for a court that will not be open again. Wishes
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
    void = [wish for wish in event.wishes if _is_void(wish, plan, event, played)]
    kept = tuple(wish for wish in event.wishes if wish not in void)
    said = [f"void is the wish that {replace(wish, where='').sentence}" for wish in void]
    return replace(event, wishes=kept), said


def _is_void(wish: Wish, plan: Plan, event: Event, played: tuple[PlannedRound, ...]) -> bool:
    after = len(played)
    if wish.round is not None and wish.round <= after:
        return False
    if wish.kind is WishKind.ON_COURT:
        before, now = (_court_rounds(wish, asked, after) for asked in (plan.event, event))
        return bool(before) and not now
    if wish.kind not in _ONCE:
        return False
    before, now = (_shared_rounds(wish, asked, after) for asked in (plan.event, event))
    return bool(before) and not now and not any(_met(wish, r) for r in played)


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
    for match in planned.as_it_was.matches:
        if both <= set(match.players):
            are_partners = both in (set(match.team_a), set(match.team_b))
            if are_partners is (wish.kind is WishKind.PARTNERS_ONCE):
                return True
    return False
