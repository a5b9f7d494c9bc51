"""``rota scores``: from a file with typed scores to the season, every fault at once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import Plan
from scheduler.domain.score_text import Mark
from scheduler.domain.typed_score import TypedScore
from scheduler.readers.score_lines import ScoreText, read_score_lines, read_text_file
from scheduler.rules.match_score import complaint
from scheduler.season.evenings import remembered_document
from scheduler.season.recording import Options, Recorded, record
from scheduler.workflow.find_plan import find_plan
from scheduler.workflow.score_rows import typed_in_rows

_WORKBOOKS = frozenset({".xlsx", ".xlsm", ".xls", ".xltx", ".xltm", ".ods", ".xlsb"})
_TABLES = frozenset({".csv", ".tsv"})


@dataclass(frozen=True, slots=True)
class Taken:
    """What was recorded, and the faults of what was not (only ever any if part was asked for)."""

    recorded: Recorded
    faults: tuple[Fault, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Typed:
    """Scores of one file beside the plan they are for, with what is wrong with some of them."""

    plan: Plan
    scores: tuple[TypedScore, ...]
    faults: tuple[Fault, ...] = ()
    remarks: tuple[str, ...] = ()


def take_scores(  # noqa: PLR0913  one parameter an option of the command
    file: Path,
    season: Path,
    *,
    plan_file: Path | None = None,
    text: str | None = None,
    options: Options | None = None,
    partial: bool = False,
    ask_tie_breaks: bool = False,
) -> Taken:
    """Take the scores of a file, and the evening they were played on, into a season.

    Parameters
    ----------
    file
        A workbook, a csv file, a text with score lines, or a plan file alone
        to record an evening that has no scores.
    season
        The season file, made if there is none.
    plan_file
        The plan, where it is not to be looked for.
    text
        What to read in the place of the file.
    options
        Who is new, who is whom, what is taken back.
    partial
        Whether to take what is sound and leave the rest.
    ask_tie_breaks
        Whether a set won by a tie-break must say the loser's points.

    Raises
    ------
    BadInput
        With every fault, each with its place; then nothing is written.
    """
    found = _read(file, season, plan_file, text)
    judged = _judged(_played_by_all(found), ask_tie_breaks=ask_tie_breaks)
    if judged.faults and not partial:
        raise BadInput(judged.faults)
    source = file.name
    recorded = record(season, judged.plan, judged.scores, source=source, options=options)
    lacking = _lacking(judged.plan)
    recorded = replace(recorded, open=tuple(key for key in recorded.open if not lacking[key]))
    return Taken(recorded, judged.faults, judged.remarks)


def _read(file: Path, season: Path, plan_file: Path | None, text: str | None) -> _Typed:
    kind = file.suffix.casefold()
    if text is None and kind == ".json":
        return _Typed(find_plan(file, "", file, None), ())
    if text is None and kind in _WORKBOOKS | _TABLES:
        return _from_table(file, season, plan_file, workbook=kind in _WORKBOOKS)
    lines = read_score_lines(read_text_file(file) if text is None else text, file.name)
    return _from_lines(file, season, plan_file, lines)


def _from_table(file: Path, season: Path, plan_file: Path | None, *, workbook: bool) -> _Typed:
    from scheduler.readers.score_sheet import (  # noqa: PLC0415  openpyxl is slow to import
        read_score_csv,
        read_score_workbook,
    )

    sheet = read_score_workbook(file) if workbook else read_score_csv(file)
    plan = find_plan(file, sheet.plan_id, plan_file, _remembered(season, sheet.plan_id))
    scores = typed_in_rows(plan, sheet.rows, sheet.findings)
    return _Typed(plan, scores, sheet.findings.faults, sheet.remarks)


def _from_lines(file: Path, season: Path, plan_file: Path | None, text: ScoreText) -> _Typed:
    if not text.lines:
        if text.faults:
            raise BadInput(text.faults)
        what = "has no line with a score; one looks like 'rota 3f2a9c1b7d4e R4C2 6-4'"
        raise BadInput.one(file.name, what)
    plan_id = text.lines[0].line.plan_id
    faults = list(text.faults)
    scores: dict[str, TypedScore] = {}
    for placed in text.lines:
        line = placed.line
        score = TypedScore(line.match, line.sets, line.mark, placed.where)
        known = scores.setdefault(line.match, score)
        if line.plan_id != plan_id:
            what = f"is for plan {line.plan_id}, but {text.lines[0].where} for plan {plan_id}"
            faults.append(Fault(placed.where, f"{what}; take them one plan at a time"))
        elif known.text != score.text:
            what = f"says {score.text} for {line.match}, but {known.where} says {known.text}"
            faults.append(Fault(placed.where, f"{what}; leave the right one"))
    # A match that two lines contradict each other about is left out, if part is taken at all.
    doubtful = {fault.where for fault in faults}
    odd = {placed.line.match for placed in text.lines if placed.where in doubtful}
    plan = find_plan(file, plan_id, plan_file, _remembered(season, plan_id))
    sure = tuple(score for key, score in scores.items() if key not in odd)
    return _Typed(plan, sure, tuple(faults))


def _remembered(season: Path, plan_id: str) -> str | None:
    return remembered_document(season, plan_id) if plan_id and season.exists() else None


def _lacking(plan: Plan) -> dict[str, list[str]]:
    """Return, for each match, who of its four never came; such a match gets no score."""
    return {
        key: [name for name in match.players if name in planned.missing]
        for key, (planned, match) in matches_by_key(plan).items()
    }


def _played_by_all(found: _Typed) -> _Typed:
    """Leave out scores of matches somebody never came to; they would count for the wrong people."""
    lacking = _lacking(found.plan)
    told = tuple(
        f"{score.match} {score.text} is left out: {' and '.join(lacking[score.match])} never came, "
        "so the score is of other people."
        for score in found.scores
        if score.sets and lacking.get(score.match)
    )
    kept = tuple(score for score in found.scores if not (score.sets and lacking.get(score.match)))
    return replace(found, scores=kept, remarks=(*found.remarks, *told))


def _judged(found: _Typed, *, ask_tie_breaks: bool) -> _Typed:
    """Hold every score to the event's set format."""
    sound, faults = [], list(found.faults)
    form = found.plan.event.set_format
    broken_off = {key for key, (_, match) in matches_by_key(found.plan).items() if match.unfinished}
    for score in found.scores:
        what = complaint(score.sets, score.mark, form, ask_tie_breaks=ask_tie_breaks)
        marked = replace(score, mark=Mark.UNFINISHED)
        if not what:
            sound.append(score)
        elif score.match in broken_off and not complaint(marked.sets, marked.mark, form):
            sound.append(marked)  # the plan says that the match was broken off
        else:
            faults.append(Fault(score.where, what))
    return replace(found, scores=tuple(sound), faults=tuple(faults))
