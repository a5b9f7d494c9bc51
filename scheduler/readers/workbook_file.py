"""Opening an ``.xlsx`` file: its sheets as grids of plain values.

Sheets are streamed (openpyxl's read-only mode): a sheet somebody formatted
down to row 1048576 costs no memory, and a size claimed wrongly in the file
hides no cell. Formulas count by the value Excel last stored for them.
"""

from __future__ import annotations

import itertools
import warnings
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scheduler.domain.errors import BadInput
from scheduler.domain.suggest import fold
from scheduler.readers.cells import Grid, Unreadable, is_blank

if TYPE_CHECKING:
    from openpyxl import Workbook

MOST_ROWS = 20_000
MOST_COLUMNS = 64
_LARGEST = 50 * 1024 * 1024  # bytes
_LARGEST_UNPACKED = 500 * 1024 * 1024
_OLD_FORMAT = b"\xd0\xcf\x11\xe0"  # the container of .xls, and of encrypted workbooks
_SAVE_ANEW = "open it, save it as an Excel workbook (.xlsx) and use that"

Rows = list[tuple[int, tuple[Any, ...]]]


class WorkbookFile:
    """The grids of a workbook, by the folded title of their sheet.

    Parameters
    ----------
    path
        The file.
    wanted
        The sheets to read, in reading order; others are ignored.
    only_sheet_as
        Read the sheet of a workbook that has just one under this title,
        whatever its own is.

    Raises
    ------
    BadInput
        If the file is missing, empty, encrypted or not a workbook.
    """

    def __init__(self, path: Path, wanted: Iterable[str], only_sheet_as: str | None = None) -> None:
        _check_kind_of_file(path)
        self.path = path
        self._order = {fold(title): rank for rank, title in enumerate(wanted)}
        self._only_sheet_as = only_sheet_as
        self.grids: dict[str, Grid] = {}
        self.other_titles: list[str] = []
        try:
            self._read()
        except BadInput:
            raise
        except Exception as error:
            what = f"cannot be read as an Excel workbook ({type(error).__name__}); {_SAVE_ANEW}"
            raise BadInput.one(path.name, what) from error

    def _read(self) -> None:
        rows_by_title = self._rows(formulas=True)
        if any(_has_formula(rows) for rows in rows_by_title.values()):
            stored = self._rows(formulas=False)
            for title, rows in rows_by_title.items():
                rows_by_title[title] = _with_stored_values(rows, dict(stored[title]))
        for title, rows in rows_by_title.items():
            key = self._key(title, len(rows_by_title) + len(self.other_titles))
            self.grids.setdefault(key, Grid(title, self._order[key], tuple(rows)))

    def _rows(self, *, formulas: bool) -> dict[str, Rows]:
        book = _load(self.path, formulas=formulas)
        try:
            sheets = {sheet.title: sheet for sheet in book.worksheets}
            wanted = [title for title in sheets if self._key(title, len(sheets)) in self._order]
            self.other_titles = [title for title in sheets if title not in wanted]
            rows = {title: _all_rows(sheets[title]) for title in wanted}
            # Blank stored values matter: they tell a formula that gives "" from one never run.
            return {
                title: list(_filled(rows[title]) if formulas else rows[title]) for title in wanted
            }
        finally:
            book.close()

    def _key(self, title: str, sheets: int) -> str:
        if sheets == 1 and self._only_sheet_as is not None:
            return fold(self._only_sheet_as)
        return fold(title)


_FORMULA = Unreadable("holds a formula")  # until its stored value is known
_NEVER_RUN = Unreadable(
    "holds a formula without a stored result; open the workbook in Excel or LibreOffice, "
    "save it once and try again"
)


def _check_kind_of_file(path: Path) -> None:
    what = ""
    try:
        size = path.stat().st_size
        with path.open("rb") as stream:
            beginning = stream.read(8)
        if size == 0:
            what = "is an empty file"
        elif size > _LARGEST:
            what = "is far too large to be an event"
        elif beginning.startswith(_OLD_FORMAT):
            what = _kind_of_old_format(path)
        elif beginning.lstrip().startswith(b"{"):
            what = "is no workbook; if it is a plan, rota sheets and rota replan read it"
        elif not zipfile.is_zipfile(path):
            what = f"is not an Excel workbook (.xlsx); {_SAVE_ANEW}"
        else:
            what = _kind_of_archive(path)
    except FileNotFoundError:
        raise BadInput.one(str(path), "there is no such file") from None
    except IsADirectoryError:
        raise BadInput.one(str(path), "is a folder, not a workbook") from None
    except (OSError, zipfile.BadZipFile) as error:
        raise BadInput.one(str(path), f"cannot be read: {error}") from None
    if what:
        raise BadInput.one(path.name, what)


def _kind_of_old_format(path: Path) -> str:
    if "EncryptedPackage".encode("utf-16-le") in path.read_bytes():
        return "is protected by a password; take the password off, save it and try again"
    return f"is in the old Excel format (.xls); {_SAVE_ANEW}"


def _kind_of_archive(path: Path) -> str:
    with zipfile.ZipFile(path) as archive:
        entries = {info.filename: info.file_size for info in archive.infolist()}
    if sum(entries.values()) > _LARGEST_UNPACKED:
        return "is far too large inside to be an event"
    if "mimetype" in entries:
        return f"is an OpenDocument file; {_SAVE_ANEW}"
    if "xl/workbook.bin" in entries:
        return f"is a binary workbook (.xlsb); {_SAVE_ANEW}"
    if "[Content_Types].xml" not in entries:
        return f"is not an Excel workbook (.xlsx); {_SAVE_ANEW}"
    return ""


def _load(path: Path, *, formulas: bool) -> Workbook:
    import openpyxl  # noqa: PLC0415  slow to import

    with warnings.catch_warnings():  # of parts openpyxl leaves out, none of which we read
        warnings.simplefilter("ignore")
        return openpyxl.load_workbook(path, read_only=True, data_only=not formulas)


def _all_rows(sheet: Any) -> Iterator[tuple[int, tuple[Any, ...]]]:
    sheet.reset_dimensions()  # some programs write a wrong size, which would hide cells
    rows = sheet.iter_rows(max_col=MOST_COLUMNS)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for number, cells in enumerate(itertools.islice(rows, MOST_ROWS), 1):
            yield number, tuple(_raw(cell) for cell in cells)


def _filled(rows: Iterable[tuple[int, tuple[Any, ...]]]) -> Iterator[tuple[int, tuple[Any, ...]]]:
    for number, values in rows:
        width = len(values)
        while width and is_blank(values[width - 1]):
            width -= 1
        if width:
            yield number, values[:width]


def _raw(cell: Any) -> Any:
    if cell.data_type == "f":
        return _FORMULA
    if cell.data_type == "e":
        return Unreadable(f"holds the Excel error {cell.value}")
    if cell.value is None and cell.data_type == "str":
        return ""
    return cell.value


def _has_formula(rows: Rows) -> bool:
    return any(value is _FORMULA for _, values in rows for value in values)


def _with_stored_values(rows: Rows, stored: dict[int, tuple[Any, ...]]) -> Rows:
    """Put the stored value in the place of each formula."""

    def value_at(row: int, at: int, value: Any) -> Any:
        if value is not _FORMULA:
            return value
        held = stored[row][at] if at < len(stored.get(row, ())) else None
        return _NEVER_RUN if held is None else held

    return [
        (row, tuple(value_at(row, at, value) for at, value in enumerate(values)))
        for row, values in rows
    ]
