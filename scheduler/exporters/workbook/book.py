"""The order of the sheets and how they are tied together."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.styles import Font

from scheduler.domain.plan import Plan
from scheduler.exporters.files import workbook_bytes
from scheduler.exporters.plan_property import state_plan
from scheduler.exporters.view import View, make_view
from scheduler.exporters.workbook.courts import COURT_WIDTHS, write_court
from scheduler.exporters.workbook.measures import QUALITY_WIDTHS, write_quality
from scheduler.exporters.workbook.meetings import (
    matrix_widths,
    met_widths,
    write_matrix,
    write_met,
)
from scheduler.exporters.workbook.names import sheet_names
from scheduler.exporters.workbook.overview import bands, overview_widths, write_overview
from scheduler.exporters.workbook.paper import PAPERS
from scheduler.exporters.workbook.people import (
    people_widths,
    strip_widths,
    write_people,
    write_strips,
)
from scheduler.exporters.workbook.scores import SCORE_WIDTHS, SCORES, write_scores
from scheduler.exporters.workbook.sheet import Sheet
from scheduler.exporters.workbook.standings import STANDING_WIDTHS, STANDINGS, write_standings
from scheduler.exporters.workbook.style import FONT, Look, named_styles

EVENING, PLAYERS, STRIPS, QUALITY = "Evening", "Players", "Strips", "Quality"
MET, PARTNERS, OPPONENTS = "Who met whom", "Partners", "Opponents"
_NARROW = 8.5  # columns narrower than this cannot hold a link


def build(plan: Plan, paper: str) -> bytes:
    """Return the workbook of a plan as the bytes of an ``.xlsx`` file."""
    if paper not in PAPERS:
        raise ValueError(f'paper must be a4 or letter, got "{paper}"')
    return workbook_bytes(_Builder(make_view(plan), paper).build())


class _Builder:
    """Builds one workbook, sheet by sheet, in the order of the tabs."""

    def __init__(self, view: View, paper: str) -> None:
        self.view, self.paper = view, PAPERS[paper]
        self.book = Workbook()
        # Column widths are counted in digits of this font, so it must be the one of the sheets.
        self.book._named_styles["Normal"].font = Font(name=FONT, size=11)  # type: ignore[attr-defined]  # noqa: SLF001
        for style in named_styles():
            self.book.add_named_style(style)
        self.bands = bands(view)
        more = [f"{EVENING} {number}" for number in range(2, len(self.bands) + 1)]
        self.overviews = [EVENING, *more]
        self.has_matches = next(view.matches(), None) is not None
        of_matches = [SCORES, STANDINGS, MET, PARTNERS, OPPONENTS] if self.has_matches else []
        self.fixed = [PLAYERS, STRIPS, *of_matches, QUALITY]
        self.courts = sheet_names(view.courts, [*self.overviews, *self.fixed])

    def build(self) -> Workbook:
        """Return the workbook with all its sheets."""
        first = self.book.active
        assert first is not None
        self.book.remove(first)
        for name, courts in zip(self.overviews, self.bands or [range(0)], strict=False):
            write_overview(
                self._sheet(name, overview_widths(self.view, len(courts))), courts, self.courts
            )
        write_people(self._sheet(PLAYERS, people_widths(self.view)))
        for index, name in enumerate(self.courts):
            write_court(self._sheet(name, COURT_WIDTHS), index)
        write_strips(self._sheet(STRIPS, strip_widths(self.view)))
        if self.has_matches:
            self._sheets_of_matches()
        write_quality(self._sheet(QUALITY, QUALITY_WIDTHS))
        self._properties()
        return self.book

    def _sheets_of_matches(self) -> None:
        scores = write_scores(self._sheet(SCORES, SCORE_WIDTHS))
        write_standings(self._sheet(STANDINGS, STANDING_WIDTHS), scores)
        write_met(self._sheet(MET, met_widths(self.view)))
        widths, meetings = matrix_widths(len(self.view.people)), self.view.meetings
        write_matrix(self._sheet(PARTNERS, widths), "Partners", meetings.partners)
        write_matrix(self._sheet(OPPONENTS, widths), "Opponents", meetings.opponents)

    def _sheet(self, name: str, widths: list[float]) -> Sheet:
        """Return a new sheet with links to the others in its first row."""
        sheet = Sheet(self.book.create_sheet(name), self.view, self.paper, widths)
        columns = [column for column, width in enumerate(widths, start=1) if width > _NARROW]
        targets = [target for target in (EVENING, *self.fixed) if target != name]
        for column, target in zip(columns, targets, strict=False):
            sheet.text(column, target, Look.LINK, row=1)
            sheet.link(column, target, row=1)
        return sheet

    def _properties(self) -> None:
        self.book.calculation.fullCalcOnLoad = True
        properties = self.book.properties
        properties.title = self.view.name[:200]
        properties.creator = "doubles-rota"
        state_plan(self.book, self.view.plan_id, self.view.revision)
