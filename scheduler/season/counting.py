"""What one evening adds to the season, counted from its plan.

Partners and opponents are counted as the measures count them: partners of all
``pairs`` rounds once, pairs with a must-wish to be partners not at all.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

from scheduler.checker.evening import Evening, Pair, pair
from scheduler.checker.measures import level_gaps, opponent_counts, partner_counts, recount
from scheduler.checker.shares import rest_balance
from scheduler.domain.plan import Plan

GAP_SUM, GAP_COUNT, GAP_MAX = "level_gap_sum", "level_gap_count", "level_gap_max"
BACK_TO_BACK, WISHES_MISSED = "back_to_back_rests", "wishes_missed"


@dataclass(frozen=True, slots=True)
class Turns:
    """One person's evening in numbers: rounds there, rests and their fair share, matches."""

    rounds: int = 0
    rests: int = 0
    fair_rests: float = 0.0
    matches: int = 0
    first_serves: int = 0


@dataclass(frozen=True)
class Counts:
    """An evening in numbers, by name.

    Parameters
    ----------
    partners, opponents, drills
        Times each pair met in that role.
    turns
        Everybody's own numbers.
    visits
        Times a person was on a court, in every kind of round.
    station_visits
        The same for drill courts that are stations.
    figures
        What is not about one person: sums and maxima of the level gaps, rests
        back to back, wishes missed.
    """

    partners: Mapping[Pair, int]
    opponents: Mapping[Pair, int]
    drills: Mapping[Pair, int]
    turns: Mapping[str, Turns]
    visits: Mapping[tuple[str, str], int]
    station_visits: Mapping[tuple[str, str], int]
    figures: Mapping[str, float]


def counts_of(plan: Plan) -> Counts:
    """Count a plan; rounds not seated yet are left out."""
    evening = Evening(plan, plan.event)
    measures, gaps = recount(plan, plan.event), level_gaps(evening)
    stations = {station.court for station in plan.event.stations}
    visits: Counter[tuple[str, str]] = Counter()
    at_stations: Counter[tuple[str, str]] = Counter()
    drills: Counter[Pair] = Counter()
    for view in evening.rounds:
        for entry in view.planned.courts:
            here = [(name, entry.court) for name in entry.players]
            visits.update(here)
            if view.is_drill:
                drills.update(pair(*both) for both in combinations(entry.players, 2))
                at_stations.update(here if entry.court in stations else ())
    return Counts(
        partners=partner_counts(evening),
        opponents=opponent_counts(evening),
        drills=drills,
        turns=_turns(evening),
        visits=visits,
        station_visits=at_stations,
        figures={
            GAP_SUM: sum(gaps),
            GAP_COUNT: len(gaps),
            GAP_MAX: max(gaps, default=0.0),
            BACK_TO_BACK: measures[BACK_TO_BACK],
            WISHES_MISSED: measures[WISHES_MISSED],
        },
    )


def _turns(evening: Evening) -> dict[str, Turns]:
    balance = rest_balance(evening)
    rounds: Counter[str] = Counter()
    matches: Counter[str] = Counter()
    first: Counter[str] = Counter()
    for view in evening.rounds:
        rounds.update(name for name in evening.plan.event.player_by_name if view.takes_part(name))
        for match in view.planned.matches:
            matches.update(match.players)
            first.update(match.serving_order[:1])
    found = {}
    for name in evening.plan.event.player_by_name:
        rests, fair = balance.get(name, (0, 0))
        found[name] = Turns(rounds[name], rests, float(fair), matches[name], first[name])
    return found
