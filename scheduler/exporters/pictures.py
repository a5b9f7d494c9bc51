"""Pictures of a plan: who met whom, and everybody's time on court.

Drawn with matplotlib, which is an extra (``pip install "doubles-rota[pictures]"``).
Every square also carries its figure, so that grey print and colour-blind eyes
lose nothing.
"""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache
from typing import TYPE_CHECKING

from scheduler.domain.clock import format_time
from scheduler.domain.errors import BadInput
from scheduler.domain.plan import Plan, PlannedRound
from scheduler.exporters.meetings import Pair
from scheduler.exporters.view import Doing, Evening, Person, Use, View, make_view

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

INK = "#1c2733"
PAPER = "#ffffff"
STEPS = ("#ffffff", "#bcd9ea", "#5a9bc4", "#1f5a86", "#0c2f4d")
"""Never, once, twice, three times, more: darker each time, in grey print too."""
_OWN = "#d9d9d9"  # the square of a person with themselves
_FILLS = {"match": STEPS[2], "drill": STEPS[1], "spare": STEPS[1], "rest": "#f4e8c9"}
_HATCHES = {"drill": "///", "spare": "...", "rest": ""}
_LEFT_OVER = " \u200d\ufe0f"  # blanks, and joiners of signs that could not be drawn
_DOTS = 160  # per inch: sharp on A4
_FONTS = (
    "DejaVu Sans",
    "Noto Sans",
    "Noto Sans CJK JP",
    *(
        f"Noto Sans {script}"
        for script in (
            "Arabic", "Armenian", "Bengali", "Devanagari", "Ethiopic", "Georgian", "Gujarati",
            "Gurmukhi", "Hebrew", "Kannada", "Khmer", "Lao", "Malayalam", "Myanmar", "Sinhala",
            "Tamil", "Telugu", "Thai",
        )
    ),
    "Arial Unicode MS",
)  # fmt: skip
MISSING = (
    "pictures need matplotlib, which is not installed: "
    'install it with pip install "doubles-rota[pictures]"'
)


def meetings_figure(plan: Plan) -> Figure:
    """Return a square for every two people: partners below the diagonal, opponents above.

    Raises
    ------
    BadInput
        If matplotlib is not installed.
    """
    view = make_view(plan)
    people = tuple(evening.person for evening in view.evenings)
    size = 2.4 + 0.26 * len(people)
    axes = _axes(size + 0.4, size + 0.5)
    counts = (_by_keys(view, view.meetings.partners), _by_keys(view, view.meetings.opponents))
    for row, person in enumerate(people):
        _square(axes, row, row, _OWN)
        for column, other in enumerate(people):
            if column != row:
                times = counts[column > row][person.key, other.key]
                _counted(axes, row, column, times)
    _name_both_sides(axes, _drawable(people))
    axes.set_title("Who met whom", pad=12, fontsize=13, fontweight="bold")
    told = "Below the grey squares: times as partners. Above them: times as opponents."
    return _framed(axes, view, told)


def court_time_figure(plan: Plan) -> Figure:
    """Return a row for every person against the clock: on which court, resting, or not there.

    Raises
    ------
    BadInput
        If matplotlib is not installed.
    """
    view = make_view(plan)
    axes = _axes(3.4 + 0.045 * _length(plan.rounds), 1.9 + 0.26 * len(view.evenings))
    short = _court_numbers(view)
    for row, evening in enumerate(view.evenings):
        for planned, stop in zip(plan.rounds, evening.stops, strict=True):
            if stop.doing is Doing.RESTING:
                _bar(axes, row, planned, "rest", "rest")
            if stop.place is not None:
                _bar(axes, row, planned, _what(stop.place.use), short[stop.place.court])
    _clock(axes, plan.rounds)
    people = [evening.person for evening in view.evenings]
    axes.set_yticks(range(len(people)), _drawable(people))
    axes.set_ylim(len(people) - 0.4, -0.6)
    _at_the_right(axes, [_hours(_on_court(evening)) for evening in view.evenings])
    axes.set_title("Time on court", pad=10, fontsize=13, fontweight="bold")
    told = (
        "Numbers are courts, in the order of the list. Striped: a drill. Plain: a match.\n"
        "Dotted: a spare court. Blank: not there. At the right: hours and minutes on court."
    )
    return _framed(axes, view, told)


def meetings_png(plan: Plan) -> bytes:
    """Return the picture of who met whom as a PNG file; raises as `meetings_figure` does."""
    return _png(meetings_figure, plan)


def court_time_png(plan: Plan) -> bytes:
    """Return the picture of time on court as a PNG file; raises as `court_time_figure` does."""
    return _png(court_time_figure, plan)


def _png(draw: Callable[[Plan], Figure], plan: Plan) -> bytes:
    figure, file = draw(plan), io.BytesIO()
    made_from = make_view(plan).identity
    figure.savefig(
        file, format="png", dpi=_DOTS, metadata={"Software": None, "Description": made_from}
    )
    return file.getvalue()


# ---- drawing ----------------------------------------------------------------------------


def _axes(width: float, height: float) -> Axes:
    """Return empty axes in a figure of so many inches, drawn without a window."""
    try:
        from matplotlib.figure import Figure  # noqa: PLC0415  an extra, and slow
    except ImportError:
        raise BadInput.one("", MISSING) from None
    figure = Figure(figsize=(max(width, 6.0), max(height, 3.0)), layout="constrained")
    figure.set_facecolor(PAPER)
    axes: Axes = figure.add_subplot()
    axes.tick_params(length=0, labelsize=8)
    for spine in axes.spines.values():
        spine.set_visible(False)
    return axes


def _framed(axes: Axes, view: View, told: str) -> Figure:
    """Return the figure of finished axes, told what it shows, in fonts that have its letters."""
    from matplotlib.figure import Figure  # noqa: PLC0415

    figure = axes.figure
    assert isinstance(figure, Figure)
    axes.set_xlabel(_covered(f"{told}\n{view.name}, {view.identity}"), labelpad=8, fontsize=8)
    texts = [axes.title, axes.xaxis.label, *axes.get_xticklabels(), *axes.get_yticklabels()]
    for text in texts:
        text.set_fontfamily(list(_fonts()))
        text.set_parse_math(False)
    return figure


def _square(axes: Axes, row: int, column: int, colour: str) -> None:
    from matplotlib.patches import Rectangle  # noqa: PLC0415

    square = Rectangle(
        (column - 0.5, row - 0.5), 1, 1, facecolor=colour, edgecolor="#9aa4ad", linewidth=0.4
    )
    axes.add_patch(square)


def _counted(axes: Axes, row: int, column: int, times: int) -> None:
    step = min(times, len(STEPS) - 1)
    _square(axes, row, column, STEPS[step])
    if times:
        ink = INK if step < 3 else PAPER
        axes.text(column, row, str(times), ha="center", va="center", fontsize=7, color=ink)


def _name_both_sides(axes: Axes, labels: Sequence[str]) -> None:
    places = range(len(labels))
    axes.set_xticks(places, labels, rotation=90)
    axes.set_yticks(places, labels)
    axes.xaxis.tick_top()
    axes.set_xlim(-0.53, len(labels) - 0.47)
    axes.set_ylim(len(labels) - 0.47, -0.53)
    axes.set_aspect("equal")


def _bar(axes: Axes, row: int, planned: PlannedRound, what: str, text: str) -> None:
    axes.barh(
        row,
        planned.minutes,
        left=planned.start,
        height=0.82,
        color=_FILLS[what],
        edgecolor=INK,
        linewidth=0.5,
        hatch=_HATCHES.get(what),
    )
    middle = planned.start + planned.minutes / 2
    axes.text(
        middle, row, text, ha="center", va="center", fontsize=7, color=INK,
        bbox={"facecolor": _FILLS[what], "edgecolor": "none", "pad": 0.8},
    )  # fmt: skip


def _at_the_right(axes: Axes, labels: Sequence[str]) -> None:
    right = axes.secondary_yaxis("right")
    right.set_yticks(range(len(labels)), labels)
    right.tick_params(length=0, labelsize=8)
    right.spines["right"].set_visible(False)


def _clock(axes: Axes, rounds: Sequence[PlannedRound]) -> None:
    if not rounds:
        return
    marks = sorted({planned.start for planned in rounds} | {rounds[-1].end})
    axes.set_xticks(marks, [format_time(mark) for mark in marks], rotation=90)
    axes.xaxis.tick_top()
    axes.set_xlim(marks[0] - 1, marks[-1] + 1)


# ---- figures from the plan --------------------------------------------------------------


def _by_keys(view: View, counts: Counter[Pair]) -> Counter[Pair]:
    """Return counts by the keys of two people, looked up either way round."""
    times: Counter[Pair] = Counter()
    for (one, other), count in counts.items():
        keys = view.person_of[one].key, view.person_of[other].key
        times[keys] += count
        times[keys[1], keys[0]] += count
    return times


def _hours(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02d}"


def _length(rounds: Sequence[PlannedRound]) -> int:
    return rounds[-1].end - rounds[0].start if rounds else 0


def _court_numbers(view: View) -> dict[str, str]:
    return {label: str(number) for number, label in enumerate(view.courts, start=1)}


def _what(use: Use) -> str:
    return {Use.MATCH: "match", Use.DRILL: "drill"}.get(use, "spare")


def _on_court(evening: Evening) -> int:
    return sum(stop.head.minutes for stop in evening.stops if stop.place is not None)


# ---- letters ----------------------------------------------------------------------------


@cache
def _fonts() -> tuple[str, ...]:
    """Return the fonts of this machine to take letters from, best first."""
    from matplotlib.font_manager import fontManager  # noqa: PLC0415

    installed = frozenset(fontManager.get_font_names())
    return tuple(font for font in _FONTS if font in installed)


@cache
def _letters() -> frozenset[int]:
    """Return the characters that one of the fonts has."""
    from matplotlib.font_manager import FontProperties, fontManager  # noqa: PLC0415
    from matplotlib.ft2font import FT2Font  # noqa: PLC0415

    files = (fontManager.findfont(FontProperties(family=font)) for font in _fonts())
    return frozenset(letter for file in files for letter in FT2Font(file).get_charmap())


def _covered(text: str) -> str:
    """Return the text without characters that no font here can draw."""
    return "".join(c for c in text if ord(c) in _letters() or c == "\n").strip(_LEFT_OVER)


def _drawable(people: Sequence[Person]) -> list[str]:
    """Return labels that can be drawn; who loses a letter is told by the key as well."""
    labels = []
    for person in people:
        known = _covered(person.label)
        labels.append(person.label if known == person.label else f"{known} {person.key}".strip())
    return labels
