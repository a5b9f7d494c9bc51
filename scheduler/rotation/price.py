"""What everything in a plan costs while the engine searches.

The contract orders the measures; the search adds them up. Prices are set so
far apart that a measure above is not sold for those below it, except where
the emphasis says to exchange (`blend`). Whole numbers throughout: one level
of gap is `LEVEL` units under every emphasis but `balance`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from scheduler.domain.event import Emphasis
from scheduler.rotation.problem import LEVEL_UNITS

LEVEL = 1_000_000
"""Price of one level of gap in a match under most emphases."""


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices of single things, in whole units.

    `gap`, `spread` and `mix` are prices of a thousandth of a level: of the
    difference between two teams, of the range of levels on a court, and of a
    group's distance from the mean. `wide_gap` comes on top for what a gap
    exceeds `wide_from` (thousandths). The repeats are priced by the number of
    pairs of times, k(k-1)/2. `earlier_partner` and `earlier_opponent` are the
    prices of meeting again, in that role, somebody met once on an earlier
    evening; they fade as the evenings go by. `moved` is the price of a place other than the
    one printed, `parted` that of partners printed together who are not.
    """

    must: int = 40_000_000 * LEVEL
    rest_unfair: int = 10_000_000 * LEVEL
    partner: int = 400 * LEVEL
    should: int = 60 * LEVEL
    opponent: int = 2 * LEVEL
    gap: int = LEVEL // LEVEL_UNITS
    wide_gap: int = 30
    wide_from: int = 2 * LEVEL_UNITS
    spread: int = 3 * LEVEL // LEVEL_UNITS
    mix: int = LEVEL // (4 * LEVEL_UNITS)
    back_to_back: int = 30_000
    meeting: int = 2_000
    drill: int = LEVEL
    station: int = 3 * LEVEL
    together: int = 200
    court: int = 40
    spare: int = LEVEL
    earlier_partner: int = 400 * LEVEL
    earlier_opponent: int = 2 * LEVEL
    moved: int = 500_000 * LEVEL
    parted: int = 5_000 * LEVEL


def prices_of(emphasis: Emphasis, exchange: float) -> Prices:
    """Return the prices that put the measures in the order of an emphasis.

    Parameters
    ----------
    emphasis
        The event's emphasis.
    exchange
        Levels of gap that one opponent repeat is worth under ``blend``.
    """
    base = Prices()
    match emphasis:
        case Emphasis.BLEND:
            # Faded counts shrink fast while gaps do not, so at par the past would hardly
            # be heard; at the price of partners tonight it would drown the gaps. Over 30
            # evenings of 40 (exchange 2; partner and opponent repeats above the counting
            # floor against planning without history, mean gap): 400 and 4 levels give
            # 0.00, 0.20, 2.9; 8 and 4 give 0.08, 0.20, 2.0; 5 and 3.6 give 0.21, 0.23, 1.5;
            # 8 and 2 give 0.08, 0.54, 1.1.
            return replace(
                base,
                opponent=round(exchange * LEVEL),
                earlier_partner=round(2.5 * exchange * LEVEL),
                earlier_opponent=round(1.8 * exchange * LEVEL),
            )
        case Emphasis.VARIETY:
            return _as_tonight(
                base,
                partner=40_000 * LEVEL,
                should=8_000 * LEVEL,
                opponent=1_000 * LEVEL,
            )
        case Emphasis.MEET_EVERYONE:
            return _as_tonight(
                base,
                partner=200_000 * LEVEL,
                should=40_000 * LEVEL,
                meeting=5_000 * LEVEL,
                opponent=200 * LEVEL,
            )
        case Emphasis.BALANCE:
            dear = 100
            return _as_tonight(
                base,
                partner=40_000 * LEVEL,
                should=8_000 * LEVEL,
                gap=base.gap * dear,
                wide_gap=base.wide_gap * dear,
                opponent=LEVEL,
            )


def _as_tonight(base: Prices, **changed: int) -> Prices:
    """Return changed prices at which earlier evenings count like tonight, but for fading."""
    prices = replace(base, **changed)
    return replace(prices, earlier_partner=prices.partner, earlier_opponent=prices.opponent)
