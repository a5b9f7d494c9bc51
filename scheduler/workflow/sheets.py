"""Writing a plan out, in every form asked for, all of them or none.

A form is one `Form` in `FORMS`: its name for ``--formats``, the file it
becomes and the function that makes its bytes. Everything is made before
anything is written, so a fault in one form leaves no half set behind.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import available_timezones

from scheduler.domain.codec import plan_to_json
from scheduler.domain.errors import BadInput
from scheduler.domain.plan import Plan
from scheduler.domain.suggest import hint
from scheduler.exporters.files import write_together
from scheduler.exporters.naming import safe_file_name


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the user chose: the paper to print on, and a calendar's time zone or none."""

    paper: str
    zone: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """One form a plan can be written in.

    `file` is the file's name, with ``{name}`` for the event's name made safe;
    `make` returns the file's bytes for a plan as the user wants it.
    """

    file: str
    what: str
    make: Callable[[Plan, Wanted], bytes]


# Each form's own imports are slow ones, and stay out of the way of the other forms.
# ruff: noqa: PLC0415


def _json(plan: Plan, _wanted: Wanted) -> bytes:
    return plan_to_json(plan).encode("utf-8", "replace")


def _workbook(plan: Plan, wanted: Wanted) -> bytes:
    from scheduler.exporters.workbook import workbook_of

    return workbook_of(plan, wanted.paper)


def _page(plan: Plan, wanted: Wanted) -> bytes:
    from scheduler.exporters.page import page_of

    return page_of(plan, wanted.paper)


def _take_home(plan: Plan, wanted: Wanted) -> bytes:
    from scheduler.exporters.page import take_home_of

    return take_home_of(plan, wanted.paper)


def _seats(plan: Plan, _wanted: Wanted) -> bytes:
    from scheduler.exporters.seats_csv import seats_csv_of

    return seats_csv_of(plan)


def _calendar(plan: Plan, wanted: Wanted) -> bytes:
    from scheduler.exporters.calendar import calendar_of

    return calendar_of(plan, wanted.zone)


def _calendar_of_each(plan: Plan, wanted: Wanted) -> bytes:
    from scheduler.exporters.calendar import calendar_of

    return calendar_of(plan, wanted.zone, each_player=True)


def _who_met_whom(plan: Plan, _wanted: Wanted) -> bytes:
    from scheduler.exporters.pictures import meetings_png

    return meetings_png(plan)


def _court_time(plan: Plan, _wanted: Wanted) -> bytes:
    from scheduler.exporters.pictures import court_time_png

    return court_time_png(plan)


FORMS: dict[str, Form] = {
    "json": Form("plan.json", "the plan itself", _json),
    "xlsx": Form("{name}.xlsx", "the workbook to pin up", _workbook),
    "html": Form("{name}.html", "the page for phones, with a score keeper", _page),
    "take-home": Form("{name} take-home.html", "half a page for each to take home", _take_home),
    "csv": Form("{name}.csv", "one row a seat", _seats),
    "ics": Form("{name}.ics", "the evening for a calendar", _calendar),
    "ics-each": Form("{name} each.ics", "a calendar entry for each player", _calendar_of_each),
    "met-png": Form("{name} who met whom.png", "a picture of who met whom", _who_met_whom),
    "time-png": Form("{name} time on court.png", "a picture of time on court", _court_time),
}
DEFAULT_FORMATS = ("xlsx", "html")


def known_formats(names: Iterable[str]) -> tuple[str, ...]:
    """Return the forms asked for, each once.

    Raises
    ------
    ValueError
        If one is not known or none is given; the message names the known ones.
    """
    asked = tuple(dict.fromkeys(name.strip().casefold() for name in names if name.strip()))
    listed = ", ".join(FORMS)
    for name in asked:
        if name not in FORMS:
            raise ValueError(f"no format called '{name}'{hint(name, FORMS)} (known: {listed})")
    if not asked:
        raise ValueError(f"name at least one format (known: {listed})")
    return asked


def known_zone(name: str) -> str:
    """Return the name of a time zone as the IANA database has it, "" for none.

    Raises
    ------
    ValueError
        If there is no such zone; the message hints at a near one.
    """
    zones = {zone.casefold(): zone for zone in sorted(available_timezones())}
    found = zones.get(name.strip().casefold(), "")
    if name.strip() and not found:
        near = hint(name, zones.values()) or " (they look like Europe/Oslo)"
        raise ValueError(f"no time zone called '{name}'{near}")
    return found


def file_of(plan: Plan, form: str, stem: str | None = None) -> str:
    """Return the name of a form's file; `stem` as for `write_forms`."""
    file = FORMS[form].file
    if stem is None:
        return file.format(name=safe_file_name(plan.event.name))
    return file.replace("plan", "{name}").format(name=stem)


def revision_stem(plan: Plan) -> str:
    """Return what the names of a revision's files begin with beside the plan before it."""
    return f"{safe_file_name(plan.event.name)}-r{plan.revision}"


def write_forms(  # noqa: PLR0913  one parameter a choice of the user
    plan: Plan,
    folder: Path,
    formats: Iterable[str],
    paper: str,
    zone: str = "",
    *,
    stem: str | None = None,
) -> tuple[Path, ...]:
    """Write a plan into a folder in the forms given; all are made before one is written.

    With a `stem` every file's name begins with it, that of the plan included;
    without, the plan is ``plan.json`` and the rest is named after the event.

    Raises
    ------
    BadInput
        If the plan lacks what a form needs, such as the date for a calendar,
        or the folder is a file.
    OSError
        If the folder cannot be made or written to.
    """
    wanted = Wanted(paper, zone)
    made = [
        (folder / file_of(plan, known, stem), FORMS[known].make(plan, wanted)) for known in formats
    ]
    if folder.exists() and not folder.is_dir():
        raise BadInput.one(str(folder), "is a file; name a folder to write into")
    folder.mkdir(parents=True, exist_ok=True)
    kept = [copy for path, _ in made if (copy := _typed_scores(path)) is not None]
    write_together([*kept, *made])
    return tuple(path for path, _ in [*made, *kept])


def _typed_scores(path: Path) -> tuple[Path, bytes] | None:
    """Return a copy, under a name of its own, of a workbook somebody typed scores into.

    A typed score is never lost to a new version of the sheets.
    """
    from scheduler.exporters.workbook.typed import has_typed_scores

    if path.suffix != ".xlsx" or not path.is_file() or not has_typed_scores(path):
        return None
    data = path.read_bytes()
    for number in itertools.count(1):
        copy = path.with_name(f"{path.stem} (typed scores {number}){path.suffix}")
        if not copy.exists() or copy.read_bytes() == data:
            return copy, data
    return None
