"""Reading scores from lines of text, as a phone copies them out into a message."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.score_text import OPENING, ScoreLine, read_score_line

_LARGEST = 10 * 1024 * 1024  # bytes
# Messengers put a time and a name, or a quotation mark, in front of a line.
_WITHIN = re.compile(rf"(?<!\w){OPENING}\s+[0-9a-f]{{12}}\s", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class PlacedLine:
    """A score line and where it stands."""

    line: ScoreLine
    where: str


@dataclass(frozen=True, slots=True)
class ScoreText:
    """The score lines of a text, and the faults of lines that only begin like one."""

    lines: tuple[PlacedLine, ...]
    faults: tuple[Fault, ...]


def read_text_file(path: Path) -> str:
    """Return the text of a file in UTF-8.

    Raises
    ------
    BadInput
        If it cannot be read or is not text.
    """
    try:
        if path.stat().st_size > _LARGEST:
            raise BadInput.one(path.name, "is far too large to be a list of scores")
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput.one(path.name, "is not UTF-8 text") from None
    except FileNotFoundError:
        raise BadInput.one(str(path), "there is no such file") from None
    except IsADirectoryError:
        raise BadInput.one(str(path), "is a folder, not a file with scores") from None
    except OSError as error:
        raise BadInput.one(str(path), f"cannot be read: {error.strerror or error}") from None


def read_score_lines(text: str, name: str) -> ScoreText:
    """Return the score lines of a text; other lines are left aside.

    Parameters
    ----------
    text
        The text.
    name
        What to call it in messages.
    """
    lines, faults = [], []
    for number, raw in enumerate(text.splitlines(), start=1):
        where = f"{name} line {number}"
        within = _WITHIN.search(raw)
        try:
            found = read_score_line(raw[within.start() :] if within else raw)
        except ValueError as error:
            faults.append(Fault(where, str(error)))
            continue
        if found is not None:
            lines.append(PlacedLine(found, where))
    return ScoreText(tuple(lines), tuple(faults))
