"""Opening a ``.csv`` file: its encoding and delimiter found out, its rows as a grid.

The csv module is used rather than pandas: every fault needs its cell, pandas
would have to be talked out of guessing types, and importing it takes a
quarter of a second.
"""

from __future__ import annotations

import codecs
import csv
import io
from pathlib import Path

from scheduler.domain.errors import BadInput
from scheduler.readers.cells import Grid, is_blank

_LARGEST = 10 * 1024 * 1024  # bytes
_DELIMITERS = ",;\t"
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def read_csv(path: Path) -> Grid:
    """Return the rows of a csv file in UTF-8, UTF-16 or cp1252, with comma, semicolon or tab.

    Raises
    ------
    BadInput
        If the file is missing, empty, of another encoding or not csv.
    """
    text = _decoded(path, _bytes(path))
    delimiter, text = _delimiter(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows = []
    try:
        for number, values in enumerate(reader, 1):
            if not all(is_blank(value) for value in values):
                rows.append((number, tuple(values)))
    except csv.Error as error:
        where = f"{path.name} line {reader.line_num}"
        raise BadInput.one(where, f"is not well-formed csv: {error}") from None
    return Grid(path.name, 0, tuple(rows))


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > _LARGEST:
            raise BadInput.one(path.name, "is far too large to be a players list")
        data = path.read_bytes()
    except FileNotFoundError:
        raise BadInput.one(str(path), "there is no such file") from None
    except IsADirectoryError:
        raise BadInput.one(str(path), "is a folder, not a players list") from None
    except OSError as error:
        raise BadInput.one(str(path), f"cannot be read: {error.strerror or error}") from None
    if not data.strip():
        raise BadInput.one(path.name, "is an empty file")
    return data


def _decoded(path: Path, data: bytes) -> str:
    """Return the text: by its mark if it has one, else UTF-8 if it can be, else cp1252."""
    marked = [encoding for mark, encoding in _MARKS if data.startswith(mark)]
    for encoding in marked or [_unmarked_utf_16(data) or "utf-8", "cp1252"]:
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise BadInput.one(path.name, "is in an unknown encoding; save it as CSV UTF-8")


def _unmarked_utf_16(data: bytes) -> str:
    """Return which UTF-16 the zeros between the letters of a header tell of, if any."""
    beginning = data[:64]
    if b"\0" not in beginning:
        return ""
    return "utf-16-be" if beginning[0] == 0 else "utf-16-le"


def _delimiter(text: str) -> tuple[str, str]:
    """Return the delimiter and the text to read, without a line like ``sep=;``."""
    first, _, rest = text.partition("\n")
    named = first.strip(' \r"')
    if named[:-1].lower() == "sep=":  # spreadsheets obey this line and do not count it as a row
        return named[-1], rest
    header = next((line for line in text.splitlines() if line.strip()), "")
    outside = "".join(header.split('"')[::2])
    return max(_DELIMITERS, key=outside.count), text
