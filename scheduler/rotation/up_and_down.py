"""The next ``up and down`` round: winners one court up, losers one down, partners split.

Common practice in clubs, no source. Courts are ranked in the event's order,
the first being the top. Everybody who plays on moves just one court: the
winners of the top court and the losers of the last one stay. Who rests is
settled by fairness first: those furthest behind their share of rests sit out;
of several as far behind, one who did not rest the round before, then one from
the lower court, then the last of the list. People who come in take the seats
this leaves free, the higher seat going to who last played on a higher court;
who has not played yet comes after them, by level.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from scheduler.domain.event import Event, Kind
from scheduler.domain.plan import PlannedRound
from scheduler.rotation.counts import Counts, count
from scheduler.rotation.problem import BlockKind, Problem, Seating, Shape, pair
from scheduler.rotation.publish import rounds_of
from scheduler.rotation.shapes import problem_of

Winners = Mapping[str, tuple[str, str]]
_Four = tuple[int, ...]


def next_up_and_down(
    event: Event, rounds: tuple[PlannedRound, ...], number: int, winners: Winners
) -> PlannedRound:
    """Seat an open round from the results of the last round of its kind before it.

    Parameters
    ----------
    event
        The event.
    rounds
        All rounds of the plan.
    number
        The number of the round to seat.
    winners
        By court, the team that won there in the last ``up and down`` round.

    Returns
    -------
    PlannedRound
        The round; its matches have no serving order yet. Wishes are not
        looked at here.
    """
    at = number - 1
    before = max(r for r in range(at) if rounds[r].kind is Kind.UP_AND_DOWN)
    wishes = tuple(w for w in event.wishes if w.round is None or w.round <= number)
    short = replace(event, rounds=event.rounds[:number], wishes=wishes)
    problem = problem_of(short, rounds[:at], {at: rounds[at]})
    everything = problem_of(event, rounds)
    ladder = _Ladder(problem, everything, rounds, before, _won(event, winners))
    seating = ladder.seating(problem.shapes[at])
    return rounds_of(problem, (*problem.played, seating), rounds[:at])[-1]


def _won(event: Event, winners: Winners) -> set[int]:
    index = {player.name: i for i, player in enumerate(event.players)}
    return {index[name] for team in winners.values() for name in team}


@dataclass(frozen=True)
class _Ladder:
    """The order of people by courts after some results.

    Parameters
    ----------
    problem
        The evening up to the round to seat.
    everything
        The whole evening, every seated round of it taken as it is.
    rounds
        All rounds of the plan.
    before
        The position of the round the results are of.
    won
        Who won there.
    """

    problem: Problem
    everything: Problem
    rounds: tuple[PlannedRound, ...]
    before: int
    won: set[int]

    def seating(self, shape: Shape) -> Seating:
        """Return who sits where; a spare court is the lowest."""
        resting = self._resting(shape)
        order = sorted(range(len(shape.blocks)), key=lambda b: not _is_match(shape, b))
        playing = [player for player in shape.players if player not in resting]
        rungs = self._rungs(playing, [shape.blocks[b].size for b in order])
        counts = count(self.everything, self.everything.played)
        blocks: list[tuple[int, ...]] = [()] * len(order)
        courts = [0] * len(order)
        for b, people, court in zip(order, rungs, shape.courts, strict=True):
            is_match = _is_match(shape, b)
            blocks[b] = self._teams(people, counts) if is_match else self._spare(people)
            courts[b] = court
        return Seating(tuple(blocks), tuple(courts), tuple(sorted(resting)))

    def _targets(self) -> dict[int, int]:
        """Return the rung of everybody who played a match: one up or one down."""
        shape, seating = self.problem.shapes[self.before], self.problem.played[self.before]
        matches = sorted(
            (court, people)
            for court, people, block in zip(
                seating.courts, seating.blocks, shape.blocks, strict=True
            )
            if block.kind is BlockKind.MATCH
        )
        last = len(matches) - 1
        return {
            player: max(rung - 1, 0) if player in self.won else min(rung + 1, last)
            for rung, (_, people) in enumerate(matches)
            for player in people
        }

    def _last_rung(self, player: int) -> int:
        """Return the court somebody last played on in a round of this kind, the last one if none.

        Counted from the top.
        """
        for at in range(self.before, -1, -1):
            seating = self.problem.played[at]
            if self.rounds[at].kind is Kind.UP_AND_DOWN:
                for court, people in zip(seating.courts, seating.blocks, strict=True):
                    if player in people:
                        return court
        return self.problem.courts

    def _resting(self, shape: Shape) -> set[int]:
        """Return who is furthest behind the share of rests, this round's included."""
        if not shape.rest:
            return set()
        share = Fraction(len(shape.rest), len(shape.players))
        owed = [share + due for due in self.everything.shares]
        for seating in self.everything.played:
            for player in seating.rest:
                owed[player] -= 1
        targets = self._targets()
        just_rested = set(self.problem.played[-1].rest)

        def need(player: int) -> tuple[Fraction, bool, int, int]:
            rung = targets.get(player, -1)
            return (-owed[player], player in just_rested, -rung, -player)

        return set(sorted(shape.players, key=need)[: len(shape.rest)])

    def _rungs(self, playing: Sequence[int], sizes: Sequence[int]) -> list[list[int]]:
        """Return who plays on each court: those who move there, then those who come in."""
        levels = self.problem.levels
        targets = self._targets()
        rungs: list[list[int]] = [[] for _ in sizes]
        pool = []
        by_target = sorted(
            (player for player in playing if player in targets),
            key=lambda player: (targets[player], -levels[player], player),
        )
        for player in by_target:
            rung = min(targets[player], len(sizes) - 1)
            if rung >= 0 and len(rungs[rung]) < sizes[rung]:
                rungs[rung].append(player)
            else:
                pool.append(player)
        pool.extend(player for player in playing if player not in targets)
        pool.sort(key=lambda player: (self._last_rung(player), -levels[player], player))
        for people, size in zip(rungs, sizes, strict=True):
            missing = size - len(people)
            people.extend(pool[:missing])
            del pool[:missing]
        return rungs

    def _teams(self, people: Sequence[int], counts: Counts) -> _Four:
        """Return four people as two teams, partners of the last round split.

        Then few partners and opponents again, and even levels.
        """
        a, b, c, d = people
        last = _partners(self.problem, self.before)
        levels, exchange = self.problem.levels, self.problem.event.exchange * 1000

        def price(four: _Four) -> tuple[int, int, float]:
            one, two = pair(*four[:2]), pair(*four[2:])
            again = sum(counts.partners[team] for team in (one, two))
            met = sum(counts.opponents[pair(x, y)] for x in four[:2] for y in four[2:])
            gap = abs(levels[four[0]] + levels[four[1]] - levels[four[2]] - levels[four[3]])
            return ((one in last) + (two in last), again, exchange * met + gap)

        return min([(a, b, c, d), (a, c, b, d), (a, d, b, c)], key=price)

    def _spare(self, people: Sequence[int]) -> tuple[int, ...]:
        """Return two or three left over; of three the strongest plays alone."""
        return tuple(sorted(people, key=lambda player: (self.problem.levels[player], player)))


def _partners(problem: Problem, at: int) -> set[tuple[int, int]]:
    return {
        pair(*team)
        for block, people in zip(problem.shapes[at].blocks, problem.played[at].blocks, strict=True)
        if block.kind is BlockKind.MATCH
        for team in (people[:2], people[2:])
    }


def _is_match(shape: Shape, block: int) -> bool:
    return shape.blocks[block].kind is BlockKind.MATCH
