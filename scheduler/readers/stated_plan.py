"""Which plan a written file belongs to, as the file itself says."""

from __future__ import annotations

import csv
import re
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

PLAN_PROPERTY = "rota plan id"
_ID = "[0-9a-f]{12}"
_OF_PLAN_FILE = re.compile(rf'"id":\s*"({_ID})"')
_OF_PAGE = re.compile(rf'<meta name="rota-plan" content="({_ID})">')
_OF_CARD = re.compile(rf"<footer>plan ({_ID}), revision \d")
_IN_WORDS = re.compile(rf"plan ({_ID})\\?, revision \d")
_OF_WORKBOOK = re.compile(rf'name="{PLAN_PROPERTY}"[^>]*>\s*<[^>]*lpwstr>\s*({_ID})\s*<')
_FOLD = re.compile(r"\r?\n[ \t]")  # RFC 5545, section 3.1: long lines of a calendar
_PROPERTIES = "docProps/custom.xml"
_HEAD = 1 << 20  # characters in which the id of a plan file or a picture surely stands
_LARGEST = 50 * 1024 * 1024  # bytes; nothing we write comes near it


def stated_plan_id(path: Path) -> str:
    """Return the id of the plan a file was made from; "" where it does not say, or is no such file.

    Parameters
    ----------
    path
        A plan file, or anything written from one: workbook, page, table of
        seats, calendar, picture or cards.
    """
    reader = _READERS.get(path.suffix.casefold())
    try:
        if reader is None or path.stat().st_size > _LARGEST:
            return ""
        return reader(path)
    except (OSError, ValueError, KeyError, csv.Error, zipfile.BadZipFile, NotImplementedError):
        return ""  # damaged, locked by a password, or somebody else's


def _of_plan_file(path: Path) -> str:
    with path.open(encoding="utf-8") as stream:
        return _first(_OF_PLAN_FILE, stream.read(_HEAD))


def _of_workbook(path: Path) -> str:
    with zipfile.ZipFile(path) as archive, archive.open(_PROPERTIES) as stream:
        return _first(_OF_WORKBOOK, stream.read(_HEAD).decode("utf-8"))


def _of_page(path: Path) -> str:
    text = path.read_text(encoding="utf-8")
    return _first(_OF_PAGE, text) or _first(_OF_CARD, text)


def _of_seats(path: Path) -> str:
    with path.open(encoding="utf-8-sig", newline="") as stream:
        row = next(csv.DictReader(stream), {})
    return _first(re.compile(f"({_ID})"), row.get("Plan") or "")


def _of_calendar(path: Path) -> str:
    # The last words of an entry are ours, those before may be anybody's.
    found = _IN_WORDS.findall(_FOLD.sub("", path.read_bytes().decode("utf-8")))
    return str(found[-1]) if found else ""


def _of_picture(path: Path) -> str:
    with path.open("rb") as stream:
        return _first(_IN_WORDS, stream.read(_HEAD).decode("latin-1"))


def _first(pattern: re.Pattern[str], text: str) -> str:
    found = pattern.search(text)
    return found[1] if found else ""


_READERS: Mapping[str, Callable[[Path], str]] = {
    ".json": _of_plan_file,
    ".xlsx": _of_workbook,
    ".xlsm": _of_workbook,
    ".xltx": _of_workbook,
    ".xltm": _of_workbook,
    ".html": _of_page,
    ".csv": _of_seats,
    ".ics": _of_calendar,
    ".png": _of_picture,
}
