"""What other programs and notebooks may use; `scheduler` itself hands these names out.

Each function forwards to the floors below and adds nothing of its own. The
floors load only when a function is called, so that importing `scheduler`
costs nothing. Names not listed here may change from one version to the next.
"""

# ruff: noqa: PLC0415  the floors load when they are needed

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.domain.errors import BadInput, NoPlan
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.domain.plain_evening import doubles_evening

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from scheduler.checker import Verdict
    from scheduler.domain.event import Event
    from scheduler.domain.plan import Plan
    from scheduler.exporters.frames import DataFrame
    from scheduler.exporters.meetings import Meetings
    from scheduler.rules.tables import GameRow, PointRow
    from scheduler.workflow.timing import LengthOfPlay

__all__ = [
    "BadInput",
    "NoPlan",
    "best_possible",
    "check",
    "count_meetings",
    "court_time_picture",
    "doubles_evening",
    "event_from_players",
    "explain",
    "make_plan",
    "meetings_frame",
    "meetings_picture",
    "read_event",
    "read_plan",
    "serving_order",
    "set_length",
    "tie_break_order",
    "write_plan",
]

Pair = tuple[str, str]


def read_event(path: str | Path) -> Event:
    """Return the event of a workbook such as ``rota start`` writes.

    Raises
    ------
    BadInput
        With every fault of the workbook, each with its sheet and cell.

    Examples
    --------
    >>> event = read_event("sample_data/club_evening.xlsx")
    >>> len(event.players), len(event.rounds)
    (22, 8)
    """
    from scheduler.readers.event_workbook import read_event as read

    return read(Path(path)).event


def event_from_players(  # noqa: PLR0913  each is an option of the command
    path: str | Path,
    courts: int,
    rounds: int,
    minutes: int,
    *,
    start: str = "18:00",
    name: str | None = None,
) -> Event:
    """Return an evening of doubles rounds for the people of a list.

    Parameters
    ----------
    path
        A ``.csv`` file, or a workbook with a Players sheet.
    courts, rounds, minutes
        How many courts and rounds, and how many minutes a round has.
    start
        When the first round starts, hh:mm.
    name
        What the evening is called; the file's name if not given.

    Raises
    ------
    BadInput
        With every fault of the list and of the numbers.

    Examples
    --------
    >>> event = event_from_players("sample_data/sixteen.csv", courts=4, rounds=6, minutes=20)
    >>> len(event.players)
    16
    """
    from scheduler.readers.players_list import event_from_players as read

    return read(Path(path), courts, rounds, minutes, start, name).event


def make_plan(event: Event, *, seed: int = 1, effort: str = "normal") -> Plan:
    """Return a plan of the event that the independent checker has accepted.

    Parameters
    ----------
    event
        What is asked for.
    seed
        Start of all random numbers; same event, seed and effort, same plan.
    effort
        ``"quick"``, ``"normal"`` or ``"thorough"``: about 2 seconds, 5
        seconds, up to 2 minutes.

    Raises
    ------
    NoPlan
        If the musts cannot be kept, with a smallest set that cannot.

    Examples
    --------
    >>> plan = make_plan(doubles_evening(8, courts=2, rounds=2), effort="quick")
    >>> plan.measures["partner_repeats"].value
    0
    """
    from scheduler.workflow.plan import make_plan as make

    return make(event, seed=seed, effort=effort).plan


def best_possible(event: Event) -> Mapping[str, float]:
    """Return for each measure a value that no plan of the event can go below.

    The values are proven lower bounds; not every one can be reached, and not
    all at once.

    Examples
    --------
    Eight players on two courts for seven rounds oppose 56 times, and there
    are 28 pairs: each pair twice, so 28 repeats at the least.

    >>> best_possible(doubles_evening(8, courts=2, rounds=7))["opponent_repeats"]
    28
    """
    from scheduler.rotation.best_possible import limits_of

    return limits_of(event)


def check(plan: Plan, event: Event | None = None) -> Verdict:
    """Return what the independent checker says of a plan.

    Parameters
    ----------
    plan
        The plan; it may be wrong in any way.
    event
        The event it has to serve; the plan's own if not given.

    Returns
    -------
    Verdict
        ``accepted``, the ``faults`` in sentences, and ``measures``, counted again.

    Examples
    --------
    >>> plan = make_plan(doubles_evening(8, courts=2, rounds=2), effort="quick")
    >>> check(plan).accepted
    True
    """
    from scheduler.checker import check as judge

    return judge(plan, event)


def read_plan(path: str | Path) -> Plan:
    """Return the plan in a ``plan.json``; nothing else is needed.

    Raises
    ------
    BadInput
        With every fault of the file.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> plan = make_plan(doubles_evening(8, courts=2, rounds=2), effort="quick")
    >>> with TemporaryDirectory() as folder:
    ...     written = write_plan(plan, folder, formats=["json"])
    ...     read_plan(written[0]).rounds == plan.rounds
    True
    """
    from scheduler.readers.plan_file import read_plan as read

    return read(Path(path))


def write_plan(
    plan: Plan,
    folder: str | Path,
    *,
    formats: Iterable[str] = ("json", "xlsx", "html"),
    paper: str = "a4",
) -> tuple[Path, ...]:
    """Write a plan in the forms that ``rota sheets --formats`` knows; return the files.

    Parameters
    ----------
    plan
        The plan.
    folder
        Where to; it is made if it is not there.
    formats
        Such as ``"json"`` (the plan itself), ``"xlsx"`` (the workbook to pin
        up) or ``"html"`` (the page for phones).
    paper
        ``"a4"`` or ``"letter"``.

    Raises
    ------
    ValueError
        If a form is not known.
    OSError
        If a file cannot be written.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> plan = make_plan(doubles_evening(8, courts=2, rounds=2), effort="quick")
    >>> with TemporaryDirectory() as folder:
    ...     [file.name for file in write_plan(plan, folder, formats=["json", "csv"])]
    ['plan.json', '8 players, 2 courts, 2 rounds.csv']
    """
    from scheduler.workflow.sheets import known_formats, write_forms

    return write_forms(plan, Path(folder), known_formats(formats), paper)


def explain(plan: Plan) -> tuple[str, ...]:
    """Return a sentence for each measure of a plan, beside the best any plan could have.

    Examples
    --------
    >>> plan = make_plan(doubles_evening(8, courts=2, rounds=2), effort="quick")
    >>> explain(plan)[1]
    'No two people partner twice.'
    """
    from scheduler.exporters.meetings import count_meetings as count
    from scheduler.exporters.wording import measure_lines

    return tuple(line.sentence for line in measure_lines(plan, count(plan)))


def count_meetings(plan: Plan) -> Meetings:
    """Return how often each two people were partners, opponents, or in one drill group.

    Returns
    -------
    Meetings
        ``partners``, ``opponents`` and ``drills``: counters by pairs of names
        in the order of the players list.

    Examples
    --------
    >>> plan = make_plan(doubles_evening(8, courts=2, rounds=2), effort="quick")
    >>> meetings = count_meetings(plan)
    >>> meetings.partners.total(), meetings.opponents.total()
    (8, 16)
    """
    from scheduler.exporters.meetings import count_meetings as count

    return count(plan)


def meetings_frame(plan: Plan) -> DataFrame:
    """Return who met whom as a pandas table, one row a pair of people who met.

    The columns are ``player``, ``other``, ``partners``, ``opponents`` and ``drills``.

    Examples
    --------
    >>> event = doubles_evening(players=8, courts=2, rounds=2)
    >>> met = meetings_frame(make_plan(event, effort="quick"))
    >>> int(met["partners"].sum()), int(met["opponents"].sum())
    (8, 16)
    """
    from scheduler.exporters.frames import meetings_frame as frame

    return frame(plan)


def meetings_picture(plan: Plan) -> Figure:
    """Return a picture of who met whom, as partners and as opponents.

    Raises
    ------
    BadInput
        If matplotlib is not installed (extra ``pictures``).

    Examples
    --------
    >>> plan = make_plan(doubles_evening(8, courts=2, rounds=2), effort="quick")
    >>> meetings_picture(plan).axes[0].get_title()
    'Who met whom'
    """
    from scheduler.exporters.pictures import meetings_figure

    return meetings_figure(plan)


def court_time_picture(plan: Plan) -> Figure:
    """Return a picture of everybody's evening against the clock: on court, resting, away.

    Raises
    ------
    BadInput
        If matplotlib is not installed (extra ``pictures``).

    Examples
    --------
    >>> plan = make_plan(doubles_evening(9, courts=2, rounds=2), effort="quick")
    >>> court_time_picture(plan).axes[0].get_title()
    'Time on court'
    """
    from scheduler.exporters.pictures import court_time_figure

    return court_time_figure(plan)


def serving_order(  # noqa: PLR0913  each is an option of the command
    first: Pair,
    second: Pair,
    *,
    set_format: str = "tie-break set",
    game: str = "ad",
    deuce: Pair | None = None,
    ends: Pair = ("near", "far"),
    end_changes: str = "six",
) -> tuple[GameRow, ...]:
    """Return every game of a set: server, end, receivers, and where ends change.

    Parameters
    ----------
    first, second
        The team serving game 1 and the other, each in its serving order.
    set_format
        Such as ``"tie-break set"`` or ``"short set"``.
    game
        ``"ad"`` or ``"no-ad"``.
    deuce
        Who receives on the deuce side, one of each team; by default the first
        server of each.
    ends
        The end of the first server at the start, then the other.
    end_changes
        In a tie-break: ``"six"`` or ``"first then four"``.

    Raises
    ------
    ValueError
        If a format is not known.

    Examples
    --------
    ITF Rules of Tennis, Rule 14: partners serve in turn, and ends change
    after odd games (Rule 10).

    >>> games = serving_order(("Ana", "Mo"), ("Ines", "Jo"))
    >>> [game.server for game in games[:5]]
    ['Ana', 'Ines', 'Mo', 'Jo', 'Ana']
    >>> [game.game for game in games if game.change_ends_after]
    [1, 3, 5, 7, 9, 11]
    """
    from scheduler.rules.state import rules_of, start_set
    from scheduler.rules.tables import game_rows

    rules = rules_of(SetFormat(set_format), GameFormat(game), EndChanges(end_changes))
    return game_rows(start_set(rules, first, second, deuce_receivers=deuce, ends=ends))


def tie_break_order(  # noqa: PLR0913  each is an option of the command
    first: Pair,
    second: Pair,
    *,
    set_format: str = "tie-break set",
    deuce: Pair | None = None,
    ends: Pair = ("near", "far"),
    end_changes: str = "six",
    points: int = 24,
) -> tuple[PointRow, ...]:
    """Return the points of a set's tie-break: server, half, receiver, end.

    Parameters
    ----------
    first, second, set_format, deuce, ends, end_changes
        As for `serving_order`; `first` served game 1 of the set.
    points
        How many points, as long as both teams win in turn.

    Raises
    ------
    ValueError
        If a format is not known.

    Examples
    --------
    ITF Rules of Tennis, Rule 5b: one serve for the first, then two each.

    >>> points = tie_break_order(("Ana", "Mo"), ("Ines", "Jo"), points=5)
    >>> [point.server for point in points]
    ['Ana', 'Ines', 'Ines', 'Mo', 'Mo']
    """
    from scheduler.rules.state import rules_of, start_set
    from scheduler.rules.tables import tie_break_rows

    rules = rules_of(SetFormat(set_format), GameFormat.AD, EndChanges(end_changes))
    start = start_set(rules, first, second, deuce_receivers=deuce, ends=ends)
    return tie_break_rows(start, points)


def set_length(  # noqa: PLR0913  each is an option of the command
    *,
    set_format: str = "tie-break set",
    game: str = "ad",
    points_won: str | None = None,
    levels: str | None = None,
    courts: int = 1,
    minutes: float = 25.0,
) -> LengthOfPlay:
    """Return how long a format takes: chances, mean counts, and minutes with their spread.

    Parameters
    ----------
    set_format, game
        What is played.
    points_won
        ``"0.6,0.55"``: each team's chance of a point on its own serve.
    levels
        ``"3.0,3.5/4.0,2.5"``, in place of chances; even teams if neither is given.
    courts
        How many courts play at once.
    minutes
        The minutes of a ``"timed"`` round; otherwise not looked at.

    Raises
    ------
    BadInput
        If the chances or levels cannot be read.
    ValueError
        If a format is not known.

    Examples
    --------
    Even teams: 9.66 games a set (exact recursion after Newton and Keller, 2005).

    >>> round(set_length(points_won="0.5,0.5").games_mean, 2)
    9.66
    """
    from scheduler.workflow.timing import length_of_play
    from scheduler.workflow.timing_players import who_plays

    play = who_plays(points_won, levels, courts)
    return length_of_play(play, SetFormat(set_format), GameFormat(game), minutes)
