"""What pydantic found wrong, said as an organiser would say it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

_LONGEST_QUOTE = 40

_NEEDS = {
    "missing": "is missing",
    "int_type": "must be a whole number",
    "int_parsing": "must be a whole number",
    "int_parsing_size": "must be a whole number of sensible size",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "float_parsing": "must be a number",
    "finite_number": "must be a finite number",
    "string_type": "must be text",
    "string_unicode": "must be readable text",
    "bool_type": "must be true or false",
    "list_type": "must be a list",
    "tuple_type": "must be a list",
    "dict_type": "must be an object of names and values",
    "model_type": "must be an object of names and values",
    "dataclass_type": "must be an object of names and values",
}
_WITHOUT_VALUE = frozenset({"missing", "unknown_entry", "too_short", "too_long", "json_invalid"})


def in_words(error: ErrorDetails) -> str:
    """Return one pydantic error as a sentence without a full stop."""
    kind, context = error["type"], error.get("ctx", {})
    if kind == "value_error":
        return str(context["error"])
    sentence = _NEEDS.get(kind) or _from_context(kind, context) or _tidied(error["msg"])
    return sentence if kind in _WITHOUT_VALUE else f"{sentence}, got {quoted(error['input'])}"


def quoted(value: Any) -> str:
    """Return a value as it may stand in a message: short, and on one line."""
    match value:
        case bool() | None:
            return {True: "true", False: "false", None: "nothing"}[value]
        case int():
            return str(value) if value.bit_length() < 64 else "a very long number"
        case float():
            return f"{value:.15g}"
        case Mapping():
            return "an object"
        case list() | tuple():
            return f"a list of {len(value)}"
    return _quoted_text(str(value))


def _quoted_text(value: str) -> str:
    text = "".join(char if char.isprintable() else " " for char in value)
    shown = text if len(text) <= _LONGEST_QUOTE else text[: _LONGEST_QUOTE - 1] + "…"
    return f'"{shown}"'


def _from_context(kind: str, context: Mapping[str, Any]) -> str:
    match kind:
        case "enum" | "literal_error":
            return f"must be {context['expected'].replace(chr(39), '')}"
        case "greater_than_equal":
            return f"must be at least {context['ge']}"
        case "less_than_equal":
            return f"must be at most {context['le']}"
        case "too_short" | "too_long":
            return _length(kind, context)
        case _:
            return ""


def _length(kind: str, context: Mapping[str, Any]) -> str:
    wanted = context["min_length"] if kind == "too_short" else context["max_length"]
    limit = "at least" if kind == "too_short" else "at most"
    return f"must have {limit} {wanted} items, has {context['actual_length']}"


def _tidied(message: str) -> str:
    return message.replace("Input should", "must").replace("Value error, ", "")
