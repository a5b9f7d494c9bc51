"""Where a new version of a plan is written: beside the old one, which is never lost."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from scheduler.domain.codec import plan_to_json
from scheduler.domain.errors import BadInput
from scheduler.domain.plan import Plan
from scheduler.exporters.files import write_whole
from scheduler.exporters.naming import safe_file_name
from scheduler.readers.plan_file import read_plan_file
from scheduler.workflow.sheets import write_forms


def publish_revision(  # noqa: PLR0913, PLR0917  one parameter a choice of the user
    plan: Plan,
    read_from: Path,
    folder: Path | None,
    formats: Iterable[str],
    paper: str,
    zone: str = "",
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """Write a revision of a plan and its forms; return the files and what the user should know.

    Without a folder they go beside the plan that was read, as ``NAME-rN``;
    with one they have the names of a new plan, unless that would overwrite the
    plan that was read. Another plan that stands in the way is kept under a
    name with its id.

    Raises
    ------
    BadInput
        If the plan that was read has the very name of the new one.
    OSError
        If a file cannot be written.
    """
    where = read_from.parent if folder is None else folder
    name = safe_file_name(plan.event.name)
    forms = list(dict.fromkeys(("json", *formats)))
    plan_file = where / "plan.json"
    stem = None
    if folder is None or _is_same(plan_file, read_from):
        stem = f"{name}-r{plan.revision}"
        plan_file = where / f"{stem}.json"
    if _is_same(plan_file, read_from):
        what = f"is the plan that was read, and revision {plan.revision} would overwrite it"
        raise BadInput.one(read_from.name, f"{what}; rename it, or name another folder with --out")
    remarks = _keep_other(plan_file, plan_to_json(plan))
    return write_forms(plan, where, forms, paper, zone, stem=stem), remarks


def _is_same(one: Path, other: Path) -> bool:
    return one.exists() and one.samefile(other)


def _keep_other(path: Path, text: str) -> tuple[str, ...]:
    """Copy another plan that stands in the way to a name with its id."""
    if not path.exists() or path.read_bytes() == text.encode("utf-8", "replace"):
        return ()
    try:
        identity = read_plan_file(path).stated_id
    except BadInput:
        identity = "other"
    kept = path.with_name(f"{path.stem} {safe_file_name(identity)}{path.suffix}")
    write_whole(kept, path.read_bytes())
    return (f"{path.name} held another plan, which is kept as {kept.name}.",)
