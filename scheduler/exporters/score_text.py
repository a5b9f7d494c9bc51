"""The writing side of score lines: the pieces a page puts around the scores of each match.

How a line looks is defined once, in `scheduler.domain.score_text`. The page
writes ``before + key + scores + comment + words + ": " + teams``.
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.score_text import COMMENT, OPENING
from scheduler.exporters.view import Place, View


@dataclass(frozen=True, slots=True)
class LinePieces:
    """What opens every line of a plan, and what parts the scores from words for people."""

    before: str
    comment: str


def line_pieces(view: View) -> LinePieces:
    """Return the pieces common to all score lines of a plan."""
    return LinePieces(before=f"{OPENING} {view.plan_id} ", comment=f" {COMMENT} ")


def match_words(place: Place) -> str:
    """Return where and when a match is, as people say it: ``"Court 2, round 4"``."""
    return f"{place.court}, round {place.round.number}"
