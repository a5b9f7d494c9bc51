"""What an organiser can do where the musts cannot all be kept."""

from __future__ import annotations

from collections.abc import Iterator

_PLAYS = " must play at most "
_RUNNING = " rounds running"
_WISHES = "Wishes!"


def heading_of(conflict: tuple[str, ...], *, proven: bool) -> str:
    """Return the line over a set of demands that clash.

    Parameters
    ----------
    conflict
        The demands and what they clash with, as the engine words them.
    proven
        Whether it is proved that they clash.
    """
    if not proven:
        return "No plan was found that keeps the musts (not proved impossible):"
    if any(text.startswith(_WISHES) for text in conflict):
        return "No plan can keep all of these together (and there may be more such clashes):"
    return "No plan can keep all of these together:"


def advice_on(conflict: tuple[str, ...], *, proven: bool, tonight: bool = False) -> Iterator[str]:
    """Yield sentences that say what to do where the demands alone do not tell.

    Parameters
    ----------
    conflict, proven
        As for `heading_of`.
    tonight
        Whether the evening is under way, so that its workbook is read no more.
    """
    if tonight:
        yield from _advice_tonight(conflict, proven=proven)
        return
    if not proven:
        yield "A longer search may find one (--effort thorough), or make a must a should."
        return
    limits = [text for text in conflict if _PLAYS in text]
    if limits:
        who = limits[0].partition(_PLAYS)[0].rpartition(": ")[2]
        kind = "rounds running at most" if limits[0].endswith(_RUNNING) else "plays at most"
        yield (
            f"'{kind}' counts every round on a court, drills too, and nobody rests more "
            f"than a fair share. If {who} is to play less, write the hour {who} goes home under "
            "Leaves on the Players sheet, or make the wish a should."
        )


def _advice_tonight(conflict: tuple[str, ...], *, proven: bool) -> Iterator[str]:
    """Yield what to type, since the musts are in the plan and nobody opens the workbook now."""
    cells = [text.partition(": ")[0] for text in conflict if text.startswith(_WISHES)]
    if cells:
        # Without the sheet's name: a shell gives its exclamation mark a meaning of its own.
        ways = " or ".join(f"--ease {cell.removeprefix(_WISHES)}" for cell in dict.fromkeys(cells))
        yield f"To play on without it, add {ways}: it is then kept only if it can be."
    elif not proven:
        yield "A longer search may find one: add --effort thorough."
