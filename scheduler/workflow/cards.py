"""From a plan file to its serving-order cards, in every form asked for, all of them or none."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from scheduler.checker import check
from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.plan import Plan
from scheduler.domain.suggest import hint
from scheduler.exporters.files import write_together
from scheduler.exporters.naming import safe_file_name
from scheduler.readers.plan_file import read_plan_file

CARD_FORMS = ("xlsx", "html")


@dataclass(frozen=True, slots=True)
class WrittenCards:
    """How many cards there are, the files they stand in, and what the user should know of."""

    cards: int
    files: tuple[Path, ...]
    remarks: tuple[str, ...]


def known_card_forms(names: Iterable[str]) -> tuple[str, ...]:
    """Return the forms asked for, each once.

    Raises
    ------
    ValueError
        If one is not known or none is given.
    """
    asked = tuple(dict.fromkeys(name.strip().casefold() for name in names if name.strip()))
    listed = ", ".join(CARD_FORMS)
    for name in asked:
        if name not in CARD_FORMS:
            raise ValueError(f"no format called '{name}'{hint(name, CARD_FORMS)} (known: {listed})")
    if not asked:
        raise ValueError(f"name at least one format (known: {listed})")
    return asked


def card_file(plan: Plan, form: str) -> str:
    """Return the name of the file that a form of a plan's cards is written to."""
    return f"{safe_file_name(plan.event.name)} cards.{form}"


def write_cards(
    plan_file: Path, folder: Path | None, forms: Iterable[str], paper: str, size: str
) -> WrittenCards:
    """Write the cards of a plan file, beside it or in another folder.

    Raises
    ------
    BadInput
        If the file holds no plan, the checker refuses it, or it has no
        doubles match; nothing is written.
    OSError
        If a file cannot be written.
    """
    read = read_plan_file(plan_file)
    faults = [*read.disagreements, *(Fault("", text) for text in check(read.plan).faults)]
    count = sum(1 for _ in read.plan.matches())
    if not faults and not count:
        faults = [Fault(str(plan_file), "has no doubles match, so there is nothing to serve")]
    if faults:
        raise BadInput(faults)
    where = plan_file.parent if folder is None else folder
    made = [
        (where / card_file(read.plan, form), _made(read.plan, form, paper, size)) for form in forms
    ]
    where.mkdir(parents=True, exist_ok=True)
    write_together(made)
    changed = f"{plan_file.name} was changed since it was written: the cards carry a new plan id."
    remarks = () if read.id_matches else (changed,)
    return WrittenCards(count, tuple(path for path, _ in made), remarks)


def _made(plan: Plan, form: str, paper: str, size: str) -> bytes:
    if form == "xlsx":
        from scheduler.exporters.cards.workbook import cards_workbook  # noqa: PLC0415  slow import

        return cards_workbook(plan, paper, size)
    from scheduler.exporters.cards.page import cards_page  # noqa: PLC0415  only where needed

    return cards_page(plan, paper, size)
