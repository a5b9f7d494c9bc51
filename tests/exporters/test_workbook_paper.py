"""How many pages a sheet is given."""

from __future__ import annotations

import pytest

from scheduler.exporters.workbook.paper import PAPERS, pages_high

ROOM = (500.0, 400.0)
WIDTHS = [50.0]  # fits without scaling


@pytest.mark.parametrize(
    ("rows", "repeated", "pages"),
    [
        (1, 0, 1),
        (10, 0, 1),  # exactly full
        (11, 0, 1),  # one lonely row is squeezed in
        (16, 0, 2),  # six rows are company enough
        (22, 0, 2),
        (27, 0, 3),
        (20, 40, 2),  # the repeated head takes a row of every further page; one is left over
        (102, 0, 10),
        (107, 0, 10),  # ten pages share seven rows without harm
    ],
)
def test_a_lonely_last_page_is_squeezed_onto_the_others(
    rows: int, repeated: float, pages: int
) -> None:
    """Ten rows of 40 points fit on a page of 400."""
    heights = [40.0] * rows
    assert pages_high(ROOM, widths=WIDTHS, heights=heights, repeated=repeated) == pages


def test_wide_sheets_are_scaled_so_more_rows_fit() -> None:
    """Twice too wide means half the size, so twice as many rows a page."""
    twice = [(2 * 500.0 - 3.75) / 6]
    assert pages_high(ROOM, widths=twice, heights=[40.0] * 20, repeated=0) == 1
    assert pages_high(ROOM, widths=twice, heights=[40.0] * 30, repeated=0) == 2


def test_papers_have_their_standard_sizes() -> None:
    """A4 is 210 by 297 mm (ISO 216), letter 8.5 by 11 inches (ANSI A)."""
    a4, letter = PAPERS["a4"], PAPERS["letter"]
    assert (a4.short, a4.long) == pytest.approx((210 / 25.4 * 72, 297 / 25.4 * 72), abs=0.1)
    assert (letter.short, letter.long) == (8.5 * 72, 11 * 72)
