"""Rounds whose seats are settled, played or held fast, as constants for the wishes."""

from __future__ import annotations

from collections.abc import Mapping

from scheduler.rotation.problem import BlockKind, Demand, Problem, Seating


class Settled:
    """The rounds that are not to be seated.

    Parameters
    ----------
    problem
        Whose rounds are meant.
    seatings
        Their seatings by the rounds' positions; the played rounds if not given.
    """

    def __init__(self, problem: Problem, seatings: Mapping[int, Seating] | None = None) -> None:
        self._problem = problem
        self._seatings = dict(enumerate(problem.played)) if seatings is None else dict(seatings)
        self._rests = [0] * problem.players
        for seating in self._seatings.values():
            for player in seating.rest:
                self._rests[player] += 1

    def rests(self, player: int) -> int:
        """Return how often a player rests in these rounds."""
        return self._rests[player]

    def on_court(self, number: int, player: int) -> bool:
        """Return whether a player is on a court in a round, which may be none of these."""
        seating = self._seatings.get(number)
        return seating is not None and any(player in block for block in seating.blocks)

    def times_on_court(self, demand: Demand) -> int:
        """Return in how many of these rounds of a wish its player is on a court."""
        return sum(self.on_court(number, demand.player) for number in demand.rounds)

    def are_partners(self, demand: Demand) -> bool:
        """Return whether the two of a wish are partners in one of its rounds."""
        return any(same for same in self._meetings(demand))

    def are_opponents(self, demand: Demand) -> bool:
        """Return whether the two of a wish oppose in one of its rounds."""
        return any(not same for same in self._meetings(demand))

    def _meetings(self, demand: Demand) -> list[bool]:
        """Return for each match of the two whether they are on the same side."""
        both = {demand.player, demand.other}
        return [
            seats.index(demand.player) // 2 == seats.index(demand.other) // 2
            for number in demand.rounds
            if number in self._seatings
            for block, seats in zip(
                self._problem.shapes[number].blocks, self._seatings[number].blocks, strict=True
            )
            if block.kind is BlockKind.MATCH and both <= set(seats)
        ]
