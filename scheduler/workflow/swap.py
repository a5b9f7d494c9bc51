"""Two people exchange seats in a round, if nothing that must be kept stands against it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from scheduler.checker.demands import demand
from scheduler.checker.evening import Evening, RoundView
from scheduler.checker.matches import check_matches
from scheduler.checker.wishes import misses
from scheduler.domain.event import Event, Kind, Strength, Wish, WishKind
from scheduler.domain.plan import CourtEntry, Group, Match, Plan, PlannedRound, TwoAgainstOne

_ONCE = frozenset({WishKind.PARTNERS_ONCE, WishKind.AGAINST_ONCE})


def swapped(planned: PlannedRound, one: str, other: str) -> PlannedRound:
    """Return a round in which two people have exchanged seats, serving turns included.

    Raises
    ------
    ValueError
        If one of them is not there, or the exchange would change nothing.
    """
    view = RoundView(planned)
    if planned.open:
        raise ValueError(f"round {planned.number} is not seated yet")
    for name in (one, other):
        if not view.takes_part(name):
            raise ValueError(f"{name} is not there in round {planned.number}")
    both_rest = {one, other} <= view.resting
    is_drill = planned.kind is Kind.DRILL and view.are_on_one_court(one, other)
    if both_rest or is_drill or view.are_partners(one, other):
        what = "are both resting" if both_rest else f"are together {view.whereabouts(one)}"
        raise ValueError(f"{one} and {other} {what} in round {planned.number}: nothing to exchange")
    instead = {one: other, other: one}
    return replace(
        planned,
        courts=tuple(_renamed(entry, instead) for entry in planned.courts),
        resting=_named(planned.resting, instead),
    )


def _renamed(entry: CourtEntry, instead: dict[str, str]) -> CourtEntry:
    match entry:
        case Match():
            one, two = _named(entry.team_a, instead)
            three, four = _named(entry.team_b, instead)
            return replace(
                entry,
                team_a=(one, two),
                team_b=(three, four),
                serving_order=_named(entry.serving_order, instead),
                deuce_receivers=_named(entry.deuce_receivers, instead),
            )
        case TwoAgainstOne():
            return replace(entry, two=_named(entry.two, instead), one=_named(entry.one, instead))
        case Group():
            return replace(entry, players=_named(entry.players, instead))
        case _:
            return replace(entry, players=_named(entry.players, instead))


def _named(names: tuple[str, ...], instead: dict[str, str]) -> tuple[str, ...]:
    return tuple(instead.get(name, name) for name in names)


def why_not(event: Event, rounds: tuple[PlannedRound, ...]) -> list[str]:
    """Return what stands against the last of some rounds: musts and rules of its kind it breaks.

    Parameters
    ----------
    event
        The event.
    rounds
        The rounds played, and the one with exchanged seats.
    """
    planned = rounds[-1]
    short = replace(event, rounds=event.rounds[: len(rounds)])
    evening = Evening(Plan(short, rounds), short)
    return list(dict.fromkeys([*_rules(evening, planned), *_musts(evening, event, len(rounds))]))


def _rules(evening: Evening, planned: PlannedRound) -> Iterator[str]:
    asked = evening.event.rounds[planned.number - 1]
    if planned.kind is not Kind.DRILL:
        view = RoundView(planned)
        yield from check_matches(evening, view, asked, demand(evening.event, asked))


def _musts(evening: Evening, event: Event, number: int) -> Iterator[str]:
    for wish in event.wishes:
        if wish.strength is Strength.MUST and _can_be_judged(wish, event, number):
            yield from misses(evening, wish)


def _can_be_judged(wish: Wish, event: Event, number: int) -> bool:
    """Return whether a wish is settled by now: to meet once may wait for a later round."""
    if wish.round is not None:
        return wish.round == number
    return wish.kind not in _ONCE or not _meet_later(wish, event, number)


def _meet_later(wish: Wish, event: Event, number: int) -> bool:
    both = [event.player_by_name[name] for name in (wish.player, wish.other)]
    return any(
        asked.kind is not Kind.DRILL
        and all(player.is_present(asked.start, asked.end) for player in both)
        for asked in event.rounds[number:]
    )
