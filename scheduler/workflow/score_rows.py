"""Which match of the plan each row with a score belongs to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scheduler.domain.plan import Plan
from scheduler.domain.score_text import Mark, SetScore
from scheduler.domain.suggest import fold, hint
from scheduler.domain.typed_score import TypedScore
from scheduler.exporters.text import join
from scheduler.exporters.view import Place, make_view
from scheduler.readers.cells import Findings
from scheduler.readers.score_sheet import COURT, MATCH, ROUND, TEAM_A, TEAM_B, ScoreRow

_ISOLATES = dict.fromkeys(map(ord, "\u2066\u2067\u2068\u2069\u200e\u200f"))


@dataclass(frozen=True, slots=True)
class _Teams:
    """The two teams of a match as its sheet shows them."""

    a: str
    b: str


def typed_in_rows(
    plan: Plan, rows: Iterable[ScoreRow], findings: Findings
) -> tuple[TypedScore, ...]:
    """Return the scores of rows by match; faults go to `findings` and their rows are left out.

    Parameters
    ----------
    plan
        The plan the rows are about.
    rows
        The rows of a score table.
    findings
        Where to note faults.
    """
    places = {place.key: place for place in make_view(plan).matches()}
    teams = {key: _shown(place) for key, place in places.items()}
    found: dict[str, TypedScore] = {}
    for row in rows:
        key = _key(row, places, findings)
        if key is None:
            continue
        turned = _is_turned(row, key, teams, findings)
        if turned is None:
            continue
        sets, mark = _turned(row.sets, row.mark) if turned else (row.sets, row.mark)
        score = TypedScore(key, sets, mark, row.score_cell.where)
        known = found.setdefault(key, score)
        if known is not score:
            findings.fault(row.cell(MATCH, ROUND), f"{key} is already in {known.where}")
    return tuple(found.values())


def _shown(place: Place) -> _Teams:
    first, second = (
        join((seat.person.label for seat in side), " & ").translate(_ISOLATES)
        for side in place.sides
    )
    return _Teams(first, second)


def _folded(teams: _Teams) -> tuple[str, str]:
    return fold(teams.a.translate(_ISOLATES)), fold(teams.b.translate(_ISOLATES))


def _key(row: ScoreRow, places: Mapping[str, Place], findings: Findings) -> str | None:
    """Return the match of a row: by its key, or by round and court where there is no key."""
    typed = bool(row.sets or row.mark)
    if row.match in places:
        return row.match
    if row.match:
        if typed:
            what = f"the plan has no match {row.match}{hint(row.match, places)}"
            findings.fault(row.cell(MATCH), what)
        return None
    named = [
        key
        for key, place in places.items()
        if row.round == str(place.round.number) and fold(row.court) == fold(place.court)
    ]
    if len(named) == 1:
        return named[0]
    if typed:
        what = f"the plan has no match in round {row.round or '?'} on {row.court or '?'}"
        findings.fault(row.cell(MATCH, ROUND, COURT), what)
    return None


def _is_turned(
    row: ScoreRow, key: str, teams: Mapping[str, _Teams], findings: Findings
) -> bool | None:
    """Return whether the row has the teams the other way round; None after noting a fault."""
    here_a, here_b = _folded(_Teams(row.team_a, row.team_b))
    plan_a, plan_b = _folded(teams[key])
    if here_a in {"", plan_a} and here_b in {"", plan_b}:
        return False
    if (here_a, here_b) == (plan_b, plan_a):
        return True
    if not (row.sets or row.mark):
        return False
    head, text = (TEAM_B, row.team_b) if here_a in {"", plan_a} else (TEAM_A, row.team_a)
    rightly = teams[key].b if head == TEAM_B else teams[key].a
    what = f'{head.lower()} of {key} is "{text}" here, but "{rightly}" in the plan'
    findings.fault(row.cell(head, MATCH), what)
    return None


def _turned(
    sets: Iterable[SetScore], mark: Mark | None
) -> tuple[tuple[SetScore, ...], Mark | None]:
    """Return a score as the other team writes it."""
    other = {Mark.A_RETIRED: Mark.B_RETIRED, Mark.B_RETIRED: Mark.A_RETIRED}
    turned = tuple(SetScore(score.b, score.a, score.lost_with) for score in sets)
    return turned, None if mark is None else other.get(mark, mark)
