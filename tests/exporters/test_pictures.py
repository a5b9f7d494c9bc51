"""Pictures of a plan: what they count, whom they name, and that they repeat."""

from __future__ import annotations

import builtins
import io
import sys
from itertools import pairwise, product

import pytest
from exporter_plans import make_plan
from matplotlib.figure import Figure
from PIL import Image

from scheduler.domain.errors import BadInput
from scheduler.exporters.pictures import (
    Point,
    court_time_figure,
    court_time_png,
    curve_figure,
    curve_png,
    meetings_figure,
    meetings_png,
)
from scheduler.exporters.pictures.canvas import STEPS


def labels(figure: Figure) -> list[str]:
    """Return the names down the left side."""
    return [label.get_text() for label in figure.axes[0].get_yticklabels()]


def figures_in_squares(figure: Figure) -> dict[tuple[str, str], int]:
    """Return the figure printed in the square of each row and column, by names."""
    names = labels(figure)
    found = {}
    for text in figure.axes[0].texts:
        column, row = text.get_position()
        found[names[round(row)], names[round(column)]] = int(text.get_text())
    return found


def test_squares_hold_the_counts_of_partners_and_opponents() -> None:
    """Below the diagonal stands how often two were partners, above it how often opponents."""
    plan = make_plan(players=12, courts=3, drills=1, doubles=6)
    squares = figures_in_squares(meetings_figure(plan))
    names = labels(meetings_figure(plan))
    for (row, one), (column, other) in product(enumerate(names), repeat=2):
        partners = opponents = 0
        for _, match in plan.matches():
            together = [{one, other} <= set(team) for team in (match.team_a, match.team_b)]
            partners += one != other and any(together)
            opponents += {one, other} <= set(match.players) and one != other and not any(together)
        wanted = 0 if row == column else partners if column < row else opponents
        assert squares.get((one, other), 0) == wanted


def test_a_bar_for_every_seat_and_every_rest() -> None:
    """Bars lie where the plan has a seat or a rest for somebody, and last as long as the round."""
    plan = make_plan(players=14, courts=3, drills=1, doubles=3)
    axes = court_time_figure(plan).axes[0]
    drawn = sorted(
        (round(bar.get_y() + bar.get_height() / 2), round(bar.get_x()), round(bar.get_width()))
        for bar in axes.patches
    )
    row = {name: at for at, name in enumerate(labels(court_time_figure(plan)))}
    wanted = []
    for planned in plan.rounds:
        seated = [name for entry in planned.courts for name in entry.players]
        here = (*seated, *planned.resting)
        wanted += [(row[name], planned.start, planned.minutes) for name in here]
    assert drawn == sorted(wanted)


def test_hours_on_court_stand_at_the_right() -> None:
    """The one who comes for the last five rounds of 25 and one of 20 minutes has 2:25 at most."""
    plan = make_plan(players=20, courts=5)
    axes = court_time_figure(plan).axes[0]
    told = [label.get_text() for label in axes.child_axes[0].get_yticklabels()]
    minutes = {
        player.name: sum(
            planned.minutes
            for planned in plan.rounds
            if any(player.name in entry.players for entry in planned.courts)
        )
        for player in plan.event.players
    }
    assert told == [
        f"{minutes[name] // 60}:{minutes[name] % 60:02d}"
        for name in labels(court_time_figure(plan))
    ]


@pytest.mark.parametrize("draw", [meetings_png, court_time_png])
def test_hostile_names_are_drawn_and_the_same_plan_gives_the_same_bytes(draw) -> None:
    """Names of any script are drawn without a warning, twice alike, and the plan's id is inside."""
    plan = make_plan(hostile=True)
    made = draw(plan)
    assert draw(plan) == made
    with Image.open(io.BytesIO(made)) as image:
        assert image.format == "PNG"
        assert "revision 1" in str(image.info["Description"])
        assert min(image.size) > 500


def test_a_name_that_no_font_can_draw_carries_its_key() -> None:
    """Where letters are missing in every font, the person's key tells who it is."""
    plan = make_plan(hostile=True)
    assert "Max P07" in labels(meetings_figure(plan))


def test_shades_get_darker_in_grey_print() -> None:
    """Each step is clearly darker than the one before (relative luminance, WCAG 2.1)."""

    def luminance(colour: str) -> float:
        parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    lights = [luminance(colour) for colour in STEPS]
    ratios = [(a + 0.05) / (b + 0.05) for a, b in pairwise(lights)]
    assert min(ratios) > 1.4


def test_without_matplotlib_the_message_says_what_to_install(monkeypatch) -> None:
    """Where the extra is missing, the user reads how to get it instead of a traceback."""
    real = builtins.__import__

    def without(name: str, *rest: object) -> object:
        if name.startswith("matplotlib"):
            raise ImportError(name)
        return real(name, *rest)

    monkeypatch.setattr(builtins, "__import__", without)
    for name in [name for name in sys.modules if name.startswith("matplotlib.figure")]:
        monkeypatch.delitem(sys.modules, name)
    with pytest.raises(BadInput, match=r"doubles-rota\[pictures\]"):
        meetings_png(make_plan(players=8, courts=2, drills=0, doubles=1))


def test_the_curve_shows_every_row_and_both_limits() -> None:
    """Each row is a point at its figures with its name, the chosen one marked, limits dotted."""
    points = (Point("variety", 0, 2.7), Point("blend, exchange 2", 4, 0.5, chosen=True))
    axes = curve_figure("16 players", points, 0, 0.1).axes[0]
    drawn = [tuple(dot.get_offsets()[0]) for dot in axes.collections]
    assert drawn == [(0, 2.7), (4, 0.5)]
    assert [text.get_text() for text in axes.texts] == ["variety", "blend, exchange 2 (chosen)"]
    limits = [line for line in axes.lines if line.get_linestyle() == ":"]
    assert [list(limits[0].get_xdata()), list(limits[1].get_ydata())] == [[0, 0], [0.1, 0.1]]
    assert curve_png("a", points, 0, 0.1) == curve_png("a", points, 0, 0.1)
