"""Where people should stay: the places printed for a round, or those their levels give them."""

from __future__ import annotations

from fractions import Fraction

from scheduler.domain.plan import Match, PlannedRound
from scheduler.rotation.problem import BlockKind, Printed, Problem, pair, seating_of


def printed_places(problem: Problem, number: int, known: PlannedRound) -> Printed:
    """Return where the people of a round were told to be, as far as that is still possible.

    People who are not there any more and courts that are lost are left out:
    nobody can stay there, so it costs the same whatever becomes of it.
    """
    shape = problem.shapes[number]
    here, courts = set(shape.players), set(shape.courts)
    told = seating_of(known, problem.event)
    places = [(player, problem.courts) for player in told.rest]
    partners: list[tuple[int, int]] = []
    for entry, court, people in zip(known.courts, told.courts, told.blocks, strict=True):
        if court in courts:
            places.extend((player, court) for player in people)
        if isinstance(entry, Match):
            partners.extend(pair(*team) for team in (people[:2], people[2:]))
    return Printed(
        places=tuple(sorted(place for place in places if place[0] in here)),
        partners=tuple(both for both in partners if here.issuperset(both)),
    )


def places_by_level(problem: Problem, number: int) -> Printed:
    """Return the places of the first ``up and down`` round: the strongest on the first court.

    Common practice, no source. Those most behind their share of rests sit
    out, the last of the players list where that leaves a choice.
    """
    shape = problem.shapes[number]
    resting = set(_resting(problem, number))
    playing = [player for player in shape.players if player not in resting]
    playing.sort(key=lambda player: (-problem.levels[player], player))
    places = [(player, problem.courts) for player in resting]
    blocks = sorted(shape.blocks, key=lambda block: block.kind is not BlockKind.MATCH)
    for court, block in zip(shape.courts, blocks, strict=True):
        places.extend((player, court) for player in playing[: block.size])
        del playing[: block.size]
    return Printed(tuple(sorted(places)))


def _resting(problem: Problem, number: int) -> list[int]:
    """Return who is most behind their share of the rests of the rounds played."""
    owed = [Fraction(0)] * problem.players
    for shape, seating in zip(problem.shapes, problem.played, strict=False):
        for player in shape.players:
            owed[player] += Fraction(len(shape.rest), len(shape.players))
        for player in seating.rest:
            owed[player] -= 1
    shape = problem.shapes[number]
    by_need = sorted(shape.players, key=lambda player: (-owed[player], -player))
    return by_need[: len(shape.rest)]
