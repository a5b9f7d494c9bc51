"""A must of the event made a should, on the night when it cannot be kept any more."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.event import Event, Strength
from scheduler.domain.suggest import hint


def eased(event: Event, cell: str) -> tuple[Event, str]:
    """Return the event with the must of a cell as a should, and a sentence that says so.

    Parameters
    ----------
    event
        The event as it is now.
    cell
        Where the wish was read from, as a clash names it: ``Wishes!A4``, or ``A4`` alone.

    Raises
    ------
    ValueError
        If no must stands there.
    """
    wanted = cell.strip().casefold()
    musts = [wish for wish in event.wishes if wish.strength is Strength.MUST]
    places = {wish.where: wish for wish in musts}
    found = next((at for at in places if wanted in _ways(at)), None)
    if found is None:
        known = ", ".join(places) or "none"
        raise ValueError(f"no must stands there{hint(cell.strip(), places)}; the musts: {known}")
    wishes = tuple(
        replace(wish, strength=Strength.SHOULD) if wish.where == found else wish
        for wish in event.wishes
    )
    said = f"a should from now on is the wish that {replace(places[found], where='').sentence}"
    return replace(event, wishes=wishes), said


def _ways(where: str) -> set[str]:
    """Return how a cell may be typed."""
    return {where.casefold(), where.rpartition("!")[2].casefold()}
