"""An evening of nothing but doubles, for trying things out: no list, no wishes, all there."""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.domain.event import Court, Emphasis, Event, Kind, Player, Round

ONE_LEVEL = 5.0
_START = 18 * 60


def doubles_evening(
    players: int | Sequence[float],
    courts: int,
    rounds: int,
    *,
    minutes: int = 20,
    emphasis: str = "blend",
) -> Event:
    """Return an evening of doubles rounds in which everybody is there for all of them.

    Parameters
    ----------
    players
        How many people, all of one level, or the level of each (1 to 10).
    courts, rounds
        How many there are.
    minutes
        The length of a round.
    emphasis
        ``"blend"``, ``"variety"``, ``"balance"`` or ``"meet everyone"``.

    Raises
    ------
    ValueError
        If there are fewer than four people, no court or no round, or the
        emphasis is not known.

    Examples
    --------
    >>> event = doubles_evening(16, courts=4, rounds=6, emphasis="variety")
    >>> len(event.players), len(event.courts), len(event.rounds)
    (16, 4, 6)
    """
    levels = [ONE_LEVEL] * players if isinstance(players, int) else list(players)
    if len(levels) < 4 or courts < 1 or rounds < 1:
        raise ValueError("an evening of doubles needs four players, a court and a round at least")
    digits = len(str(len(levels)))
    return Event(
        name=f"{len(levels)} players, {courts} courts, {rounds} rounds",
        start=_START,
        players=tuple(
            Player(f"Player {number:0{digits}d}", level)
            for number, level in enumerate(levels, start=1)
        ),
        courts=tuple(Court(f"Court {number}") for number in range(1, courts + 1)),
        rounds=tuple(
            Round(Kind.DOUBLES, _START + number * minutes, minutes) for number in range(rounds)
        ),
        emphasis=Emphasis(emphasis),
    )
