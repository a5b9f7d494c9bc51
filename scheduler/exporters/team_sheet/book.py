"""The captain's workbook: its sheets in order, and what stands at the edges of their pages."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from openpyxl import Workbook
from openpyxl.styles import Font

from scheduler.domain.fixture import FixtureAnswer, SeasonAnswer
from scheduler.domain.formats import SetFormat
from scheduler.exporters.files import workbook_bytes
from scheduler.exporters.meetings import Meetings
from scheduler.exporters.team_sheet.pages import (
    HANDOVER_WIDTHS,
    NOTES_WIDTHS,
    grid_widths,
    pairs_widths,
    write_handover,
    write_notes,
    write_pairs,
    write_season,
)
from scheduler.exporters.team_sheet.words import day
from scheduler.exporters.text import clean
from scheduler.exporters.view import CAUTIONS, View
from scheduler.exporters.workbook.paper import PAPERS
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.style import FONT, Look, named_styles

HANDOVER, NOTES, SEASON, PAIRS = "Team sheet", "Captain's notes", "Season", "All pairs"
_NARROW = 8.5  # columns narrower than this cannot hold a link


@dataclass(frozen=True)
class _TeamView(View):
    """What the edges of the pages show; there is no evening to lay out."""

    @property
    def identity(self) -> str:
        """The line-ups' id and revision in one line."""
        return f"line-up {self.plan_id}, revision {self.revision}"


def team_sheet_bytes(
    season: SeasonAnswer,
    answer: FixtureAnswer,
    *,
    identity: str,
    revision: int = 1,
    paper: str = "a4",
) -> bytes:
    """Return the workbook as the bytes of an ``.xlsx`` file.

    Parameters
    ----------
    season
        All fixtures; the season's sheets are left out where there is only one.
    answer
        The fixture the team sheet is for.
    identity, revision
        The id and revision of the line-ups' document, printed on every page.
    paper
        ``"a4"`` or ``"letter"``.
    """
    book = Workbook()
    # Column widths are counted in digits of this font, so it must be the one of the sheets.
    book._named_styles["Normal"].font = Font(name=FONT, size=11)  # type: ignore[attr-defined]  # noqa: SLF001
    for style in named_styles():
        book.add_named_style(style)
    first = book.active
    assert first is not None
    book.remove(first)
    book.properties.creator = "doubles-rota"
    book.properties.title = clean(season.season.name)[:200]
    pages = _Pages(book, _view(season, answer, identity, revision), paper, len(season.fixtures) > 1)
    write_handover(pages.sheet(HANDOVER, HANDOVER_WIDTHS), season, answer)
    write_notes(pages.sheet(NOTES, NOTES_WIDTHS), season, answer)
    if len(season.fixtures) > 1:
        write_season(pages.sheet(SEASON, grid_widths(len(season.fixtures))), season)
        write_pairs(pages.sheet(PAIRS, pairs_widths(season)), season)
    return workbook_bytes(book)


@dataclass(frozen=True)
class _Pages:
    book: Workbook
    view: View
    paper: str
    whole_season: bool

    def sheet(self, name: str, widths: list[float]) -> Sheet:
        """Return a new sheet with links to the others in its first row."""
        sheet = Sheet(self.book.create_sheet(name), self.view, PAPERS[self.paper], widths)
        targets = [HANDOVER, NOTES, *([SEASON, PAIRS] if self.whole_season else [])]
        columns = [column for column, width in enumerate(widths, start=1) if width > _NARROW]
        others = [target for target in targets if target != name]
        for column, target in zip(columns, others, strict=False):
            sheet.text(column, target, Look.LINK, row=1)
            sheet.link(column, target, row=1)
        return sheet


def _view(season: SeasonAnswer, answer: FixtureAnswer, identity: str, revision: int) -> View:
    nobody: Counter[tuple[str, str]] = Counter()
    return _TeamView(
        name=clean(season.season.name),
        date=day(answer.fixture.date),
        times="",
        plan_id=identity,
        revision=revision,
        notes="",
        set_format=SetFormat.TIE_BREAK,
        play="",
        people=(),
        courts=(),
        rounds=(),
        evenings=(),
        measures=(),
        warnings=(),
        cautions=CAUTIONS,
        meetings=Meetings(nobody, nobody, nobody, nobody),
        person_of={},
    )
