"""Standings and levels of a season as tables, and the season as a workbook and back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from scheduler.domain.errors import BadInput
from scheduler.domain.tables import Table
from scheduler.exporters.files import write_whole
from scheduler.exporters.table_files import table_csv, tables_workbook
from scheduler.results import Levels, Order, Standing, levels_from, standings
from scheduler.season.exchange import TITLES, export_tables, import_tables
from scheduler.season.naming import PublicNames, public_names
from scheduler.season.overview import overview
from scheduler.season.results import evening_called, results_of

Written = Callable[[Table], bytes]
_WRITERS: Mapping[str, Written] = {
    ".csv": table_csv,
    ".xlsx": lambda table: tables_workbook([table]),
}


@dataclass(frozen=True, slots=True)
class Standings:
    """Standings with what they are of, and how many matches the least and the busiest played."""

    title: str
    lines: tuple[Standing, ...]
    evenings: int

    @property
    def matches(self) -> tuple[int, int]:
        """Fewest and most matches of one person."""
        counts = [line.matches for line in self.lines] or [0]
        return min(counts), max(counts)


def season_standings(
    season: Path, *, evening: str | None = None, order: Order = Order.WON, public: bool = False
) -> Standings:
    """Return the standings of a season, or of one evening of it.

    Parameters
    ----------
    season
        The season file.
    evening
        A number, date or plan id, or ``last``; None for the whole season.
    order
        What comes first.
    public
        Whether to show short names even where the season does not ask for them.

    Raises
    ------
    BadInput
        If the season cannot be read or has no such evening.
    """
    found = results_of(season)
    wanted = found.evenings if evening is None else evening_called(found.evenings, evening)
    numbers = {one.number for one in wanted}
    lines = standings((m for m in found.matches if m.evening in numbers), order)
    shown = _shown(season, public=public)
    title = wanted[0].title if evening is not None else "Season"
    renamed = tuple(replace(line, player=shown.get(line.player, line.player)) for line in lines)
    return Standings(title, renamed, len(wanted))


def season_levels(season: Path, *, public: bool = False) -> Levels:
    """Return everybody's level.

    Raises
    ------
    BadInput
        If the season cannot be read.
    """
    found = results_of(season)
    levels = levels_from(found.matches, found.starting)
    shown = _shown(season, public=public)
    rows = tuple(replace(row, player=shown.get(row.player, row.player)) for row in levels.rows)
    return replace(levels, rows=rows)


def standings_table(found: Standings) -> Table:
    """Return standings as a table for a file."""
    columns = (
        "Place", "Player", "Matches", "Won", "Lost", "Neither", "Sets won", "Sets lost",
        "Games won", "Games lost", "Games difference", "Share of games", "Share of matches",
    )  # fmt: skip
    rows = tuple(
        (
            line.place,
            line.player,
            line.matches,
            line.matches_won,
            line.matches_lost,
            line.neither,
            line.sets_won,
            line.sets_lost,
            line.games_won,
            line.games_lost,
            line.games_difference,
            round(line.games_share, 4),
            round(line.matches_share, 4),
        )
        for line in found.lines
    )
    return Table("Standings", columns, rows)


def levels_table(levels: Levels) -> Table:
    """Return levels as a table for a file."""
    columns = ("Player", "Level", "Low", "High", "Starting level", "Matches")
    rows = tuple((r.player, r.level, r.low, r.high, r.start, r.matches) for r in levels.rows)
    return Table("Levels", columns, rows)


def write_table(table: Table, path: Path) -> None:
    """Write a table as csv or as a workbook, as the file's name ends.

    Raises
    ------
    BadInput
        If it ends otherwise.
    OSError
        If the file cannot be written.
    """
    writer = _WRITERS.get(path.suffix.casefold())
    if writer is None:
        raise BadInput.one(str(path), f"must end in {' or '.join(_WRITERS)}")
    write_whole(path, writer(table))


def export_season(season: Path, workbook: Path) -> None:
    """Write the whole season into a workbook, the sheets for people first.

    Raises
    ------
    BadInput
        If the season cannot be read.
    OSError
        If the file cannot be written.
    """
    write_whole(workbook, tables_workbook([*overview(season), *export_tables(season)]))


def import_season(workbook: Path, season: Path) -> None:
    """Make a season file from an exported workbook.

    Raises
    ------
    BadInput
        If the workbook is not a whole season, or there is a season file already.
    """
    from scheduler.readers.tables import read_tables  # noqa: PLC0415  openpyxl is slow to import

    import_tables(read_tables(workbook, TITLES), season, workbook.name)


def _shown(season: Path, *, public: bool) -> dict[str, str]:
    style, shorts = public_names(season)
    return shorts if public or style is PublicNames.SHORT else {}
