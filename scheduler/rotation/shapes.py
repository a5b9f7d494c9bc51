"""From an event to the shape of each round: how many seats of which sort.

The numbers are those of the contract between event and plan: a round of
doubles uses as many courts as it can fill, a drill has everybody on a court
in groups as near the target size as the open courts allow, and so on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from scheduler.domain.errors import NoPlan
from scheduler.domain.event import (
    NUMBER_WISHES,
    Event,
    Kind,
    Mixing,
    Round,
    SpareCourt,
    Wish,
    WishKind,
)
from scheduler.domain.plan import Group, Match, PlannedRound
from scheduler.domain.turnout import Turnout, turnouts
from scheduler.rotation.problem import (
    ANYONE,
    LEVEL_UNITS,
    Block,
    BlockKind,
    Demand,
    Problem,
    Shape,
    seating_of,
)
from scheduler.rotation.stay import places_by_level, printed_places
from scheduler.rotation.teams import fixed_teams

_MATCH = Block(BlockKind.MATCH, (ANYONE,) * 4)
_FIRST, _SECOND = 1, 2
"""Bits of the two groups in mixed and group-against-group rounds."""


def problem_of(
    event: Event,
    played: tuple[PlannedRound, ...] = (),
    printed: Mapping[int, PlannedRound] | None = None,
) -> Problem:
    """Return the event as the engine's problem.

    Parameters
    ----------
    event
        The event to seat.
    played
        Rounds that already happened and stay exactly as they are.
    printed
        By position, rounds to come as people know them: everybody stays put
        where that is possible.

    Raises
    ------
    NoPlan
        If a drill round has people but no open court.
    """
    index = {player.name: i for i, player in enumerate(event.players)}
    shapes = [
        _played_shape(event, asked, planned, index)
        for asked, planned in zip(event.rounds, played, strict=False)
    ]
    present = turnouts(event, played)
    ahead = range(len(played), len(event.rounds))
    printed = printed or {}
    first = first_up_and_down(event)
    for position in ahead:
        is_open = _is_up_and_down(event, position) and position != first
        if is_open and position not in printed:
            shapes.append(Shape(Kind.UP_AND_DOWN, (), (), (), (), (), open=True))
        else:
            shapes.append(_shape(event, position, present[position], index))
    demands = tuple(_demands(event, index))
    problem = Problem(
        event=event,
        levels=tuple(round(player.level * LEVEL_UNITS) for player in event.players),
        shapes=tuple(shapes),
        demands=demands,
        played=tuple(seating_of(planned, event) for planned in played),
    )
    problem = _with_teams(problem, [turnout.most_courts for turnout in present])
    stay = {at: printed_places(problem, at, known) for at, known in printed.items()}
    if first in ahead and first not in stay and event.rounds[first].levels is not Mixing.MIXED:
        stay[first] = places_by_level(problem, first)
    return replace(problem, printed=stay)


def first_up_and_down(event: Event) -> int:
    """Return the position of the first ``up and down`` round, -1 without one.

    It is seated beforehand; each later one is open until the results of the
    one before are known.
    """
    rounds = range(len(event.rounds))
    return next((at for at in rounds if _is_up_and_down(event, at)), -1)


def _is_up_and_down(event: Event, position: int) -> bool:
    return event.rounds[position].kind is Kind.UP_AND_DOWN


def group_sizes(people: int, target: int, courts: int) -> tuple[int, ...]:
    """Return the sizes of drill groups, largest first.

    The number of groups is the one that brings their mean size nearest the
    target; of two as near, the larger number of groups.
    """
    if people == 0 or courts == 0:
        return ()
    groups = min(
        range(1, min(courts, people) + 1),
        key=lambda count: (abs(Fraction(people, count) - target), -count),
    )
    small, larger = divmod(people, groups)
    return (small + 1,) * larger + (small,) * (groups - larger)


def _shape(event: Event, position: int, turnout: Turnout, index: dict[str, int]) -> Shape:
    asked = event.rounds[position]
    players = tuple(index[name] for name in turnout.players)
    courts = tuple(
        i for i, court in enumerate(event.courts) if court.name in frozenset(turnout.courts)
    )
    if asked.kind is Kind.DRILL:
        return _drill(asked, position, players, courts, turnout.most_courts)
    if asked.kind is Kind.PAIRS:
        return _pairs(asked, players, courts)
    if asked.kind in {Kind.MIXED, Kind.GROUP_AGAINST_GROUP}:
        return _two_groups(event, asked, players, courts, turnout.most_courts)
    blocks, left = _doubles_blocks(event, len(players), turnout.most_courts)
    is_ladder = asked.kind is Kind.UP_AND_DOWN
    return Shape(
        kind=asked.kind,
        players=players,
        courts=courts[: len(blocks)] if is_ladder else courts,
        blocks=blocks,
        rest=(ANYONE,) * left,
        bits=(_FIRST,) * len(players),
        levels=None if is_ladder and asked.levels is Mixing.ALIKE else asked.levels,
    )


def _drill(
    asked: Round, position: int, players: tuple[int, ...], courts: tuple[int, ...], most: int
) -> Shape:
    if players and not most:
        raise NoPlan([f"round {position + 1} is a drill for {len(players)} but no court is open"])
    sizes = group_sizes(len(players), asked.group_size, most)
    return Shape(
        kind=asked.kind,
        players=players,
        courts=courts,
        blocks=tuple(Block(BlockKind.GROUP, (ANYONE,) * size) for size in sizes),
        rest=(),
        bits=(_FIRST,) * len(players),
        levels=asked.levels,
    )


def _doubles_blocks(event: Event, people: int, most: int) -> tuple[tuple[Block, ...], int]:
    """Return the blocks of ordinary doubles for so many people, and how many are left to rest."""
    matches = min(most, people // 4)
    blocks = (_MATCH,) * matches
    left = people - 4 * matches
    if event.spare_court is SpareCourt.SINGLES and left in {2, 3} and matches < most:
        return (*blocks, Block(BlockKind.SPARE, (ANYONE,) * left)), 0
    return blocks, left


def _pairs(asked: Round, players: tuple[int, ...], courts: tuple[int, ...]) -> Shape:
    """Lay out a round of fixed teams; how many play is settled once the teams are."""
    return Shape(
        kind=asked.kind,
        players=players,
        courts=courts,
        blocks=(),
        rest=(ANYONE,) * len(players),
        bits=(_FIRST,) * len(players),
        levels=asked.levels,
    )


def _with_teams(problem: Problem, most_courts: list[int]) -> Problem:
    """Fix the teams of the ``pairs`` rounds and lay these rounds out for them."""
    teams = fixed_teams(problem)
    shapes = list(problem.shapes)
    for number in problem.free:
        shape = shapes[number]
        if shape.keeps_teams:
            matches = min(most_courts[number], len(teams) // 2)
            resting = len(shape.players) - 4 * matches
            shapes[number] = replace(shape, blocks=(_MATCH,) * matches, rest=(ANYONE,) * resting)
    return replace(problem, shapes=tuple(shapes), teams=teams)


def _two_groups(
    event: Event, asked: Round, players: tuple[int, ...], courts: tuple[int, ...], most: int
) -> Shape:
    """Lay out a round whose matches take two of each group, leftovers playing ordinary doubles."""
    groups = sorted({event.players[player].group for player in players})
    bit_of = {group: 1 << i for i, group in enumerate(groups)}
    bits = tuple(bit_of[event.players[player].group] for player in players)
    counts = [bits.count(_FIRST), bits.count(_SECOND)]
    matches = min(most, counts[0] // 2, counts[1] // 2)
    left = [count - 2 * matches for count in counts]
    mixed = (_FIRST, _SECOND, _FIRST, _SECOND)
    against = (_FIRST, _FIRST, _SECOND, _SECOND)
    block = Block(BlockKind.MATCH, mixed if asked.kind is Kind.MIXED else against)
    ordinary, left = _ordinary(event, left, most - matches)
    return Shape(
        kind=asked.kind,
        players=players,
        courts=courts,
        blocks=(block,) * matches + ordinary,
        rest=(_FIRST,) * left[0] + (_SECOND,) * left[1],
        bits=bits,
        levels=asked.levels,
    )


def _ordinary(event: Event, left: list[int], most: int) -> tuple[tuple[Block, ...], list[int]]:
    """Seat leftovers at ordinary doubles, the smaller group's first.

    How many of each group rest is settled here, so that everybody's share of
    the rests is known before the search begins.
    """
    blocks, _ = _doubles_blocks(event, sum(left), most)
    seats = sum(block.size for block in blocks)
    fewer = 0 if left[0] <= left[1] else 1
    seated = min(left[fewer], seats)
    resting = list(left)
    resting[fewer] -= seated
    resting[1 - fewer] -= seats - seated
    return blocks, resting


def _played_shape(
    event: Event, asked: Round, planned: PlannedRound, index: dict[str, int]
) -> Shape:
    """Return the shape of a round that happened: just the seats it had."""
    seated = [name for entry in planned.courts for name in entry.players]
    players = sorted(index[name] for name in [*seated, *planned.resting])
    bits = tuple(_FIRST for _ in players)
    rest: tuple[int, ...] = (ANYONE,) * len(planned.resting)
    if asked.kind in {Kind.MIXED, Kind.GROUP_AGAINST_GROUP}:
        groups = sorted({event.players[player].group for player in players})
        bits = tuple(1 << groups.index(event.players[player].group) for player in players)
        rest = tuple(
            1 << groups.index(event.players[index[name]].group) for name in planned.resting
        )
    kinds = {Match: BlockKind.MATCH, Group: BlockKind.GROUP}
    return Shape(
        kind=asked.kind,
        players=tuple(players),
        courts=tuple(
            i
            for entry in planned.courts
            for i, court in enumerate(event.courts)
            if court.name == entry.court
        ),
        blocks=tuple(
            Block(kinds.get(type(entry), BlockKind.SPARE), (ANYONE,) * len(entry.players))
            for entry in planned.courts
        ),
        rest=rest,
        bits=bits,
        levels=asked.levels,
    )


def _demands(event: Event, index: dict[str, int]) -> list[Demand]:
    court = {court.name: i for i, court in enumerate(event.courts)}
    demands = []
    for wish in event.wishes:
        known = court if wish.kind is WishKind.ON_COURT else index
        rounds = range(len(event.rounds)) if wish.round is None else (wish.round - 1,)
        demands.append(
            Demand(
                kind=wish.kind,
                player=index[wish.player],
                other=-1 if wish.kind in NUMBER_WISHES else known.get(wish.other, -1),
                number=wish.number if wish.number is not None else -1,
                must=wish.strength == "must",
                rounds=tuple(r for r in rounds if _speaks_of(wish, event.rounds[r])),
                wish=wish,
            )
        )
    return demands


def _speaks_of(wish: Wish, asked: Round) -> bool:
    """Return whether a wish means anything in a round of this kind."""
    if wish.kind is WishKind.SAME_COURT:
        return asked.kind is Kind.DRILL
    if wish.kind in {
        WishKind.PARTNERS,
        WishKind.PARTNERS_ONCE,
        WishKind.NOT_PARTNERS,
        WishKind.AGAINST_ONCE,
    }:
        return asked.kind is not Kind.DRILL
    return True
