"""The captain's price list: what a pair on a line costs, in whole units.

One unit is a ten-thousandth of a point, and one point is one squared level of
unevenness; all arithmetic is on whole numbers, so a proof is a proof. The
exchange between points is our own choice (no source) and stated here only:

========================================  ======
one squared level between two pair sums      1
one expected line win                      -10
one appearance more than another             5
one earlier match of the partners           -2   (three count; +2 each under `vary`)
two of the same side                        0.5
two left-handers                            0.2
a liked partner                            -0.5  (each way)
========================================  ======

The aim counts twenty times, and so does what is soft (sides, hands, wishes);
the other aims count once, except evenness, which only counts as the aim.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from scheduler.domain.event import Hand, Here, Side
from scheduler.domain.fixture import Aim, Fixture, Partnering, SquadMember, TeamSeason
from scheduler.lineup.chance import curve_of, opposing, win_chance

UNITS = 10_000
LEVEL_UNITS = 100
"""Levels are counted in hundredths, so that their squares are units."""

MOST_TOGETHER = 3


@dataclass(frozen=True, slots=True)
class Prices:
    """The price list; amounts in units, weights in whole times."""

    main: int = 20
    other: int = 1
    soft: int = 20
    line_win: int = 10 * UNITS
    appearance: int = 5 * UNITS
    together: int = 2 * UNITS
    same_side: int = UNITS // 2
    left_hands: int = UNITS // 5
    liked: int = UNITS // 2
    fair_turns: bool = False

    def weight(self, aim: Aim, chosen: Aim) -> int:
        """Return how many times an aim counts when another (or itself) is chosen.

        With `fair_turns`, as in a season, turns count as much as the aim.
        """
        first = aim is chosen or (self.fair_turns and aim is Aim.SHARE)
        return self.main if first else self.other


@dataclass(frozen=True)
class Situation:
    """What the price of a pair depends on besides the two people.

    Everything counts what has been played and, in a season, what is planned
    for other fixtures.

    Attributes
    ----------
    appearances
        Matches of each person, those before the calendar included.
    together
        How often two people were partners.
    calendar, left_out
        For each person the calendar's fixtures played, and those not played
        in spite of a "yes".
    still_free
        For each person the later fixtures nothing is planned for yet in which
        they could play.
    scale
        The win curve's scale in levels.
    """

    season: TeamSeason
    fixture: Fixture
    appearances: Mapping[str, int]
    together: Mapping[frozenset[str], int]
    calendar: Mapping[str, int]
    left_out: Mapping[str, int]
    still_free: Mapping[str, int]
    scale: float
    prices: Prices = field(default_factory=Prices)

    @classmethod
    def of(
        cls,
        season: TeamSeason,
        fixture: Fixture,
        planned: Mapping[str, Sequence[tuple[str, str]]] | None = None,
        prices: Prices | None = None,
    ) -> Situation:
        """Return the situation of a fixture.

        Parameters
        ----------
        season, fixture
            The season and the one fixture of it that is looked at.
        planned
            Pairs planned for other fixtures, by date; none if not given.
        prices
            The price list; the usual one if not given.
        """
        elsewhere: dict[str, list[tuple[str, str]]] = {pair.date: [] for pair in season.played}
        for pair in season.played:
            elsewhere[pair.date].append(pair.players)
        elsewhere.update({date: list(pairs) for date, pairs in (planned or {}).items()})
        elsewhere.pop(fixture.date, None)
        counts = _counts(season, fixture, elsewhere)
        return cls(season, fixture, *counts, curve_of(season).scale, prices or Prices())

    @property
    def looks_ahead(self) -> bool:
        """Whether other fixtures to come are planned too."""
        return self.prices.fair_turns

    @property
    def even_weight(self) -> int:
        """How many times a squared level between pair sums counts, in units per hundredth²."""
        return self.prices.main if self.season.aim is Aim.EVEN else 0

    def aiming_at(self, aim: Aim) -> Situation:
        """Return the same situation for another aim."""
        return replace(self, season=replace(self.season, aim=aim))


def _counts(
    season: TeamSeason, fixture: Fixture, elsewhere: Mapping[str, Sequence[tuple[str, str]]]
) -> tuple[dict[str, int], dict[frozenset[str], int], Counter[str], Counter[str], Counter[str]]:
    pairs = [pair for planned in elsewhere.values() for pair in planned]
    calendar = Counter(name for pair in pairs for name in pair)
    left_out, still_free = Counter[str](), Counter[str]()
    for other in season.fixtures:
        if other.date == fixture.date:
            continue
        playing = {name for pair in elsewhere.get(other.date, ()) for name in pair}
        for member in season.squad:
            answer = other.answer(member.name)
            if other.date not in elsewhere:
                still_free[member.name] += answer is not Here.NO
            elif member.name not in playing:
                left_out[member.name] += answer is Here.YES
    appearances = {m.name: m.matches + calendar[m.name] for m in season.squad}
    return appearances, dict(Counter(map(frozenset, pairs))), calendar, left_out, still_free


def hundredths(level: float) -> int:
    """Return a level in hundredths."""
    return round(level * LEVEL_UNITS)


def pair_price(situation: Situation, first: SquadMember, second: SquadMember) -> int:
    """Return what two partners cost on any line, in units: turns, togetherness and what is soft."""
    prices = situation.prices
    aim = situation.season.aim
    turns = situation.appearances[first.name] + situation.appearances[second.name]
    return (
        prices.weight(Aim.SHARE, aim) * prices.appearance * turns
        + _together_price(situation, first, second)
        + prices.soft * soft_price(prices, first, second)
    )


def soft_price(prices: Prices, first: SquadMember, second: SquadMember) -> int:
    """Return what sides, hands and wishes of two partners cost, in units."""
    price = 0
    if first.player.side is second.player.side and first.player.side is not Side.EITHER:
        price += prices.same_side
    if first.player.hand is Hand.LEFT and second.player.hand is Hand.LEFT:
        price += prices.left_hands
    return price - prices.liked * ((second.name in first.likes) + (first.name in second.likes))


def line_price(situation: Situation, pair_sum: int, line: int) -> int:
    """Return what a pair's chance on a line is worth, in units, never above 0.

    The opposing pair is taken at its strongest: where it is not known, the
    worst case of the stated spread.

    Parameters
    ----------
    pair_sum
        The two levels added, in hundredths.
    line
        The line's number, from 1.
    """
    prices = situation.prices
    theirs = opposing(situation.season, situation.fixture, line)[1]
    chance = win_chance(pair_sum / LEVEL_UNITS - theirs, situation.scale)
    weight = prices.weight(Aim.STRONG, situation.season.aim)
    return -weight * round(chance * prices.line_win)


def _together_price(situation: Situation, first: SquadMember, second: SquadMember) -> int:
    prices = situation.prices
    season = situation.season
    earlier = situation.together.get(frozenset((first.name, second.name)), 0)
    if season.aim is Aim.SETTLED:
        return -prices.main * prices.together * min(earlier, MOST_TOGETHER)
    if season.partnering is Partnering.VARY:
        return prices.other * prices.together * earlier
    if season.partnering is Partnering.KEEP:
        return -prices.other * prices.together * min(earlier, MOST_TOGETHER)
    return 0
