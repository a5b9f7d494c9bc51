"""What each kind of wish means, and where a plan does not keep it.

A wish about rounds in which its people do not take part asks nothing, and one
that asks for "at least once" is not judged while a round is still to be seated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import groupby

from scheduler.checker.evening import Evening, RoundView
from scheduler.checker.words import listed, often, place
from scheduler.domain.event import Strength, Wish, WishKind

_Test = Callable[[RoundView, str, str], bool]


def check_musts(evening: Evening) -> Iterator[str]:
    """Yield a sentence for every place where a must-wish is broken."""
    for wish in evening.event.wishes:
        if wish.strength is Strength.MUST:
            yield from misses(evening, wish)


def misses(evening: Evening, wish: Wish) -> list[str]:
    """Return a sentence for every place where a wish, must or should, is not kept."""
    return [f"{what}, though {_asked(wish)}" for what in _JUDGES[wish.kind](evening, wish)]


def _asked(wish: Wish) -> str:
    words = replace(wish, where="").sentence
    return f"{words} ({wish.where})" if wish.where else words


def _in_rounds(evening: Evening, wish: Wish, *, drills: bool) -> list[RoundView]:
    """Return the drills or the other rounds in which both people of a wish take part."""
    people = (wish.player, wish.other)
    return [
        view
        for view in evening.in_scope(wish.round)
        if view.is_drill is drills and all(view.takes_part(name) for name in people)
    ]


def _partners(evening: Evening, wish: Wish) -> Iterator[str]:
    one, other = wish.player, wish.other
    for view in _in_rounds(evening, wish, drills=False):
        both_rest = one in view.resting and other in view.resting
        if not both_rest and not view.are_partners(one, other):
            yield _where_both(view, one, other)


def _partners_once(evening: Evening, wish: Wish) -> Iterator[str]:
    yield from _never(evening, wish, RoundView.are_partners, "are never partners")


def _against_once(evening: Evening, wish: Wish) -> Iterator[str]:
    yield from _never(evening, wish, RoundView.are_opponents, "never oppose")


def _never(evening: Evening, wish: Wish, happened: _Test, words: str) -> Iterator[str]:
    rounds = _in_rounds(evening, wish, drills=False)
    if evening.is_open(wish.round) or not rounds:
        return
    if not any(happened(view, wish.player, wish.other) for view in rounds):
        yield f"{listed((wish.player, wish.other))} {words}{_when(wish)}"


def _not_partners(evening: Evening, wish: Wish) -> Iterator[str]:
    one, other = wish.player, wish.other
    for view in evening.in_scope(wish.round):
        if view.are_partners(one, other):
            yield f"{_on_court(view, one)}: {listed((one, other))} are partners"


def _not_same_court(evening: Evening, wish: Wish) -> Iterator[str]:
    one, other = wish.player, wish.other
    for view in evening.in_scope(wish.round):
        if view.are_on_one_court(one, other):
            yield f"{_on_court(view, one)}: {listed((one, other))} share the court"


def _same_court(evening: Evening, wish: Wish) -> Iterator[str]:
    one, other = wish.player, wish.other
    for view in _in_rounds(evening, wish, drills=True):
        if not view.are_on_one_court(one, other):
            yield _where_both(view, one, other)


def _kept_to_court(evening: Evening, wish: Wish) -> Iterator[str]:
    for view in evening.in_scope(wish.round):
        entry = view.entry_of.get(wish.player)
        if entry is not None and entry.court != wish.other:
            yield f"{place(view.planned)}: {wish.player} is on {entry.court}"


def _rests(evening: Evening, wish: Wish) -> Iterator[str]:
    for view in evening.in_scope(wish.round):
        if wish.player in view.entry_of:
            yield f"{_on_court(view, wish.player)}: {wish.player} plays"


def _plays_at_most(evening: Evening, wish: Wish) -> Iterator[str]:
    played = sum(wish.player in view.entry_of for view in evening.in_scope(wish.round))
    if wish.number is not None and played > wish.number:
        yield f"{wish.player} is on a court {often(played)}{_when(wish)}"


def _rounds_running(evening: Evening, wish: Wish) -> Iterator[str]:
    playing = {
        view.planned.number for view in evening.in_scope(wish.round) if wish.player in view.entry_of
    }
    numbers = [planned.number for planned in evening.plan.rounds]
    for plays, run in groupby(numbers, key=playing.__contains__):
        rounds = list(run)
        if plays and wish.number is not None and len(rounds) > wish.number:
            yield (
                f"Rounds {rounds[0]} to {rounds[-1]}: {wish.player} is on a court "
                f"{len(rounds)} rounds running"
            )


def _on_court(view: RoundView, name: str) -> str:
    return place(view.planned, view.entry_of.get(name))


def _where_both(view: RoundView, one: str, other: str) -> str:
    if view.are_on_one_court(one, other):
        return f"{_on_court(view, one)}: {listed((one, other))} are not partners"
    places = f"{one} is {view.whereabouts(one)} and {other} is {view.whereabouts(other)}"
    return f"{place(view.planned)}: {places}"


def _when(wish: Wish) -> str:
    return f" in round {wish.round}" if wish.round is not None else ""


_JUDGES: dict[WishKind, Callable[[Evening, Wish], Iterator[str]]] = {
    WishKind.PARTNERS: _partners,
    WishKind.PARTNERS_ONCE: _partners_once,
    WishKind.NOT_PARTNERS: _not_partners,
    WishKind.AGAINST_ONCE: _against_once,
    WishKind.NOT_SAME_COURT: _not_same_court,
    WishKind.SAME_COURT: _same_court,
    WishKind.ON_COURT: _kept_to_court,
    WishKind.RESTS: _rests,
    WishKind.PLAYS_AT_MOST: _plays_at_most,
    WishKind.ROUNDS_RUNNING_AT_MOST: _rounds_running,
}
