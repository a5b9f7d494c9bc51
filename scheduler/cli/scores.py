"""``rota scores``: what was typed on the night goes into the season."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from scheduler.cli.console import JsonOption, QuietOption, answering, print_json, say

if TYPE_CHECKING:
    from scheduler.workflow.scores import Taken

SeasonOption = Annotated[
    Path,
    typer.Option("--season", metavar="SEASON.db", help="The season file; made if there is none."),
]
_SHOWN = 12  # matches listed by name before the rest is only counted


@answering
def scores(  # noqa: PLR0913, PLR0917  one parameter an option
    file: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="The evening's workbook with its scores typed in, the same as .csv, the lines a "
            "phone copied out as .txt (or - to paste them), or plan.json for an evening without "
            "scores.",
        ),
    ],
    season: SeasonOption,
    plan: Annotated[
        Path | None,
        typer.Option(
            "--plan",
            metavar="PLAN.json",
            help="The evening's plan, where it does not lie beside FILE under its id.",
        ),
    ] = None,
    partial: Annotated[
        bool, typer.Option("--partial", help="Take what is sound, list the rest.")
    ] = False,
    tie_breaks: Annotated[
        bool,
        typer.Option("--tie-breaks", help="Ask for the tie-break's points, as in 7-6(5)."),
    ] = False,
    new: Annotated[
        list[str] | None,
        typer.Option(
            "--new", metavar="NAME", help="A new person with a name like a known one; repeats."
        ),
    ] = None,
    same: Annotated[
        list[str] | None,
        typer.Option(
            "--same",
            metavar="NAME=KNOWN",
            help="NAME of this evening is KNOWN of the season, spelt otherwise; repeats.",
        ),
    ] = None,
    withdraw: Annotated[
        list[str] | None,
        typer.Option(
            "--withdraw",
            metavar="MATCH",
            help="Take back the recorded score of a match, such as R4C2; repeats.",
        ),
    ] = None,
    replace_plan: Annotated[
        bool,
        typer.Option(
            "--replace-plan",
            help="This evening is in the season with another plan; this one was played.",
        ),
    ] = False,
    as_json: JsonOption = False,
    quiet: QuietOption = False,
) -> None:
    """Take the typed scores of an evening into the season.

    Example: rota scores "Thursday.xlsx" --season club.db

    Records the evening itself as well (who was there, who met whom), so that
    rota plan --season can count it. Every score is held to the evening's set
    format: 6-5 is not a finished set; one that was cut short carries its mark.
    Nothing is written unless all of it is good, or --partial is given. Taking
    the same file twice adds nothing; a changed score is a correction that
    keeps the old one; a blank one leaves what is recorded.

    The plan is looked for by the id the scores carry: in the season, then
    among the .json files beside FILE. Scores that do not say their plan (a
    .csv file) belong to the plan.json beside them, or to --plan.
    """
    from scheduler.season.recording import Options  # noqa: PLC0415  loads slowly
    from scheduler.workflow.scores import take_scores  # noqa: PLC0415

    pasted = str(file) == "-"
    taken = take_scores(
        Path("pasted text") if pasted else file,
        season,
        plan_file=plan,
        text=sys.stdin.read() if pasted else None,
        options=Options(tuple(new or ()), _pairs(same or []), tuple(withdraw or ()), replace_plan),
        partial=partial,
        ask_tie_breaks=tie_breaks,
    )
    for fault in taken.faults:
        say(f"Left out: {fault}", error=True)
    for remark in (*taken.remarks, *taken.recorded.remarks):
        say(f"Please note: {remark}", error=True)
    if as_json:
        print_json(_document(taken))
    elif not quiet:
        say("\n".join(_lines(taken, season)))


def _pairs(texts: list[str]) -> dict[str, str]:
    pairs = {}
    for text in texts:
        name, equals, known = text.partition("=")
        if not equals or not name.strip() or not known.strip():
            raise typer.BadParameter(
                f'must look like "Jon Smyth=John Smith", got "{text}"', param_hint="--same"
            )
        pairs[name.strip()] = known.strip()
    return pairs


def _lines(taken: Taken, season: Path) -> list[str]:
    done = taken.recorded
    lines = [f"{done.evening}{' (new to the season)' if done.new_evening else ''}"]
    if done.new_people and not _is_first(taken):
        lines.append(f"  new people    {', '.join(done.new_people)}")
    lines.append(f"  added         {len(done.added)}")
    lines += [
        f"  corrected     {c.match}: was {c.was}, now {c.now or 'open again'}"
        for c in done.corrected
    ]
    lines.append(f"  unchanged     {done.unchanged}")
    if done.open:
        more = f" and {len(done.open) - _SHOWN} more" if len(done.open) > _SHOWN else ""
        shown = ", ".join(done.open[:_SHOWN])
        lines.append(f"  still open    {len(done.open)}: {shown}{more}")
    changed = done.new_evening or done.added or done.corrected
    lines.append(f"Wrote {season}" if changed else f"{season} had all of it already.")
    return lines


def _is_first(taken: Taken) -> bool:
    """Return whether everybody is new, which nobody needs to be told of."""
    done = taken.recorded
    return done.new_evening and len(done.new_people) == done.people


def _document(taken: Taken) -> dict[str, Any]:
    done = taken.recorded
    return {
        "evening": done.evening,
        "new_evening": done.new_evening,
        "added": list(done.added),
        "corrected": [{"match": c.match, "was": c.was, "now": c.now} for c in done.corrected],
        "unchanged": done.unchanged,
        "open": list(done.open),
        "new_people": list(done.new_people),
        "faults": [{"where": fault.where, "what": fault.what} for fault in taken.faults],
        "remarks": [*taken.remarks, *done.remarks],
    }
