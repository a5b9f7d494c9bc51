"""Scores of one round as typed after ``--scores``, and who won by them.

A score is ``COURT=SCORE`` with the games of the team the plan names first in
front, several sets with blanks between: ``Court 1=6-4`` or ``2=6-4 3-6 10-7``.
Lines that a phone copies out are understood as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scheduler.domain.errors import Fault
from scheduler.domain.event import Event
from scheduler.domain.plan import Match, PlannedRound
from scheduler.domain.score_text import Mark, SetScore, read_score_line
from scheduler.workflow.who import find

_SET = re.compile(r"(\d{1,3})\s*[-:\u2013\u2212]\s*(\d{1,3})(?:\s*\((\d{1,3})\))?")
_MARKS = {str(mark).casefold(): mark for mark in Mark}
_KEY = re.compile(r"R(\d+)C(\d+)")


@dataclass(frozen=True, slots=True)
class Result:
    """The sets of one match as they stood, team A first, and how it ended if not by itself."""

    sets: tuple[SetScore, ...]
    mark: Mark | None = None

    def __str__(self) -> str:
        return " ".join([*map(str, self.sets), *filter(None, [self.mark])])

    @property
    def ahead(self) -> int:
        """Above 0 where team A is ahead, below where team B is, 0 where neither is."""
        if self.mark in {Mark.A_RETIRED, Mark.B_RETIRED}:
            return 1 if self.mark is Mark.B_RETIRED else -1
        sets = sum((score.a > score.b) - (score.a < score.b) for score in self.sets)
        return sets or sum(score.a - score.b for score in self.sets)


def read_results(
    texts: Iterable[str], event: Event, planned: PlannedRound
) -> tuple[dict[str, Result], list[Fault]]:
    """Return the results of a round by court, and every fault of what was typed."""
    results: dict[str, Result] = {}
    faults = []
    for text in texts:
        try:
            found = _one(text, event, planned)
        except ValueError as error:
            faults.append(Fault(f'--scores "{text}"', str(error)))
            continue
        if found is None:
            continue
        court, result = found
        if results.setdefault(court, result) != result:
            what = f"{court} has the score {results[court]} already"
            faults.append(Fault(f'--scores "{text}"', what))
    return results, faults


def _one(text: str, event: Event, planned: PlannedRound) -> tuple[str, Result] | None:
    courts = [court.name for court in event.courts]
    line = read_score_line(text)
    if line is not None:
        number, place = map(int, _KEY.fullmatch(line.match).groups())  # type: ignore[union-attr]
        if number != planned.number:
            return None
        if not 1 <= place <= len(courts):
            raise ValueError(f"there is no court number {place}")
        court, result = courts[place - 1], Result(line.sets, line.mark)
    else:
        name, equals, score = text.rpartition("=")
        if not equals:
            raise ValueError("must look like 'Court 1=6-4', or name a file of such lines")
        court, result = find(name.strip(), courts, "court"), _result(score)
    if not any(match.court == court for match in planned.matches):
        raise ValueError(f"round {planned.number} has no match on {court}")
    return court, result


def _result(text: str) -> Result:
    rest = _SET.sub(" ", text)
    sets = tuple(
        SetScore(int(a), int(b), int(lost) if lost else None) for a, b, lost in _SET.findall(text)
    )
    words = " ".join(rest.replace(",", " ").split()).casefold()
    if not sets or (words and words not in _MARKS):
        raise ValueError(f"must be a score such as 6-4, got '{text.strip()}'")
    return Result(sets, _MARKS.get(words))


def winners(
    event: Event, matches: Sequence[Match], results: dict[str, Result]
) -> dict[str, tuple[str, str]]:
    """Return the winning team of every match, by court.

    Where the score is level, the team with the lower sum of levels counts as
    the winner, having held its own against a stronger one. Where there is no
    score, the team with the higher sum does. With equal sums it is team B,
    who received first. Our own rule; there is no common one.
    """
    return {match.court: _winner(event, match, results.get(match.court)) for match in matches}


def _winner(event: Event, match: Match, result: Result | None) -> tuple[str, str]:
    level = {player.name: round(player.level * 1000) for player in event.players}
    stronger = sum(level[n] for n in match.team_a) - sum(level[n] for n in match.team_b)
    ahead = stronger if result is None else (result.ahead or -stronger)
    return match.team_a if ahead > 0 else match.team_b
