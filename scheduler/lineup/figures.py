"""What a line-up is worth, counted plainly from names and levels, apart from the search."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from scheduler.domain.event import Hand, Here, Side
from scheduler.domain.fixture import Fixture, LinePair, TeamSeason
from scheduler.lineup.chance import chance_range, opposing, win_chance
from scheduler.lineup.price import Situation

Pairs = Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Figures:
    """A line-up in figures.

    Attributes
    ----------
    unevenness
        Sum of squared differences of the pair sums, in levels squared.
    sums
        The pair sums in line order.
    wins
        Expected line wins against the strongest opponents assumed.
    together
        Matches of the partners together in other fixtures, added up.
    turns
        Matches of all who play in other fixtures, added up.
    same_side, left_hands, liked
        Pairs of two deuce or two ad players, pairs of two left-handers, and
        wishes for a partner kept.
    called
        People who play though they said "if needed".
    """

    unevenness: float
    sums: tuple[float, ...]
    wins: float
    together: int
    turns: int
    same_side: int
    left_hands: int
    liked: int
    called: int


def figures_of(situation: Situation, pairs: Pairs) -> Figures:
    """Return a line-up's figures; `pairs` stand in line order."""
    season, fixture = situation.season, situation.fixture
    member, together = season.member_by_name, situation.together
    sums = [pair_sum(season, pair) for pair in pairs]
    people = [tuple(member[name] for name in pair) for pair in pairs]
    names = [name for pair in pairs for name in pair]
    return Figures(
        unevenness=sum((a - b) ** 2 for a, b in combinations(sums, 2)),
        sums=tuple(sums),
        wins=sum(
            win_chance(value - opposing(season, fixture, line)[1], situation.scale)
            for line, value in enumerate(sums, 1)
        ),
        together=sum(together.get(frozenset(pair), 0) for pair in pairs),
        turns=sum(situation.appearances[name] for name in names),
        same_side=sum(
            a.player.side is b.player.side and a.player.side is not Side.EITHER for a, b in people
        ),
        left_hands=sum(
            a.player.hand is Hand.LEFT and b.player.hand is Hand.LEFT for a, b in people
        ),
        liked=sum((b.name in a.likes) + (a.name in b.likes) for a, b in people),
        called=sum(fixture.answer(name) is Here.IF_NEEDED for name in names),
    )


def pair_sum(season: TeamSeason, pair: tuple[str, str]) -> float:
    """Return the two levels added, to hundredths."""
    return round(sum(season.member_by_name[name].level for name in pair), 2)


def line_pairs(
    season: TeamSeason, fixture: Fixture, pairs: Pairs, scale: float
) -> tuple[LinePair, ...]:
    """Return pairs as lines, each with its sum and the range of its chance to win."""
    lines = []
    for line, pair in enumerate(pairs, 1):
        value = pair_sum(season, pair)
        chance = chance_range(value, opposing(season, fixture, line), scale)
        ordered = sorted(pair, key=lambda name: (-season.member_by_name[name].level, name))
        lines.append(LinePair(line, (ordered[0], ordered[1]), value, chance))
    return tuple(lines)


def reserves_of(
    season: TeamSeason, fixture: Fixture, pairs: Pairs, appearances: Mapping[str, int]
) -> tuple[str, ...]:
    """Return who stands by: those free before those on call, fewest matches first."""
    playing = {name for pair in pairs for name in pair}
    free = [
        m.name
        for m in season.squad
        if m.name not in playing and fixture.answer(m.name) is not Here.NO
    ]
    return tuple(
        sorted(
            free,
            key=lambda name: (
                fixture.answer(name) is Here.IF_NEEDED,
                appearances[name],
                -season.member_by_name[name].level,
                name,
            ),
        )
    )
