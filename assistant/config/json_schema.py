"""The JSON Schema of a file, made by its own reader.

The reader is given a probe: an almost empty file in which every key that it asks for is filled in,
until it asks for nothing new. What it told of each key on the way (`Problems.asked`) is the schema,
so that the two cannot differ. What lies between several keys is not in it: `footplate check` is.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from assistant.config.checklist_file import checklist_of
from assistant.config.emergencies_file import emergencies_of
from assistant.config.engine_file import engine_of
from assistant.config.positioned_yaml import Listing, Node, Problems, Scalar, Table
from assistant.errors import FileWrongError

_DIALECT = "http://json-schema.org/draft-07/schema#"  # the one that most editors know
_PROBE = Path("probe")
_ANY_NAME = "any name"  # of the key that stands for those which the owner names

_Read = Callable[[Problems, Table], object]
_READERS: dict[str, _Read] = {
    "engine": lambda problems, table: engine_of(problems, table, "", _PROBE),
    "checklist": lambda problems, table: checklist_of(problems, table, str(_PROBE)),
    "emergencies": lambda problems, table: emergencies_of(problems, table, _PROBE),
}
KINDS = tuple(_READERS)


def schema_of(kind: str) -> dict[str, Any]:
    """The JSON Schema of a kind of file, one of `KINDS`; KeyError for another.

    It refuses no file that the reader accepts, but for texts with more blanks than they need.
    """
    read = _READERS[kind]
    root = Table({}, 0, 0)
    asked = _Asked()
    for fill in (asked.no_more, asked.fill_values, asked.fill_tables):
        fill(root)
        asked.grew = True
        while asked.grew:
            asked.grew = False
            with contextlib.suppress(FileWrongError):
                read(asked, root)
    return {
        "$schema": _DIALECT,
        "title": f"{kind} file of the footplate assistant",
        **asked.form(root),
    }


class _Asked(Problems):
    """Keeps what a reader asks for, and lets the probe grow where it asks for a table."""

    def __init__(self) -> None:
        super().__init__(str(_PROBE))
        self.grew = False
        self._keys: dict[int, tuple[list[str], list[str]]] = {}  # by the identity of a table
        self._forms: dict[tuple[int, str], list[Mapping[str, Any]]] = {}
        self._named: set[int] = set()

    def asked(self, table: Table, key: str, form: Mapping[str, Any] | None) -> None:
        if form is None:
            self._grow(table, key, Table({}, 0, 0))
            return
        forms = self._forms.setdefault((id(table), key), [])
        if form not in forms:
            forms.append(form)

    def asked_list(self, table: Table, key: str) -> None:
        self._grow(table, key, Listing((Table({}, 0, 0),), 0, 0))

    def asked_keys(self, table: Table, required: Iterable[str], optional: Iterable[str]) -> None:
        self._keys[id(table)] = (list(required), list(optional))

    def asked_names(self, table: Table) -> None:
        self._named.add(id(table))

    def _grow(self, table: Table, key: str, node: Node) -> None:
        if not isinstance(table.get(key), type(node)):
            table.entries[key] = (Scalar(key, 0, 0), node)
            self.grew = True

    def no_more(self, root: Table) -> None:
        """Leave the probe as it is."""

    def fill_values(self, root: Table) -> None:
        """Give a value to every key that may be there: some are only read when they are."""
        for table in _tables(root):
            for key in self._keys_of(table):
                forms = self._forms.get((id(table), key), [])
                text = str(next((form["enum"][0] for form in forms if "enum" in form), "x"))
                if key not in table.entries:
                    table.entries[key] = (Scalar(key, 0, 0), Scalar(text, 0, 0))

    def fill_tables(self, root: Table) -> None:
        """Let what the owner names be a table: it may be read otherwise than a value."""
        for table in _tables(root):
            if id(table) in self._named:
                table.entries[_ANY_NAME] = (Scalar(_ANY_NAME, 0, 0), Table({}, 0, 0))

    def _keys_of(self, table: Table) -> list[str]:
        required, optional = self._keys.get(id(table), ([], []))
        return [*required, *optional, *([_ANY_NAME] if id(table) in self._named else [])]

    def form(self, table: Table) -> dict[str, Any]:
        """The schema of a table of the probe and of what is in it."""
        forms = {key: self._form_of_key(table, key) for key in self._keys_of(table)}
        others = forms.pop(_ANY_NAME, False)
        required = self._keys.get(id(table), ([], []))[0]
        shape: dict[str, Any] = {"type": "object", "additionalProperties": others}
        if forms:
            shape["properties"] = forms
        if required:
            shape["required"] = required
        return shape

    def _form_of_key(self, table: Table, key: str) -> dict[str, Any]:
        forms = [dict(form) for form in self._forms.get((id(table), key), [])]
        node = table.get(key)
        if isinstance(node, Listing):
            items = [item for item in node.items if isinstance(item, Table)]
            forms.append({"type": "array", "items": self.form(items[0])})
        elif isinstance(node, Table) and (id(node) in self._keys or id(node) in self._named):
            forms.append(self.form(node))
        return forms[0] if len(forms) == 1 else {"anyOf": forms} if forms else {}


def _tables(table: Table) -> list[Table]:
    """A table of the probe and every one in it."""
    found = [table]
    for _, node in list(table.entries.values()):
        items = node.items if isinstance(node, Listing) else (node,)
        for item in items:
            if isinstance(item, Table):
                found += _tables(item)
    return found
