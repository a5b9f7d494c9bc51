"""What a template is, and when it is proven that none is better."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.rotation.templates.limits import least_repeats, partner_limit
from scheduler.rotation.templates.recount import Rounds, score

OPPONENTS, MEETINGS = "opponents", "meetings"
PROVEN, BEST_KNOWN = "proven", "best known"


@dataclass(frozen=True, slots=True)
class Template:
    """A schedule of labels.

    Parameters
    ----------
    rounds
        Matches (a1, a2, b1, b2) of each round: a1 and a2 against b1 and b2;
        labels in no match rest.
    players
        Number of labels, which are 0 to players - 1.
    status
        ``proven`` if its repeats stand at their lower bounds, else ``best known``.
    source
        Where it comes from.
    """

    rounds: Rounds
    players: int
    status: str
    source: str


def judged(rounds: Rounds, players: int, aim: str, source: str) -> Template:
    """Return rounds as a template with the status they deserve under an aim."""
    courts = max((len(played) for played in rounds), default=0)
    found = score(players, rounds)
    at_limits = is_at_limits(
        (players, courts, len(rounds)),
        aim,
        found.partner,
        found.opponent if aim == OPPONENTS else found.meeting,
    )
    return Template(rounds, players, PROVEN if at_limits else BEST_KNOWN, source)


def is_at_limits(size: tuple[int, int, int], aim: str, partner: int, second: int) -> bool:
    """Return whether partner repeats and what the aim counts next stand at their bounds.

    `size` is (players, courts, rounds), `second` counts opponents or meetings.
    """
    return partner == partner_limit(*size) and second == least_repeats(*size, aim)
