"""What a single key may hold, as JSON Schema: one function for each kind of value.

A value is whatever an editor makes of the YAML: `yes` may be a text or a boolean, `0.25` a text or
a number, and the readers take either.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

Form = dict[str, Any]
_ONE_VALUE = ["string", "number", "boolean"]
_NUMBER = r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,3})?"
_YES_NO = r"^\s*([Yy][Ee][Ss]|[Nn][Oo]|[Tt][Rr][Uu][Ee]|[Ff][Aa][Ll][Ss][Ee])\s*$"


def text(longest: int) -> Form:
    """A text that is not empty, of at most so many characters."""
    return {"type": _ONE_VALUE, "pattern": r"\S", "maxLength": longest}


def sentence(most_words: int) -> Form:
    """A text of at most so many words; it may be empty."""
    return {
        "type": [*_ONE_VALUE, "null"],
        "pattern": rf"^\s*(\S+\s+){{0,{most_words - 1}}}\S*\s*$",
        "description": f"spoken: at most {most_words} words",
    }


def texts(longest: int) -> Form:
    """A list of texts, or one text alone."""
    return {"anyOf": [text(longest), {"type": "array", "items": text(longest)}]}


def word(allowed: Collection[str]) -> Form:
    """One of the allowed words."""
    return {"enum": list(allowed)}


def yes_no() -> Form:
    """yes or no, in either of YAML's ways."""
    return {"type": ["boolean", "string"], "pattern": _YES_NO, "description": "yes or no"}


def number(low: float, high: float) -> Form:
    """A plain number from `low` to `high`."""
    return {
        "type": ["number", "string"],
        "minimum": low,
        "maximum": high,
        "pattern": rf"^\s*{_NUMBER}\s*$",
        "description": f"a number from {low:g} to {high:g}",
    }


def quantity(example: str, least: str, most: str) -> Form:
    """A number with a unit; which units there are is left to the reader."""
    return {
        "type": "string",
        "pattern": rf"^\s*{_NUMBER}\s*[A-Za-zµ°]",
        "description": f"from {least} to {most}",
        "examples": [example],
    }


def date() -> Form:
    """A date, year-month-day."""
    return {"type": "string", "pattern": r"^\s*\d{4}-\d\d-\d\d\s*$", "examples": ["2027-05-01"]}


def one_value() -> Form:
    """A single value, for which the reader has a rule of its own."""
    return {"type": _ONE_VALUE}
