"""Writers of a plan's outputs killed (SIGKILL) over the outputs of another plan.

By hand, for the number that is promised:
``PYTHONPATH=tests python tests/workflow/killed_outputs.py 500``.
"""

from __future__ import annotations

import io
import itertools
import json
import random
import sys
import tempfile
import time
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any
from unittest import mock

import openpyxl
from drawn_events import plain_event
from killed_child import killed_child

from scheduler.domain.plan import Plan
from scheduler.exporters.part_files import SUFFIX, Part
from scheduler.exporters.plan_property import plan_id
from scheduler.rotation.effort import EFFORTS
from scheduler.workflow.check import check_plan_file
from scheduler.workflow.plan import make_plan
from scheduler.workflow.rebuild import write_sheets
from scheduler.workflow.sheets import FORMS, Wanted, write_forms

FORMS_WRITTEN = ("json", "xlsx", "html", "take-home", "csv", "ics", "ics-each")
PAPER = "a4"
WORKBOOK = "plain.xlsx"
SLOW = 0.001
"""Seconds a name takes on the slow disk that some kills pretend, or they would seldom hit one."""


@dataclass(frozen=True, slots=True)
class Made:
    """A plan and the bytes of its files, by the file's name, in the order of `FORMS_WRITTEN`."""

    plan: Plan
    files: dict[str, bytes]

    @property
    def id(self) -> str:
        """The plan's id."""
        return plan_id(self.plan)


@contextmanager
def two_plans() -> Iterator[tuple[Made, Made]]:
    """Make two plans of one evening and their files; within, making these files again is free."""
    with mock.patch.dict(EFFORTS, {"tiny": 3_000}):
        event = plain_event(9, 2, 4, date="2026-12-03")
        plans = [make_plan(event, seed=seed, effort="tiny").plan for seed in (1, 2)]
    made = [_made(plan) for plan in plans]
    known = {one.id: one.files for one in made}

    def bytes_of(form: str, plan: Plan, _wanted: Wanted) -> bytes:
        return known[plan_id(plan)][_file(form)]

    ready = {form: replace(FORMS[form], make=partial(bytes_of, form)) for form in FORMS_WRITTEN}
    with mock.patch.dict(FORMS, ready):
        yield made[0], made[1]


def _made(plan: Plan) -> Made:
    files = {_file(form): FORMS[form].make(plan, Wanted(PAPER)) for form in FORMS_WRITTEN}
    for name, data in files.items():
        check_whole(name, data)
    return Made(plan, files)


def _file(form: str) -> str:
    """Return the name of a form's file."""
    return FORMS[form].file.format(name=WORKBOOK.removesuffix(".xlsx"))


def with_typed_score(workbook: bytes) -> bytes:
    """Return a workbook with one score typed into it."""
    book = openpyxl.load_workbook(io.BytesIO(workbook))
    sheet = book["Scores"]
    head = next(row[0].row for row in sheet.iter_rows() if row[5].value == "Score A")
    sheet.cell(head + 1, 6).value = 6
    saved = io.BytesIO()
    book.save(saved)
    return saved.getvalue()


def kill_writers(folder: Path, kills: int, seed: int = 1) -> Counter[str]:
    """Write one plan over the other in a child that is killed at random, again and again.

    Whenever it is looked at, and after every kill, each file must be whole and
    of one of the two plans, those of the newer plan must be the first that
    were to be written, nothing else may be mistaken for an output, and
    ``rota sheets`` must tell what was cut short and make it whole. Every other
    kill aims at the time in which the files take their names, which is drawn
    out for it. In every third the old workbook has a typed score, which must
    be somewhere afterwards.

    Returns
    -------
    Counter
        How many kills left the set ``old``, ``new``, or ``cut short``, and
        how many left an unfinished file (``litter``).
    """
    rng = random.Random(seed)
    counts: Counter[str] = Counter()
    with two_plans() as (one, other):
        typed = with_typed_score(one.files[WORKBOOK])
        seconds = _time_of_writing(folder / "trial", one)
        for kill in range(kills):
            here = folder / str(kill)
            old = replace(one, files={**one.files, WORKBOOK: typed}) if kill % 3 == 0 else one
            put(here, old)
            order = rng.sample(FORMS_WRITTEN, len(FORMS_WRITTEN))
            names_only = kill % 2 == 1
            work = partial(_write_in_turn, here, (other, one), order, names_only)
            latest = 1.3 * len(order) * SLOW if names_only else 2 * seconds
            known = [old.files, other.files, one.files]
            done = killed_child(work, rng.uniform(0, latest), partial(watch, here, known))
            turns = (old, other, one) if done == 0 else (one, other, one)
            before, after = turns[done % 2], turns[done % 2 + 1]
            counts.update(check_after_kill(here, before, after, order))
            assert kill % 3 or typed in [path.read_bytes() for path in here.glob("*.xlsx")]
    return counts


def _time_of_writing(folder: Path, made: Made) -> float:
    began = time.perf_counter()
    for _ in range(3):
        write_forms(made.plan, folder, FORMS_WRITTEN, PAPER)
    return (time.perf_counter() - began) / 3


def _write_in_turn(
    folder: Path,
    plans: Sequence[Made],
    order: Sequence[str],
    names_only: bool,
    done: Callable[[], None],
) -> None:
    """Write the plans in turn; the clock starts at once, or when the first file takes its name."""
    if names_only:
        call_before(Part, "take_name", 1, done)
        call_before(Part, "take_name", None, lambda: time.sleep(SLOW))
    else:
        done()
    while True:
        for made in plans:
            write_forms(made.plan, folder, order, PAPER)
            done()


def call_before(owner: object, name: str, number: int | None, call: Callable[[], None]) -> None:
    """Call something before a function is called for the so-manieth time, or each; for good."""
    usual = getattr(owner, name)
    calls = itertools.count(1)

    def counted(*args: Any, **options: Any) -> Any:
        if number is None or next(calls) == number:
            call()
        return usual(*args, **options)

    setattr(owner, name, counted)


def watch(folder: Path, known: Sequence[dict[str, bytes]]) -> None:
    """Check that every file is there, whole and of one of the plans, at this very moment."""
    for name in known[0]:
        data = (folder / name).read_bytes()
        assert any(data == files[name] for files in known), f"{name} was seen half written"


def put(folder: Path, made: Made) -> None:
    """Put a plan's files into a new folder."""
    folder.mkdir()
    for name, data in made.files.items():
        (folder / name).write_bytes(data)


def check_after_kill(folder: Path, old: Made, new: Made, order: Sequence[str]) -> list[str]:
    """Check what a killed writer of the new plan left of the old one's files, and the rebuilding.

    Returns
    -------
    list of str
        ``old``, ``new`` or ``cut short``, and ``litter`` if any was there.
    """
    litter = [path for path in folder.iterdir() if path.name not in old.files]
    litter = [path for path in litter if "(typed scores 1)" not in path.name]
    assert all(p.name.startswith(".") and p.name.endswith(SUFFIX) for p in litter), litter
    names = [_file(form) for form in order]
    is_new = [_is_new(folder / name, old, new) for name in names]
    count = sum(is_new)
    assert is_new == [True] * count + [False] * (len(names) - count), "not in the order asked for"
    _check_rebuilding(folder, (old, new), dict(zip(names, is_new, strict=True)))
    how = "old" if count == 0 else "new" if count == len(names) else "cut short"
    return [how, *(["litter"] if litter else [])]


def _is_new(path: Path, old: Made, new: Made) -> bool:
    """Return whether a file is the new plan's, which is the old one's if not, to the byte."""
    data = path.read_bytes()
    assert data in {old.files[path.name], new.files[path.name]}, path
    return data == new.files[path.name]


def check_whole(name: str, data: bytes) -> None:
    """Check that a file opens as what its name says."""
    ending = name.rpartition(".")[2]
    if ending == "xlsx":
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            assert archive.testzip() is None
        assert openpyxl.load_workbook(io.BytesIO(data), read_only=True).sheetnames
        return
    text = data.decode("utf-8-sig")
    if ending == "json":
        assert json.loads(text)["id"]
    elif ending == "html":
        assert text.rstrip().endswith("</html>")
    elif ending == "ics":
        assert text.endswith("END:VCALENDAR\r\n")
    else:
        assert ending == "csv"
        assert text.endswith("\r\n")


def _check_rebuilding(folder: Path, plans: tuple[Made, Made], is_new: dict[str, bool]) -> None:
    """Check that files of another plan than ``plan.json``'s are told and written again."""
    counts, other = plans[is_new["plan.json"]], plans[not is_new["plan.json"]]
    strays = {name for name, new in is_new.items() if new != is_new["plan.json"]}
    plan_file = folder / "plan.json"
    told = check_plan_file(plan_file).remarks
    again = write_sheets(plan_file, folder, None, PAPER).remarks
    for remarks in (told, again):
        assert [_named(remark) for remark in remarks] == ([strays] if strays else [])
        assert all(f"({other.id})" in remark and "\n" not in remark for remark in remarks)
    for form in (
        "json",
        "xlsx",
        "html",
        *(form for form in FORMS_WRITTEN if _file(form) in strays),
    ):
        data = (folder / _file(form)).read_bytes()
        assert data == FORMS[form].make(counts.plan, Wanted(PAPER)), form
    assert check_plan_file(plan_file).remarks == ()
    assert not list(folder.glob(f".*{SUFFIX}"))


def _named(remark: str) -> set[str]:
    """Return the files a remark says are another plan's."""
    return set(remark.partition(" belong")[0].split(", "))


def main() -> None:
    """Do it as often as asked and say what came of it."""
    kills = int((*sys.argv[1:], "500")[0])
    with tempfile.TemporaryDirectory() as folder:
        began = time.monotonic()
        counts = kill_writers(Path(folder), kills)
        sys.stdout.write(
            f"{kills} kills: every file whole; {counts['cut short']} sets cut short, all told "
            f"and written again; {counts['old']} still old, {counts['new']} all new; "
            f"{counts['litter']} left an unfinished file, all swept away "
            f"({time.monotonic() - began:.0f} s)\n"
        )


if __name__ == "__main__":
    main()
