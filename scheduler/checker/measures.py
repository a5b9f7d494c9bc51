"""Every measure of a plan, counted again from who stands where."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from itertools import chain, combinations

from scheduler.checker.evening import Evening, Pair, RoundView, pair
from scheduler.checker.shares import rest_balance, unfairness
from scheduler.checker.wishes import misses
from scheduler.domain.event import Event, Kind, Strength, WishKind
from scheduler.domain.plan import Match, Plan

_DIGITS = 9
"""Levels are decimals: sums are rounded so that equal sums of tenths are equal."""


def recount(plan: Plan, event: Event) -> dict[str, float]:
    """Return all measures of a plan, and ``blend_price``.

    Parameters
    ----------
    plan
        The plan, seated rounds only being counted.
    event
        The event it is judged by: levels, groups, stations and wishes are
        taken from here, and the exchange rate from the plan's own event,
        since a run may override the sheet's.

    Returns
    -------
    dict
        Counts are whole numbers of pairs, visits or wishes; rests and first
        serves are numbers of times; gaps are in levels.
    """
    evening = Evening(plan, event)
    gaps = level_gaps(evening)
    partners, opponents = partner_counts(evening), opponent_counts(evening)
    measures: dict[str, float] = {
        "partner_repeats": repeats(partners),
        "opponent_repeats": repeats(opponents),
        "meeting_repeats": repeats(partners + opponents),
        "drill_repeats": repeats(_drill_counts(evening)),
        "rest_unfairness": float(max(map(unfairness, rest_balance(evening).values()), default=0)),
        "back_to_back_rests": _back_to_back_rests(evening),
        "level_gap_mean": sum(gaps) / len(gaps) if gaps else 0.0,
        "level_gap_max": max(gaps, default=0.0),
        "court_repeats": repeats(_visits(evening.rounds)),
        "station_repeats": repeats(_station_visits(evening)),
        "first_serve_unfairness": _first_serve_unfairness(evening),
        "wishes_missed": _wishes_missed(evening),
    }
    price = plan.event.exchange * measures["opponent_repeats"] + sum(gaps)
    return {**measures, "blend_price": round(price, _DIGITS)}


def repeats(counts: Counter[Pair]) -> int:
    """Return the sum of n(n-1)/2: how many pairs of times are the same thing again."""
    return sum(times * (times - 1) // 2 for times in counts.values())


def partner_counts(evening: Evening) -> Counter[Pair]:
    """Return how often each pair were partners on courts with two against two.

    All ``pairs`` rounds together count once; two people with a must-wish to
    be partners are not counted.
    """
    free: Counter[Pair] = Counter()
    fixed: set[Pair] = set()
    for view in evening.rounds:
        teams = chain.from_iterable((m.team_a, m.team_b) for m in _counted_matches(view))
        found = [both for team in teams for both in _pairs(team)]
        if view.planned.kind is Kind.PAIRS:
            fixed.update(found)
        else:
            free.update(found)
    free.update(fixed)
    for asked in _must_partner(evening.event):
        free.pop(asked, None)
    return free


def opponent_counts(evening: Evening) -> Counter[Pair]:
    """Return how often each pair opposed on courts with two against two."""
    return Counter(
        pair(one, other)
        for view in evening.rounds
        for match in _counted_matches(view)
        for one in match.team_a
        for other in match.team_b
    )


def level_gaps(evening: Evening) -> list[float]:
    """Return, for every match, by how many levels its two teams differ."""
    levels = {player.name: player.level for player in evening.event.players}

    def strength(team: Iterable[str]) -> float:
        return sum(levels.get(name, 0.0) for name in team)

    return [
        round(abs(strength(match.team_a) - strength(match.team_b)), _DIGITS)
        for view in evening.rounds
        for match in _counted_matches(view)
    ]


def _counted_matches(view: RoundView) -> tuple[Match, ...]:
    """Return the matches that count; the one place to leave out a match not finished."""
    return view.planned.matches


def _must_partner(event: Event) -> set[Pair]:
    return {
        pair(wish.player, wish.other)
        for wish in event.wishes
        if wish.kind is WishKind.PARTNERS and wish.strength is Strength.MUST
    }


def _pairs(names: Iterable[str]) -> Iterable[Pair]:
    return combinations(sorted(names), 2)


def _drill_counts(evening: Evening) -> Counter[Pair]:
    return Counter(
        both
        for view in evening.rounds
        if view.is_drill
        for entry in view.planned.courts
        for both in _pairs(entry.players)
    )


def _visits(rounds: Iterable[RoundView]) -> Counter[tuple[str, str]]:
    return Counter(
        (name, entry.court)
        for view in rounds
        for entry in view.planned.courts
        for name in entry.players
    )


def _station_visits(evening: Evening) -> Counter[tuple[str, str]]:
    stations = {station.court for station in evening.event.stations}
    drills = _visits(view for view in evening.rounds if view.is_drill)
    return Counter({visit: times for visit, times in drills.items() if visit[1] in stations})


def _back_to_back_rests(evening: Evening) -> int:
    return sum(
        len(before.resting & after.resting)
        for before, after in zip(evening.rounds, evening.rounds[1:], strict=False)
        if before.planned.number + 1 == after.planned.number
    )


def _first_serve_unfairness(evening: Evening) -> float:
    matches: Counter[str] = Counter()
    first: Counter[str] = Counter()
    for view in evening.rounds:
        for match in _counted_matches(view):
            matches.update(match.players)
            first.update(match.serving_order[:1])
    return max((abs(first[name] - matches[name] / 4) for name in matches), default=0.0)


def _wishes_missed(evening: Evening) -> int:
    shoulds = (wish for wish in evening.event.wishes if wish.strength is Strength.SHOULD)
    return sum(bool(misses(evening, wish)) for wish in shoulds)
