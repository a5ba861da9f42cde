"""Readers of single keys: each checks what a key holds and adds a problem when it is wrong.

A reader gives None when the key is missing (`want_keys` reports that) or wrong (a problem added).
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterable

from assistant.config import json_form, units
from assistant.config.positioned_yaml import Listing, Node, Problems, Scalar, Table
from assistant.config.suggest import closest, did_you_mean, in_quotes

MAX_SENTENCE_WORDS = 12  # as much as is taken in at one hearing
_YES = {"yes": True, "true": True, "no": False, "false": False}
_NUMBER = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,3})?")


def want_keys(
    problems: Problems,
    table: Table,
    required: Iterable[str],
    optional: Iterable[str] = (),
    of: str = "",
) -> None:
    """Every required key is there and no unknown one; a mistyped required key is one problem."""
    required = list(required)
    known = required + list(optional)
    problems.asked_keys(table, required, known[len(required) :])
    missing = [key for key in required if key not in table.entries]
    for key, (scalar, _) in table.entries.items():
        if key in known:
            continue
        near = closest(key, [k for k in known if k not in table.entries])
        if near in missing:
            missing.remove(near)
        problems.add(scalar, f"unknown key {in_quotes(key)}{_meant(key, near, known)}")
    place = of and f" in {of}"
    for key in missing:
        problems.add(table, f"'{key}' is missing{place}")


def _meant(key: str, near: str | None, known: list[str]) -> str:
    return f" (did you mean '{near}'?)" if near else did_you_mean(key, known)


def number_in(text: str) -> float | None:
    """The finite number that a text states, None when it states none.

    >>> number_in("0.25"), number_in(".inf"), number_in("1_000")
    (0.25, None, None)
    """
    if not _NUMBER.fullmatch(text.strip()):
        return None
    value = float(text)
    return value if math.isfinite(value) else None


def want_scalar(problems: Problems, node: Node | None, label: str) -> Scalar | None:
    """The node as one value, not empty."""
    if node is None:
        return None
    if not isinstance(node, Scalar):
        problems.add(node, f"{label}: one value is wanted, not a list or a table")
        return None
    if node.text.strip() == "" or (node.plain and node.text == "~"):
        problems.add(node, f"{label}: nothing is given")
        return None
    if not node.text.isprintable() and not node.text.replace("\n", " ").isprintable():
        problems.add(node, f"{label}: holds unprintable characters")
        return None
    return node


def want_text(problems: Problems, table: Table, key: str, longest: int = 500) -> str | None:
    """A text in one line, blanks at its ends taken off."""
    problems.asked(table, key, json_form.text(longest))
    return _text(problems, table, key, longest)


def _text(problems: Problems, table: Table, key: str, longest: int = 500) -> str | None:
    scalar = want_scalar(problems, table.get(key), f"'{key}'")
    if scalar is None:
        return None
    text = " ".join(scalar.text.split())
    if len(text) > longest:
        problems.add(scalar, f"'{key}': {len(text)} characters; at most {longest}")
        return None
    return text


def want_sentence(problems: Problems, table: Table, key: str) -> str | None:
    """A sentence that is spoken: at most twelve words. An empty one counts as left out."""
    problems.asked(table, key, json_form.sentence(MAX_SENTENCE_WORDS))
    node = table.get(key)
    if isinstance(node, Scalar) and node.text == "":
        return ""
    text = _text(problems, table, key)
    if text is not None and len(text.split()) > MAX_SENTENCE_WORDS:
        problems.add(
            table.entries[key][1],
            f"'{key}': {len(text.split())} words; at most {MAX_SENTENCE_WORDS}",
        )
    return text


def want_word(problems: Problems, table: Table, key: str, allowed: Collection[str]) -> str | None:
    """One of the allowed words."""
    problems.asked(table, key, json_form.word(allowed))
    text = _text(problems, table, key)
    if text is None or text in allowed:
        return text
    problems.add(
        table.entries[key][1], f"'{key}': unknown {in_quotes(text)}{did_you_mean(text, allowed)}"
    )
    return None


def want_yes_no(problems: Problems, table: Table, key: str) -> bool | None:
    """yes or no."""
    problems.asked(table, key, json_form.yes_no())
    text = _text(problems, table, key)
    if text is None:
        return None
    if text.lower() not in _YES:
        problems.add(table.entries[key][1], f"'{key}': yes or no, not {in_quotes(text)}")
        return None
    return _YES[text.lower()]


def want_number(
    problems: Problems, table: Table, key: str, low: float, high: float, label: str = ""
) -> float | None:
    """A finite number between `low` and `high`."""
    problems.asked(table, key, json_form.number(low, high))
    scalar = want_scalar(problems, table.get(key), f"'{key}'")
    return None if scalar is None else number_of(problems, scalar, label or f"'{key}'", low, high)


def number_of(
    problems: Problems, scalar: Scalar, label: str, low: float, high: float
) -> float | None:
    """The scalar as a finite number between `low` and `high`."""
    value = number_in(scalar.text)
    if value is None:
        problems.add(scalar, f"{label}: {in_quotes(scalar.text)} is not a plain number")
        return None
    if not low <= value <= high:
        problems.add(scalar, f"{label}: {value:g} is outside {low:g} to {high:g}")
        return None
    return value


def want_quantity(
    problems: Problems, table: Table, key: str, dimension: str, least: str, most: str
) -> units.Quantity | None:
    """A quantity of the dimension, in SI, between two quantities written as text."""
    problems.asked(table, key, json_form.quantity(units.EXAMPLE[dimension], least, most))
    scalar = want_scalar(problems, table.get(key), f"'{key}'")
    if scalar is None:
        return None
    return quantity_of(problems, scalar, f"'{key}'", dimension, least, most)


def quantity_of(
    problems: Problems, scalar: Scalar, label: str, dimension: str, least: str, most: str
) -> units.Quantity | None:
    """The scalar as a quantity between two others; an absolute pressure is compared as written."""
    try:
        wanted = units.quantity(scalar.text, dimension)
    except ValueError as wrong:
        problems.add(scalar, f"{label}: {wrong}")
        return None
    low, high = units.quantity(least, dimension).si, units.quantity(most, dimension).si
    if not low <= wanted.si <= high:
        problems.add(
            scalar, f"{label}: {in_quotes(scalar.text)} is out of range ({least} to {most})"
        )
        return None
    return wanted


def want_table(problems: Problems, table: Table, key: str) -> Table | None:
    """A table under a key."""
    problems.asked(table, key, None)
    node = table.get(key)
    if node is None or isinstance(node, Table):
        return node
    problems.add(node, f"'{key}': a table of 'key: value' is wanted")
    return None


def want_texts(problems: Problems, table: Table, key: str, longest: int = 200) -> tuple[str, ...]:
    """A list of texts; one text alone counts as a list of one; nothing when missing."""
    problems.asked(table, key, json_form.texts(longest))
    node = table.get(key)
    if isinstance(node, Table):
        problems.add(node, f"'{key}': a list of words is wanted")
        return ()
    items = node.items if isinstance(node, Listing) else () if node is None else (node,)
    texts: list[str] = []
    for item in items:
        one = Table({key: (Scalar(key, item.line, item.column), item)}, item.line, item.column)
        text = _text(problems, one, key, longest)
        if text is not None and text in texts:
            problems.add(item, f"'{key}': {in_quotes(text)} is given twice")
        elif text is not None:
            texts.append(text)
    return tuple(texts)


def place_of(table: Table, key: str, text: str) -> Node:
    """The place of a text under a key: the list's item that holds it, else the whole value."""
    node = table.entries[key][1]
    items = node.items if isinstance(node, Listing) else ()
    for item in items:
        if isinstance(item, Scalar) and " ".join(item.text.split()) == text:
            return item
    return node


def want_tables(problems: Problems, table: Table, key: str) -> tuple[Table, ...]:
    """A list of tables; nothing when missing."""
    problems.asked_list(table, key)
    node = table.get(key)
    if node is None:
        return ()
    if not isinstance(node, Listing):
        problems.add(node, f"'{key}': a list is wanted, each entry beginning with '- '")
        return ()
    for item in node.items:
        if not isinstance(item, Table):
            problems.add(item, f"'{key}': each entry is a table of 'key: value'")
    return tuple(item for item in node.items if isinstance(item, Table))
