"""What no plan can beat: lower bounds on the measures, each with its proof.

Every bound here holds for every plan that keeps the musts and the numbers of
courts, whatever its other measures. `blend_beside` and `drills_beside_stations`
speak of plans in which the measures that come before stand as given. The
proofs stand in the docstrings.
"""

from __future__ import annotations

from scheduler.rotation.bounds.blend import blend_beside, blend_bound
from scheduler.rotation.bounds.drills import drills_beside_stations, drills_bound
from scheduler.rotation.bounds.gaps import gap_max_bound, gap_mean_bound, gap_sum_bound
from scheduler.rotation.bounds.meetings import meetings_bound, opponents_bound, partners_bound
from scheduler.rotation.bounds.pigeonhole import TRIVIAL, Bound, spread
from scheduler.rotation.bounds.rests import back_to_back_bound, rest_unfairness_bound
from scheduler.rotation.bounds.visits import courts_bound, stations_bound
from scheduler.rotation.problem import Problem

__all__ = ["Bound", "blend_beside", "bounds_of", "drills_beside_stations", "spread"]


def bounds_of(problem: Problem) -> dict[str, Bound]:
    """Return the best bound known for every measure that does not hang on serving."""
    opponents = opponents_bound(problem)
    gap_sum = gap_sum_bound(problem)
    return {
        "rest_unfairness": rest_unfairness_bound(problem),
        "partner_repeats": partners_bound(problem),
        "wishes_missed": TRIVIAL,
        "blend_price": blend_bound(problem, opponents, gap_sum),
        "opponent_repeats": opponents,
        "level_gap_mean": gap_mean_bound(problem, gap_sum),
        "level_gap_max": gap_max_bound(problem, gap_sum),
        "back_to_back_rests": back_to_back_bound(problem),
        "meeting_repeats": meetings_bound(problem),
        "drill_repeats": drills_bound(problem),
        "court_repeats": courts_bound(problem),
        "station_repeats": stations_bound(problem),
    }
