"""Small evenings whose fewest repeats were settled by searching all plans.

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
from scheduler.rotation.bounds import blend_beside, drills_beside_stations
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


ON_ONE_COURT = {
    "opponents": {
        (5, 2): 1, (5, 3): 3, (5, 7): 27, (5, 8): 37, (5, 12): 93, (5, 13): 111,
        (6, 3): 1, (6, 7): 14, (6, 8): 20,
        (7, 5): 1,
    },
    "meetings": {
        (6, 4): 10, (6, 5): 18, (6, 7): 41, (6, 8): 56, (6, 10): 93, (6, 11): 115,
        (7, 3): 2, (7, 4): 5,
    },
}  # fmt: skip
"""Least repeats by aim and (players, rounds) on one court where they are above the bound.

Rests are fair and partner repeats least. Settled by integer programming,
`scheduler.rotation.templates.search.settle`, which proves them again.
"""


_LEADING = {
    Emphasis.VARIETY: ("opponents", "opponent_repeats"),
    Emphasis.MEET_EVERYONE: ("meetings", "meeting_repeats"),
}
"""What comes right after what the proofs take as given."""


def with_settled_cases(problem: Problem, measures: Mapping[str, Measure]) -> dict[str, Measure]:
    """Mark what is the best there can be once the measures that come before stand as they do.

    Opponent repeats where small evenings were settled, the blend price where
    partners and rests leave no less, drill repeats where the plan's returns
    to stations leave no fewer.
    """
    result = dict(measures)
    _, name = _LEADING.get(problem.event.emphasis, ("", ""))
    if name and _is_settled(problem, measures):
        result[name] = replace(measures[name], best_given_above=True, proof="all plans searched")
    if _is_least_price(problem, measures):
        result["blend_price"] = replace(
            measures["blend_price"], best_given_above=True, proof=_BESIDE_PARTNERS
        )
    drills = measures["drill_repeats"]
    returns = round(measures["station_repeats"].value)
    if problem.event.stations and drills.value == drills_beside_stations(problem, returns):
        proof = drills.proof if drills.proven else _OFF_THE_STATIONS
        result["drill_repeats"] = replace(drills, best_given_above=True, proof=proof)
    return result


_OFF_THE_STATIONS = "people of one group in two rounds, off the stations they have been to"


_BESIDE_PARTNERS = "linear programming dual, so many partner repeats and rests as fair given"

_MOST_PLAYERS = 12
"""Above so many players the price is hardly ever at this bound, which takes time to find."""


def _is_least_price(problem: Problem, measures: Mapping[str, Measure]) -> bool:
    price = measures["blend_price"]
    if price.proven or problem.players > _MOST_PLAYERS:
        return False
    partners = round(measures["partner_repeats"].value)
    return price.value == blend_beside(problem, partners, measures["rest_unfairness"].value)


def _is_settled(problem: Problem, measures: Mapping[str, Measure]) -> bool:
    """Return whether what comes first stands at the fewest of a settled evening.

    What the proofs take as given: fair rests, the least partner repeats, no wishes.
    """
    aim, name = _LEADING[problem.event.emphasis]
    size = _size(problem)
    given = measures["partner_repeats"].proven and measures["rest_unfairness"].value < 1
    if not given or size is None:
        return False
    settled = dict(ON_ONE_COURT[aim]) if size[0] // 4 == 1 else {}
    if aim == "opponents":
        settled |= FEWEST_OPPONENT_REPEATS
    return settled.get(size) == measures[name].value


def _size(problem: Problem) -> tuple[int, int] | None:
    """Return (players, rounds) of a plain evening of doubles on all courts people can fill."""
    shapes = problem.shapes
    if not problem.is_plain:
        return None
    people = len(shapes[0].players)
    full = all(
        shape.kind is Kind.DOUBLES
        and len(shape.blocks) == people // 4
        and all(block.kind is BlockKind.MATCH for block in shape.blocks)
        for shape in shapes
    )
    return (people, len(shapes)) if full else None
