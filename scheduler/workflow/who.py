"""Whom and what people mean: names as typed, or a number in the list, with did-you-mean."""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.domain.suggest import fold, hint

_FEW = 12  # names that are still read when listed


def find(text: str, names: Sequence[str], what: str) -> str:
    """Return the name that is meant.

    A name counts as it stands; then with accents and capitals aside, if that
    fits just one; then a number is a place in the list, counted from 1.

    Parameters
    ----------
    text
        What was typed.
    names
        The names there are, in their order.
    what
        ``"player"`` or ``"court"``, for the message.

    Raises
    ------
    ValueError
        If nothing fits; the message hints at a near name.
    """
    word = " ".join(text.split())
    if text in names:
        return text
    alike = [name for name in names if fold(name) == fold(word)]
    if len(alike) == 1:
        return alike[0]
    if word.isascii() and word.isdecimal() and 1 <= int(word) <= len(names):
        return names[int(word) - 1]
    if alike:
        raise ValueError(f"'{word}' can be {' or '.join(alike)}; give the number in the list")
    raise ValueError(f"no {what} called '{word}'{_hint(word, names)}")


def _hint(word: str, names: Sequence[str]) -> str:
    """Return the names that hold the word, or else the one most like it, as a question."""
    holding = [name for name in names if fold(word) in fold(name).split()]
    if holding:
        return f"; did you mean {' or '.join(repr(name) for name in holding)}?"
    few = f" (there {'is' if len(names) == 1 else 'are'} {', '.join(names)})"
    return hint(word, names) or (few if len(names) <= _FEW else "")


def find_two(text: str, names: Sequence[str]) -> tuple[str, str]:
    """Return the two players meant by two names with a comma between.

    Names may hold commas themselves as long as only one way to part the text
    gives two players.

    Raises
    ------
    ValueError
        If no way or several ways do.
    """
    parts = text.split(",")
    ways = [(",".join(parts[:at]), ",".join(parts[at:])) for at in range(1, len(parts))]
    if not ways:
        raise ValueError(f"must be two names with a comma between, got '{text}'")
    found: dict[tuple[str, str], None] = {}
    trouble = ""
    for one, other in ways:
        try:
            found[find(one.strip(), names, "player"), find(other.strip(), names, "player")] = None
        except ValueError as error:
            trouble = trouble or str(error)
    if not found:
        raise ValueError(trouble)
    if len(found) > 1:
        raise ValueError(f"'{text}' can be read in two ways; give the numbers in the players list")
    return next(iter(found))
