"""What a solution amounts to: how often people met, rested, came to each court.

The engine's own count. The checker counts again from the plan, without this.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations, pairwise

from scheduler.domain.event import NUMBER_WISHES, WishKind
from scheduler.rotation.problem import LEVEL_UNITS, BlockKind, Demand, Problem, Solution, pair

Pair = tuple[int, int]


@dataclass
class Counts:
    """Counts over the whole evening, by pair, by player, by player and court.

    `gaps` lists the level gap of every match in thousandths; `rested` gives
    the positions of the rounds each player rested in, `played` those in which
    a player was on a court.
    """

    partners: Counter[Pair] = field(default_factory=Counter)
    opponents: Counter[Pair] = field(default_factory=Counter)
    drills: Counter[Pair] = field(default_factory=Counter)
    visits: Counter[tuple[int, int]] = field(default_factory=Counter)
    stations: Counter[tuple[int, int]] = field(default_factory=Counter)
    gaps: list[int] = field(default_factory=list)
    rested: list[list[int]] = field(default_factory=list)
    played: list[list[int]] = field(default_factory=list)
    matches: Counter[int] = field(default_factory=Counter)


def count(problem: Problem, solution: Solution) -> Counts:
    """Count a solution."""
    counts = Counts(
        rested=[[] for _ in problem.levels],
        played=[[] for _ in problem.levels],
    )
    teams: set[Pair] = set()
    stationed = {
        i for i, c in enumerate(problem.event.courts) if c.name in problem.event.station_by_court
    }
    for number, seating in enumerate(solution):
        shape = problem.shapes[number]
        for player in seating.rest:
            counts.rested[player].append(number)
        for block, people, court in zip(shape.blocks, seating.blocks, seating.courts, strict=True):
            stop = block.kind is BlockKind.GROUP and court in stationed
            _count_places(counts, number, people, court, station=stop)
            if block.kind is BlockKind.GROUP:
                counts.drills.update(_pairs(people))
            if block.kind is BlockKind.MATCH:
                both = [pair(*people[:2]), pair(*people[2:])]
                if shape.keeps_teams:
                    teams.update(both)
                else:
                    counts.partners.update(both)
                _count_match(problem, counts, people)
    counts.partners.update(sorted(teams))
    return counts


def _count_places(
    counts: Counts, number: int, people: Iterable[int], court: int, *, station: bool
) -> None:
    for player in people:
        counts.played[player].append(number)
        counts.visits[player, court] += 1
        if station:
            counts.stations[player, court] += 1


def _count_match(problem: Problem, counts: Counts, people: tuple[int, ...]) -> None:
    a1, a2, b1, b2 = people
    counts.opponents.update(pair(a, b) for a in (a1, a2) for b in (b1, b2))
    counts.matches.update(people)
    level = problem.levels
    counts.gaps.append(abs(level[a1] + level[a2] - level[b1] - level[b2]))


def _pairs(people: tuple[int, ...]) -> Iterator[Pair]:
    return (pair(one, other) for one, other in combinations(people, 2))


def repeats(times: Iterable[int]) -> int:
    """Return the sum of k(k-1)/2 over counts k."""
    return sum(k * (k - 1) // 2 for k in times)


def values_of(problem: Problem, solution: Solution) -> dict[str, float]:
    """Return the value of every measure that does not hang on who serves first.

    The names are those of the contract; ``blend_price`` is the exchange times
    the opponent repeats plus the sum of the level gaps.
    """
    counts = count(problem, solution)
    counted = Counter(
        {two: n for two, n in counts.partners.items() if two not in problem.uncounted_partners}
    )
    opponent = repeats(counts.opponents.values())
    gap_sum = sum(counts.gaps) / LEVEL_UNITS
    off = [
        abs(len(rests) - share) for rests, share in zip(counts.rested, problem.shares, strict=True)
    ]
    return {
        "rest_unfairness": round(float(max(off, default=0)), 6),
        "partner_repeats": repeats(counted.values()),
        "wishes_missed": len(broken(problem, solution, must=False)),
        "blend_price": round(problem.event.exchange * opponent + gap_sum, 6),
        "opponent_repeats": opponent,
        "level_gap_mean": round(gap_sum / len(counts.gaps), 6) if counts.gaps else 0,
        "level_gap_max": max(counts.gaps, default=0) / LEVEL_UNITS,
        "back_to_back_rests": sum(
            sum(b == a + 1 for a, b in pairwise(rests)) for rests in counts.rested
        ),
        "meeting_repeats": repeats((counted + counts.opponents).values()),
        "drill_repeats": repeats(counts.drills.values()),
        "court_repeats": repeats(counts.visits.values()),
        "station_repeats": repeats(counts.stations.values()),
    }


def broken(problem: Problem, solution: Solution, *, must: bool) -> list[Demand]:
    """Return the demands of one strength that a solution does not keep."""
    asked = [demand for demand in problem.demands if demand.must is must]
    if not asked:
        return []
    places = [_places(seating.blocks, seating.rest) for seating in solution]
    return [demand for demand in asked if not _kept(problem, solution, places, demand)]


def _places(blocks: tuple[tuple[int, ...], ...], rest: tuple[int, ...]) -> dict[int, int]:
    """Return the block each player sits in, -1 for resting."""
    places = {player: number for number, block in enumerate(blocks) for player in block}
    places.update(dict.fromkeys(rest, -1))
    return places


def _kept(
    problem: Problem, solution: Solution, places: list[dict[int, int]], demand: Demand
) -> bool:
    """Return whether one demand is kept; what it means is the contract's section 2.

    A wish about two people who are never there together asks for nothing.
    """
    if demand.kind in NUMBER_WISHES:
        return _limit_kept(places, demand)
    rounds = [number for number in demand.rounds if demand.player in places[number]]
    if demand.kind in {WishKind.RESTS, WishKind.ON_COURT}:
        wanted = demand.other if demand.kind is WishKind.ON_COURT else None
        at = ((number, places[number][demand.player]) for number in rounds)
        return all(block < 0 or solution[number].courts[block] == wanted for number, block in at)
    once = demand.kind in {WishKind.PARTNERS_ONCE, WishKind.AGAINST_ONCE}
    if once and any(problem.shapes[number].open for number in demand.rounds):
        return True  # it may still be kept there
    both = [number for number in rounds if demand.other in places[number]]
    relations = {_relation(problem, solution, places, number, demand) for number in both}
    return not both or _PAIR_TESTS[demand.kind](relations)


_PAIR_TESTS: dict[WishKind, Callable[[set[str]], bool]] = {
    WishKind.PARTNERS: lambda relations: relations <= {"partners", "rest"},
    WishKind.PARTNERS_ONCE: lambda relations: "partners" in relations,
    WishKind.AGAINST_ONCE: lambda relations: "against" in relations,
    WishKind.NOT_PARTNERS: lambda relations: "partners" not in relations,
    WishKind.SAME_COURT: lambda relations: relations == {"together"},
    WishKind.NOT_SAME_COURT: lambda relations: relations <= {"apart", "rest"},
}
"""What two people may be to each other in the rounds a wish speaks of."""


def _relation(
    problem: Problem,
    solution: Solution,
    places: list[dict[int, int]],
    number: int,
    demand: Demand,
) -> str:
    block = places[number][demand.player]
    if block != places[number][demand.other]:
        return "apart"
    if block < 0:
        return "rest"
    if problem.shapes[number].blocks[block].kind is not BlockKind.MATCH:
        return "together"
    seats = solution[number].blocks[block]
    same_team = seats.index(demand.player) // 2 == seats.index(demand.other) // 2
    return "partners" if same_team else "against"


def _limit_kept(places: list[dict[int, int]], demand: Demand) -> bool:
    on_court = [places[number].get(demand.player, -1) >= 0 for number in demand.rounds]
    if demand.kind is WishKind.PLAYS_AT_MOST:
        return sum(on_court) <= demand.number
    running = longest = 0
    for plays in on_court:
        running = running + 1 if plays else 0
        longest = max(longest, running)
    return longest <= demand.number
