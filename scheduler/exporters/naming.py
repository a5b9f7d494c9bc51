"""The name of a file made from the name of an event."""

from __future__ import annotations

import re
import unicodedata

_FORBIDDEN = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]')
_UNENCODABLE = re.compile("[\ud800-\udfff]")
_LONGEST = 80  # bytes; file systems allow 255 and an ending is still to come
_FALLBACK = "evening"
_DEVICES = frozenset(
    {"con", "prn", "aux", "nul"}
    | {f"{port}{digit}" for port in ("com", "lpt") for digit in "123456789"}
)


def safe_file_name(name: str) -> str:
    """Return a file name, without ending, that every common system accepts.

    Letters of any script stay. Characters that separate folders or that
    Windows forbids become blanks; a name that starts with a dot or a dash (a
    hidden file, an option) or is reserved for a device is changed.
    """
    text = unicodedata.normalize("NFC", _UNENCODABLE.sub(" ", name))
    text = " ".join(_FORBIDDEN.sub(" ", text).split())
    text = _cut(text.lstrip(".-~ ")).rstrip(". ")
    if not text:
        return _FALLBACK
    is_device = text.split(".")[0].strip().casefold() in _DEVICES
    return f"{text} {_FALLBACK}" if is_device else text


def _cut(text: str) -> str:
    return text.encode("utf-8")[:_LONGEST].decode("utf-8", "ignore")
