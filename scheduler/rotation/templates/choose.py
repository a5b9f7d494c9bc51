"""The best template there is for a size."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.rotation.templates import book
from scheduler.rotation.templates.couples import couples_rounds
from scheduler.rotation.templates.limits import group_limits, mixed_limits
from scheduler.rotation.templates.meet_once import (
    meet_once_rounds,
    sloped_rounds,
    with_extra_players,
)
from scheduler.rotation.templates.recount import Rounds, score
from scheduler.rotation.templates.template import (
    BEST_KNOWN,
    MEETINGS,
    OPPONENTS,
    PROVEN,
    Template,
    is_at_limits,
    judged,
)
from scheduler.rotation.templates.whist import fewest_repeats, whist_rounds


def find(players: int, courts: int, rounds: int, aim: str) -> Template | None:
    """Return the best template we have for free pairing, or None where we have none.

    Partners repeat as little as can be; then ``opponents`` wants the least sum
    of O(O-1)/2 over pairs opposing O times, ``meetings`` the least sum of
    M(M-1)/2 over pairs on one court M times. Rests are fair: everybody rests
    the whole number of rounds below or above the even share.

    Parameters
    ----------
    players, courts, rounds
        The size; every court is in use in every round.
    aim
        ``opponents`` or ``meetings``.
    """
    if courts < 1 or rounds < 1 or 4 * courts > players:
        return None
    stored = _from_the_book(players, courts, rounds, aim)
    if stored is not None:
        return stored
    candidates = [
        judged(schedule, players, aim, source)
        for source, schedule in _from_designs(players, courts, rounds, aim)
    ]
    if candidates:
        return min(candidates, key=lambda template: _rank(template, aim))
    return _again_and_again(players, courts, rounds, aim)


def mixed(couples: int, rounds: int, courts: int) -> Template | None:
    """Return mixed doubles in which couples never share a court.

    Couple i is man i and woman ``couples + i``; a match lists man, woman, man, woman.
    """
    squares = couples_rounds(couples)
    return _mixed(book.COUPLES, couples, rounds, courts, squares)


def mixed_strangers(men: int, rounds: int, courts: int) -> Template | None:
    """Return mixed doubles of so many men (first labels) and as many women, without couples."""
    return _mixed(book.STRANGERS, men, rounds, courts, None) or mixed(men, rounds, courts)


def group_against_group(size_a: int, size_b: int, courts: int, rounds: int) -> Template | None:
    """Return matches of two of the first `size_a` labels against two of the others."""
    small, large = sorted((size_a, size_b))
    found = book.entry(book.AGAINST, f"{small}-{large}", courts, rounds)
    if found is None:
        return None
    schedule = found.schedule()
    if size_a > size_b:
        schedule = tuple(
            tuple((c - small, d - small, a + large, b + large) for a, b, c, d in played)
            for played in schedule
        )
    limits = group_limits(small, large, courts, rounds)
    status = PROVEN if (found.partner, found.second) == limits else BEST_KNOWN
    return Template(schedule, size_a + size_b, status, f"book: {found.source}")


def _from_the_book(players: int, courts: int, rounds: int, aim: str) -> Template | None:
    found = book.entry(aim, str(players), courts, rounds)
    if found is None:
        return None
    at_limits = is_at_limits((players, courts, rounds), aim, found.partner, found.second)
    status = PROVEN if at_limits else BEST_KNOWN
    return Template(found.schedule(), players, status, f"book: {found.source}")


def _from_designs(players: int, courts: int, rounds: int, aim: str) -> Iterator[tuple[str, Rounds]]:
    """Yield one round, and what the known designs give where all courts that can be are in use."""
    if rounds == 1:
        yield "one round", (tuple((k, k + 1, k + 2, k + 3) for k in range(0, 4 * courts, 4)),)
        return
    if courts != players // 4:
        return
    once = _meet_once(players, courts, rounds)
    if once is not None:
        yield "meet-once rounds", once
        return
    squares = couples_rounds(players // 2) if players % 2 == 0 and aim == OPPONENTS else None
    if squares is not None and rounds <= len(squares):
        yield "self-orthogonal square", squares[:rounds]
    whole = whist_rounds(players)
    if whole is not None and rounds <= len(whole):
        yield "whist rounds", fewest_repeats(whole, rounds)


def _meet_once(players: int, courts: int, rounds: int) -> Rounds | None:
    designs = [meet_once_rounds(4 * courts), sloped_rounds(courts)]
    for once in designs:
        if once is not None and rounds <= len(once):
            found = with_extra_players(once, 4 * courts, players - 4 * courts, rounds)
            if found is not None:
                return found
    return None


def _again_and_again(players: int, courts: int, rounds: int, aim: str) -> Template | None:
    """Play the longest template there is and then another one of what remains."""
    longest = players - 1 if players % 4 == 0 else players
    for first in (longest, players - 1, 16):
        if first < rounds and courts == players // 4:
            one = find(players, courts, first, aim)
            other = find(players, courts, rounds - first, aim)
            if one is not None and other is not None:
                schedule = one.rounds + _rested_first(one, other)
                return judged(schedule, players, aim, f"{one.source}, then {other.source}")
    return None


def _rested_first(one: Template, other: Template) -> Rounds:
    """Rename the second template's labels so that who rested more before rests less now."""
    before, after = _turns(one), _turns(other)
    labels = range(one.players)
    played_least = sorted(labels, key=lambda x: before[x])
    plays_most = sorted(labels, key=lambda x: -after[x])
    name = dict(zip(plays_most, played_least, strict=True))
    return tuple(
        tuple((name[a], name[b], name[c], name[d]) for a, b, c, d in played)
        for played in other.rounds
    )


def _turns(template: Template) -> list[int]:
    turns = [0] * template.players
    for played in template.rounds:
        for match in played:
            for label in match:
                turns[label] += 1
    return turns


def _rank(template: Template, aim: str) -> tuple[int, ...]:
    found = score(template.players, template.rounds)
    second = found.meeting if aim == MEETINGS else found.opponent
    return found.unfair, found.partner, second, found.opponent + found.meeting


def _mixed(
    chapter: str, size: int, rounds: int, courts: int, squares: Rounds | None
) -> Template | None:
    limits = mixed_limits(size, courts, rounds, couples=chapter == book.COUPLES)
    found = book.entry(chapter, str(size), courts, rounds)
    if found is not None:
        status = PROVEN if (found.partner, found.second) == limits else BEST_KNOWN
        return Template(found.schedule(), 2 * size, status, f"book: {found.source}")
    if squares is None or courts != size // 2 or rounds > len(squares):
        return None
    return Template(squares[:rounds], 2 * size, PROVEN, "self-orthogonal square")
