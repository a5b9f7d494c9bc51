"""Files of another plan where those of this one belong: what is left of a set cut short.

Each file of a set is whole whatever happens, but a writer that is killed
between two of them leaves some of the new plan and some of the old. Every
file says which plan it was made from, and that is how they are told apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.domain.plan import Plan
from scheduler.exporters.plan_property import plan_id
from scheduler.exporters.text import join
from scheduler.readers.stated_plan import stated_plan_id
from scheduler.workflow.cards import CARD_FORMS, card_file
from scheduler.workflow.sheets import FORMS, file_of, revision_stem

CARDS = "cards"


@dataclass(frozen=True, slots=True)
class Stray:
    """A file made from another plan; `form` is its name for ``--formats``, or ``cards``."""

    path: Path
    form: str
    plan_id: str


def stem_of(plan: Plan, plan_file: Path, folder: Path) -> str | None:
    """Return what the names of a plan's files begin with in a folder, None for the usual names.

    A revision written beside the plan before it has the names of the revision
    there, so that both sets stand side by side.
    """
    stem = revision_stem(plan)
    return stem if _is_beside(plan_file, folder) and plan_file.stem == stem else None


def _is_beside(plan_file: Path, folder: Path) -> bool:
    return folder.exists() and folder.samefile(plan_file.parent)


def strays(plan: Plan, plan_file: Path, folder: Path) -> tuple[Stray, ...]:
    """Return the files in a folder that have the names of this plan's, but are another's.

    Parameters
    ----------
    plan, plan_file
        The plan, and where it was read.
    folder
        Where its files are looked for. ``plan.json`` is among them only
        where this plan is not read from the same folder, for there many plans
        may stand side by side.
    """
    stem = stem_of(plan, plan_file, folder)
    beside = {"json"} if _is_beside(plan_file, folder) else set[str]()
    names = [(form, file_of(plan, form, stem)) for form in FORMS if form not in beside]
    names += [(CARDS, card_file(plan, form)) for form in CARD_FORMS]
    own = plan_id(plan)
    found = (Stray(folder / name, form, stated_plan_id(folder / name)) for form, name in names)
    return tuple(stray for stray in found if stray.plan_id not in {"", own})


def written_again(found: Sequence[Stray]) -> str:
    """Say in one line which files of another plan were replaced."""
    verb = "was" if len(found) == 1 else "were"
    return f"{_belonging(found, was=True)} and {verb} written again."


def still_there(found: Sequence[Stray], plan_file: Path) -> str:
    """Say in one line which files of another plan stand there, and what writes them again."""
    forms = [stray.form for stray in found if stray.form not in {CARDS, "json"}]
    ways = [f"rota sheets {plan_file.name} --formats {','.join(forms)}"] if forms else []
    ways += [f"rota cards {plan_file.name}"] if any(s.form == CARDS for s in found) else []
    them, verb = ("it", "writes") if len(found) == 1 else ("them", "write")
    verb = "writes" if len(ways) == 1 else verb
    what = f"; {' and '.join(ways)} {verb} {them} for this one" if ways else ""
    return f"{_belonging(found, was=False)}{what}."


def _belonging(found: Sequence[Stray], *, was: bool) -> str:
    names = join(stray.path.name for stray in found)
    ids = ", ".join(dict.fromkeys(stray.plan_id for stray in found))
    verb = "belonged" if was else "belongs" if len(found) == 1 else "belong"
    return f"{names} {verb} to another plan ({ids})"
