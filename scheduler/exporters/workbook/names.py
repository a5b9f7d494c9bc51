"""Names a spreadsheet accepts for its sheets."""

from __future__ import annotations

import re
from collections.abc import Iterable

_FORBIDDEN = re.compile(r"[\[\]:*?/\\\x00-\x1f]")
_LONGEST = 31  # UTF-16 units, as spreadsheets count
_RESERVED = frozenset({"history"})


def sheet_names(wanted: Iterable[str], taken: Iterable[str]) -> list[str]:
    """Return a safe sheet name for each text wanted, all different.

    Forbidden characters become blanks, length is cut to 31, and a name that is
    taken (case aside) gets a number.
    """
    used = {name.casefold() for name in taken} | _RESERVED
    names = []
    for text in wanted:
        name = _free(_safe(text), used)
        used.add(name.casefold())
        names.append(name)
    return names


def _safe(text: str) -> str:
    plain = " ".join(_FORBIDDEN.sub(" ", text).split()).strip("' ")
    return _cut(plain, _LONGEST) or "Court"


def _free(name: str, used: set[str]) -> str:
    candidate, number = name, 1
    while candidate.casefold() in used:
        number += 1
        ending = f" {number}"
        candidate = _cut(name, _LONGEST - len(ending)) + ending
    return candidate


def _cut(text: str, units: int) -> str:
    while len(text.encode("utf-16-le", "surrogatepass")) // 2 > units:
        text = text[:-1]
    return text.strip("' ")
