"""What a round demands by the event alone: who is there, which courts, how many of them.

Worked out from the words of the format, not with the engine's own functions,
so that a slip there cannot excuse itself here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from scheduler.domain.event import Court, Event, Here, Kind, Player, Round

TWO_GROUPS = frozenset({Kind.MIXED, Kind.GROUP_AGAINST_GROUP})
_CALLS_PEOPLE = frozenset({Kind.DOUBLES, Kind.UP_AND_DOWN})


@dataclass(frozen=True, slots=True)
class Demand:
    """What one round has to work with.

    Parameters
    ----------
    sure
        Those present for all of the round who come in any case.
    spare
        Those present for all of it who come only if needed.
    called
        How many of `spare` complete a court, and so take part.
    open_courts
        The courts that may be used.
    limit
        How many of them may be used at once.
    """

    sure: tuple[str, ...]
    spare: tuple[str, ...]
    called: int
    open_courts: tuple[str, ...]
    limit: int

    @property
    def players(self) -> int:
        """How many people take part."""
        return len(self.sure) + self.called


def demand(event: Event, asked: Round) -> Demand:
    """Return what a round of the event demands."""
    start, end = asked.start, asked.start + asked.minutes
    there = [player for player in event.players if _is_there(player, start, end)]
    sure = tuple(player.name for player in there if player.here is Here.YES)
    spare = tuple(player.name for player in there if player.here is Here.IF_NEEDED)
    courts = tuple(court.name for court in event.courts if _is_usable(court, asked, start, end))
    limit = min(len(courts), asked.courts) if isinstance(asked.courts, int) else len(courts)
    called = _called(asked.kind, len(sure), len(spare), limit)
    return Demand(sure, spare, called, courts, limit)


def drill_groups(present: int, target: int, limit: int) -> int:
    """Return how many drill groups come nearest the target size; of two as near, the more."""
    if not present or not limit:
        return 0
    choices = range(1, min(limit, present) + 1)
    return min(choices, key=lambda groups: (abs(Fraction(present, groups) - target), -groups))


def two_group_matches(sizes: Iterable[int], limit: int) -> tuple[int, int]:
    """Return how many matches of the round's own kind, and of ordinary doubles beside them.

    Parameters
    ----------
    sizes
        How many of each of the two groups take part.
    limit
        How many courts may be used.
    """
    both = [*sizes, 0, 0][:2]
    own = min(limit, both[0] // 2, both[1] // 2)
    left_over = sum(both) - 4 * own
    return own, min(limit - own, left_over // 4)


def group_sizes(group_of: dict[str, str], names: Iterable[str]) -> dict[str, int]:
    """Return how many of the names are in each group."""
    return dict(Counter(group_of.get(name, "") for name in names))


def _is_there(player: Player, start: int, end: int) -> bool:
    too_late = player.arrives is not None and player.arrives > start
    too_early = player.leaves is not None and player.leaves < end
    is_away = any(since < end and until > start for since, until in player.away)
    return player.here is not Here.NO and not too_late and not too_early and not is_away


def _is_usable(court: Court, asked: Round, start: int, end: int) -> bool:
    shut_before = court.opens is not None and court.opens > start
    shut_after = court.closes is not None and court.closes < end
    named = not isinstance(asked.courts, tuple) or court.name in asked.courts
    return named and not shut_before and not shut_after


def _called(kind: Kind, sure: int, spare: int, limit: int) -> int:
    missing = (4 - sure % 4) % 4
    completes_a_court = 0 < missing <= spare and sure // 4 < limit
    return missing if kind in _CALLS_PEOPLE and completes_a_court else 0
