"""How long courts really took, and the club's own pace learned from that."""

from __future__ import annotations

from pathlib import Path

from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.season.recordings import begin_recording
from scheduler.season.store import reading, writing
from scheduler.timing import LearnedFactor, RecordedMatch, learn_factor


def record_length(path: Path, match: RecordedMatch, source: str = "") -> LearnedFactor:
    """Add the real length of one court's play; return the pace learned from all of them.

    Parameters
    ----------
    path
        The season file; made where there is none.
    match
        What was played, and the minutes from walking on to the last point.
    source
        Where it was noted, in words.

    Raises
    ------
    BadInput
        If the minutes are not above 0, or the season cannot be written.
    """
    learn_factor([match])
    with writing(path, create=True) as connection:
        log = begin_recording(connection, "length", source)
        connection.execute(
            "INSERT INTO lengths (set_format, game_format, minutes, recording) VALUES (?, ?, ?, ?)",
            (str(match.set_format), str(match.game_format), match.minutes, log),
        )
    return learned_pace(path)


def learned_pace(path: Path) -> LearnedFactor:
    """Return the factor by which the club is slower than the stated pace.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    with reading(path) as connection:
        rows = connection.execute(
            "SELECT set_format, game_format, minutes FROM lengths ORDER BY id"
        ).fetchall()
    return learn_factor(
        RecordedMatch(SetFormat(row["set_format"]), GameFormat(row["game_format"]), row["minutes"])
        for row in rows
    )
