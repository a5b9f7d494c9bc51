"""A plan's measures with the season: whole earlier evenings added, and faded as priced."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from scheduler.checker.evening import Pair
from scheduler.domain.plan import Plan
from scheduler.season.counting import (
    BACK_TO_BACK,
    GAP_COUNT,
    GAP_MAX,
    GAP_SUM,
    WISHES_MISSED,
    Counts,
    Turns,
    counts_of,
)
from scheduler.season.history import History, Met

_DIGITS = 6
_NOBODY = Turns()
_STRANGERS = Met()


def season_measures(plan: Plan, history: History) -> dict[str, float]:
    """Return the measures of a plan with whole earlier evenings added.

    They have the names of the evening's measures. Repeats are counted over all
    pairs of the season, also of people who are not there tonight; unfairness
    of rests and first serves is that of everybody's sums; the level gaps are
    those of all matches.

    Parameters
    ----------
    plan
        Tonight's plan.
    history
        The evenings before, by tonight's names.
    """
    counts = counts_of(plan)
    partners = _summed(counts.partners, {both: met.partners for both, met in history.met.items()})
    opponents = _summed(
        counts.opponents, {both: met.opponents for both, met in history.met.items()}
    )
    drills = _summed(counts.drills, {both: met.drills for both, met in history.met.items()})
    turns = _turns(counts, history)
    gap_sum, gap_count = (_figure(counts, history, name) for name in (GAP_SUM, GAP_COUNT))
    measures = {
        "partner_repeats": _repeats(partners.values()),
        "opponent_repeats": _repeats(opponents.values()),
        "meeting_repeats": _repeats((partners + opponents).values()),
        "drill_repeats": _repeats(drills.values()),
        "rest_unfairness": max((abs(t.rests - t.fair_rests) for t in turns), default=0.0),
        "back_to_back_rests": _figure(counts, history, BACK_TO_BACK),
        "level_gap_mean": gap_sum / gap_count if gap_count else 0.0,
        "level_gap_max": max(counts.figures[GAP_MAX], history.figures.get(GAP_MAX, 0.0)),
        "court_repeats": _repeats(_summed(counts.visits, history.visits).values()),
        "station_repeats": _repeats(
            _summed(counts.station_visits, history.station_visits).values()
        ),
        "first_serve_unfairness": max(
            (abs(t.first_serves - t.matches / 4) for t in turns), default=0.0
        ),
        "wishes_missed": _figure(counts, history, WISHES_MISSED),
    }
    return {name: _tidy(value) for name, value in measures.items()}


def weighted(plan: Plan, history: History) -> dict[str, float]:
    """Return the faded cost of repeats, as the engine prices it.

    A pair that meets k times tonight and f faded times before costs
    k(k-1)/2 + k f. ``half_life`` and ``evenings`` say how the fading was done.
    """
    counts = counts_of(plan)
    met = history.met
    meetings = _summed(counts.partners, counts.opponents)
    costs = {
        "partner_repeats": sum(
            _cost(times, met.get(both, _STRANGERS).faded_partners)
            for both, times in counts.partners.items()
        ),
        "opponent_repeats": sum(
            _cost(times, met.get(both, _STRANGERS).faded_opponents)
            for both, times in counts.opponents.items()
        ),
        "meeting_repeats": sum(
            _cost(times, _faded_meetings(met.get(both, _STRANGERS)))
            for both, times in meetings.items()
        ),
        "drill_repeats": sum(
            _cost(times, met.get(both, _STRANGERS).faded_drills)
            for both, times in counts.drills.items()
        ),
        "half_life": history.half_life,
        "evenings": history.evenings,
    }
    return {name: _tidy(value) for name, value in costs.items()}


def _cost(times: int, faded: float) -> float:
    return times * (times - 1) / 2 + times * faded


def _faded_meetings(met: Met) -> float:
    return met.faded_partners + met.faded_opponents


def _summed(one: Mapping[Pair, int], other: Mapping[Pair, int]) -> Counter[Pair]:
    total = Counter(dict(one))
    for both, times in other.items():
        total[both] += times
    return total


def _repeats(counts: Iterable[int]) -> int:
    return sum(times * (times - 1) // 2 for times in counts)


def _turns(counts: Counts, history: History) -> list[Turns]:
    names = dict.fromkeys([*counts.turns, *history.turns])
    return [
        _both(counts.turns.get(name, _NOBODY), history.turns.get(name, _NOBODY)) for name in names
    ]


def _both(one: Turns, other: Turns) -> Turns:
    return Turns(
        one.rounds + other.rounds,
        one.rests + other.rests,
        one.fair_rests + other.fair_rests,
        one.matches + other.matches,
        one.first_serves + other.first_serves,
    )


def _figure(counts: Counts, history: History, name: str) -> float:
    return counts.figures[name] + history.figures.get(name, 0)


def _tidy(value: float) -> float:
    rounded = round(value, _DIGITS)
    return int(rounded) if rounded == int(rounded) else rounded
