"""Outputs of one plan written over those of another: whole, told apart and rebuilt after a kill."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

from killed_child import forks, kill_this_process, self_killed_child
from killed_outputs import (
    FORMS_WRITTEN,
    PAPER,
    WORKBOOK,
    Made,
    call_before,
    check_after_kill,
    kill_writers,
    put,
    two_plans,
    with_typed_score,
)

from scheduler.exporters import files
from scheduler.exporters.part_files import Part
from scheduler.workflow.sheets import write_forms

KILLS = int(os.environ.get("ROTA_KILLS", "25"))
pytestmark = forks


def test_a_writer_killed_at_any_moment_leaves_whole_files_that_can_be_told_apart(
    tmp_path: Path,
) -> None:
    """At random moments, some sets cut short among them; 500 times with ``ROTA_KILLS=500``."""
    counts = kill_writers(tmp_path, KILLS)
    assert counts["cut short"] > 0
    assert counts["litter"] > 0


def _write_and_die(
    folder: Path, made: Made, at: tuple[object, str, int], done: Callable[[], None]
) -> None:
    """Write a plan's files until a function is called for the so-manieth time."""
    done()
    call_before(*at, kill_this_process)
    write_forms(made.plan, folder, FORMS_WRITTEN, PAPER)


def test_a_writer_killed_between_any_two_files_is_made_good(tmp_path: Path) -> None:
    """Before the first name is taken, between each two, and before the folder reaches the disk."""
    last = len(FORMS_WRITTEN)
    with two_plans() as (old, new):
        for number in range(last + 1):
            folder = tmp_path / str(number)
            put(folder, old)
            at = (Part, "take_name", number + 1) if number < last else (files, "_sync_folder", 1)
            assert self_killed_child(partial(_write_and_die, folder, new, at)) == 0
            count = sum(
                (folder / name).read_bytes() == data and data != old.files[name]
                for name, data in new.files.items()
            )
            assert count == number
            how, *litter = check_after_kill(folder, old, new, FORMS_WRITTEN)
            assert how == ("old" if number == 0 else "new" if number == last else "cut short")
            assert bool(litter) == (number < last)


def test_a_typed_score_outlives_a_writer_killed_between_any_two_files(tmp_path: Path) -> None:
    """Its workbook stands under the old name or already under one of its own, never nowhere."""
    with two_plans() as (one, new):
        typed = with_typed_score(one.files[WORKBOOK])
        old = replace(one, files={**one.files, WORKBOOK: typed})
        for number in range(1, len(FORMS_WRITTEN) + 2):
            folder = tmp_path / str(number)
            put(folder, old)
            work = partial(_write_and_die, folder, new, (Part, "take_name", number))
            assert self_killed_child(work) == 0
            assert typed in [path.read_bytes() for path in folder.glob("*.xlsx")]
            write_forms(new.plan, folder, FORMS_WRITTEN, PAPER)
            books = [path.read_bytes() for path in sorted(folder.glob("*.xlsx"))]
            assert books == [typed, new.files[WORKBOOK]]
