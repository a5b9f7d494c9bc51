"""What changed since the last version, to read out: a line a person, those who move first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from operator import attrgetter

from scheduler.workflow.moves import RESTS, Moved, Step, Why

_HEADS = {
    Why.GONE: "Not here:",
    Why.COMES: "New on court:",
    Why.MOVES: "Another place:",
    Why.SEATED: "Seated now:",
    Why.COMPANY: "Same place, other partner or opponents:",
}
_LEADING = (Why.GONE, Why.COMES, Why.SEATED, Why.MOVES, Why.COMPANY)
"""A person is told of once, under the first of these that holds for them."""


def read_out(moved: Moved, *, numbers: bool = True) -> Iterator[str]:
    """Yield the lines to read out, grouped by what people have to do about it.

    Parameters
    ----------
    moved
        What has changed.
    numbers
        Whether to begin with how many people move.
    """
    people: dict[Why, list[str]] = {why: [] for why in _LEADING}
    for name, steps in groupby(moved.steps, key=attrgetter("player")):
        mine = list(steps)
        why = min((step.why for step in mine), key=_LEADING.index)
        people[why].append(f"  {name}: {'; '.join(_told(mine))}")
    numbers = numbers and any(step.why is not Why.SEATED for step in moved.steps)
    if numbers:
        yield f"{moved.sentence[0].upper()}{moved.sentence[1:]}."
    for at, (why, head) in enumerate((why, head) for why, head in _HEADS.items() if people[why]):
        if at or numbers:
            yield ""
        yield head
        yield from people[why]


def _told(steps: list[Step]) -> Iterator[str]:
    """Yield one person's changes: rounds away, then places, and last where only company changes."""
    gone = [step.round for step in steps if step.why is Why.GONE]
    places = [s for s in steps if s.why not in (Why.GONE, Why.COMPANY)]
    company = [s for s in steps if s.why is Why.COMPANY]
    if gone:
        yield rounds_in_words(gone)
    for place, rounds in _by_place(places).items():
        yield f"{rounds_in_words(rounds)} {place if place == RESTS else f'on {place}'}"
    if not company:
        return
    said = rounds_in_words([step.round for step in company])
    if places or gone:
        yield f"other people in {said}"
    else:
        yield f"{said} {company[0].with_whom}" if len(company) == 1 else said


def _by_place(steps: Iterable[Step]) -> dict[str, list[int]]:
    """Return the rounds of each place, in the order in which the places come up."""
    found: dict[str, list[int]] = {}
    for step in steps:
        found.setdefault(step.place, []).append(step.round)
    return found


def rounds_in_words(rounds: list[int]) -> str:
    """Return ``"round 3"``, ``"rounds 3 and 5"`` or ``"rounds 3 to 6 and 8"``."""
    runs: list[list[int]] = []
    for number in rounds:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [part for run in runs for part in _run(run)]
    if len(parts) == 1:
        return f"round{'s' if len(rounds) > 1 else ''} {parts[0]}"
    return f"rounds {', '.join(parts[:-1])} and {parts[-1]}"


def _run(run: list[int]) -> list[str]:
    """Return a run of three or more as one part, shorter ones number by number."""
    return [str(number) for number in run] if len(run) < 3 else [f"{run[0]} to {run[-1]}"]
