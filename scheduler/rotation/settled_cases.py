"""Small evenings whose fewest opponent repeats were settled by searching all plans.

The bound alone does not reach these: it holds for every plan, while here
partners never repeat and rests are fair. Each was proved by the constraint
model or by exhaustive search (`scheduler.rotation.constraint_model.proofs`
does it again).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from scheduler.domain.event import Emphasis, Kind
from scheduler.domain.plan import Measure
from scheduler.rotation.bounds import drills_beside_stations
from scheduler.rotation.problem import BlockKind, Problem

FEWEST_OPPONENT_REPEATS = {
    (5, 2): 1,
    (5, 3): 3,
    (6, 3): 1,
    (7, 5): 1,
    (9, 4): 2,
    (9, 5): 6,
    (12, 5): 2,
}
"""By (players, rounds) with all courts in use and no partners repeated."""


def with_settled_cases(problem: Problem, measures: Mapping[str, Measure]) -> dict[str, Measure]:
    """Mark what is the best there can be once the measures that come before stand as they do.

    Opponent repeats where small evenings were settled, drill repeats where
    the plan's returns to stations leave no fewer.
    """
    result = dict(measures)
    if _is_settled(problem, measures):
        result["opponent_repeats"] = replace(
            measures["opponent_repeats"], best_given_above=True, proof="all plans searched"
        )
    drills = measures["drill_repeats"]
    returns = round(measures["station_repeats"].value)
    if problem.event.stations and drills.value == drills_beside_stations(problem, returns):
        proof = drills.proof if drills.proven else _OFF_THE_STATIONS
        result["drill_repeats"] = replace(drills, best_given_above=True, proof=proof)
    return result


_OFF_THE_STATIONS = "people of one group in two rounds, off the stations they have been to"


def _is_settled(problem: Problem, measures: Mapping[str, Measure]) -> bool:
    """Return whether the opponents stand at the fewest of a settled evening.

    Only under ``variety``, where opponents come right after what the proof
    takes as given: fair rests, no partners repeated, no wishes.
    """
    size = _size(problem)
    given = measures["partner_repeats"].value == 0 and measures["rest_unfairness"].value < 1
    if not given or size is None:
        return False
    return FEWEST_OPPONENT_REPEATS.get(size) == measures["opponent_repeats"].value


def _size(problem: Problem) -> tuple[int, int] | None:
    """Return (players, rounds) of a plain evening of doubles on all courts people can fill."""
    shapes = problem.shapes
    if problem.event.emphasis is not Emphasis.VARIETY or not problem.is_plain:
        return None
    people = len(shapes[0].players)
    full = all(
        shape.kind is Kind.DOUBLES
        and len(shape.blocks) == people // 4
        and all(block.kind is BlockKind.MATCH for block in shape.blocks)
        for shape in shapes
    )
    return (people, len(shapes)) if full else None
