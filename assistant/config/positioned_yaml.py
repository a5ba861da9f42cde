"""YAML as it was written: every scalar keeps its text, its line and its column.

The only module that knows the YAML library; it knows nothing of what the keys mean. Nothing is
turned into numbers, dates or booleans: `off`, `no` and `12:30` stay texts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from assistant.config.suggest import in_quotes
from assistant.errors import FileWrongError, InputWrongError, Problem

_MAX_BYTES = 1_000_000  # engine files and checklists are far smaller
MAX_DEPTH = 12  # of nesting; the files need five


@dataclass(frozen=True, slots=True)
class Scalar:
    """A piece of text and its place."""

    text: str
    line: int
    column: int
    plain: bool = True
    """Written without quotes."""


@dataclass(frozen=True, slots=True)
class Listing:
    """A list and where it begins."""

    items: tuple[Node, ...]
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Table:
    """A mapping and where it begins: key text -> (key, value), in the order written."""

    entries: dict[str, tuple[Scalar, Node]] = field(hash=False)
    line: int
    column: int

    def get(self, key: str) -> Node | None:
        """The value of a key, None when it is not there."""
        entry = self.entries.get(key)
        return entry[1] if entry else None


Node = Scalar | Listing | Table


class Problems:
    """Collects the problems of one file, so that all are reported together."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self._known: set[Problem] = set()

    def add(self, place: Node | tuple[int, int], message: str) -> None:
        """Add a problem at a node or at (line, column); one already there is not added twice."""
        line, column = place if isinstance(place, tuple) else (place.line, place.column)
        problem = Problem(self.file, line, column, message)
        if problem not in self._known:
            self._known.add(problem)
            self.problems.append(problem)

    def sorted(self) -> tuple[Problem, ...]:
        """All of them, in the order of the file."""
        return tuple(sorted(self.problems, key=lambda p: (p.line, p.column)))

    def stop_if_any(self) -> None:
        """Raises FileWrongError with all problems, if there is one."""
        if self.problems:
            raise FileWrongError(self.sorted())

    # Every reader tells what it wants, whether it is there or not. Who reads a file need not know;
    # `json_schema` makes a schema of it.

    def asked(self, table: Table, key: str, form: Mapping[str, Any] | None) -> None:
        """A key is read: its form as JSON Schema; None for a table."""

    def asked_list(self, table: Table, key: str) -> None:
        """A key is read that holds a list of tables."""

    def asked_keys(self, table: Table, required: Iterable[str], optional: Iterable[str]) -> None:
        """A table may hold these keys and no others."""

    def asked_names(self, table: Table) -> None:
        """The keys of a table are names that its owner gives, each read alike."""


def read_text(path: Path, most_bytes: int = _MAX_BYTES) -> str:
    """The text of a file, without a byte order mark and with plain line ends.

    Raises FileWrongError (too big, not UTF-8) or InputWrongError (not there, not a file).
    """
    problems = Problems(str(path))
    raw = read_bytes(path, most_bytes)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        before = raw[: wrong.start]
        line = before.count(b"\n") + 1
        column = wrong.start - (before.rfind(b"\n") + 1) + 1
        problems.add((line, column), "not UTF-8 text: save the file as UTF-8")
        problems.stop_if_any()
        raise
    return text.replace("\r\n", "\n").replace("\r", "\n")


def read_bytes(path: Path, most_bytes: int) -> bytes:
    """The bytes of a file. Raises InputWrongError when it cannot be read or is too big."""
    try:
        if path.is_dir():
            raise InputWrongError(f"{path}: is a folder, not a file")
        if not path.exists():
            raise InputWrongError(f"{path}: no such file")
        if not path.is_file():
            raise InputWrongError(f"{path}: not an ordinary file")
        if path.stat().st_size > most_bytes:
            raise FileWrongError((Problem(str(path), 0, 0, f"larger than {most_bytes:,} bytes"),))
        return path.read_bytes()
    except (OSError, ValueError) as trouble:
        reason = getattr(trouble, "strerror", None) or str(trouble)
        raise InputWrongError(f"{path}: cannot be read: {reason}") from trouble


def parse(text: str, problems: Problems) -> Table | None:
    """The text as a table; None, with problems added, when it is not one.

    Duplicate keys, tabs in the indentation, anchors, tags and further documents are problems.
    """
    if not text.strip():
        problems.add((0, 0), "the file is empty")
        return None
    if _unprintable(text, problems) or _tabs(text, problems):
        return None
    root = _tree(text, problems)
    if root is None or isinstance(root, Table):
        if root is None and not problems.problems:
            problems.add((0, 0), "the file holds only comments")
        return root
    problems.add(root, "expected 'key: value' lines")
    return None


def _unprintable(text: str, problems: Problems) -> bool:
    for number, line in enumerate(text.split("\n"), 1):
        strange = re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ufeff\ud800-\udfff\ufffe\uffff]", line)
        if strange:
            code = ord(strange.group())
            problems.add((number, strange.start() + 1), f"a control character (U+{code:04X})")
    return bool(problems.problems)


def _tabs(text: str, problems: Problems) -> bool:
    for number, line in enumerate(text.split("\n"), 1):
        indent = line[: len(line) - len(line.lstrip(" \t"))]
        if "\t" in indent and line.strip():
            problems.add((number, indent.index("\t") + 1), "a tab: indent with spaces")
    return bool(problems.problems)


class _TooDeepError(Exception):
    """Nested deeper than `MAX_DEPTH`."""


def _tree(text: str, problems: Problems) -> Node | None:
    import yaml

    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        events = yaml.parse(text, Loader=loader)
        return _document(events, problems)
    except _TooDeepError as deep:
        problems.add(deep.args[0], "nested too deeply")
    except yaml.MarkedYAMLError as wrong:
        mark = wrong.problem_mark or wrong.context_mark
        place = (mark.line + 1, mark.column + 1) if mark else (0, 0)
        problems.add(place, f"not YAML: {wrong.problem or wrong.context}")
    except (yaml.YAMLError, RecursionError) as wrong:
        problems.add((0, 0), f"not YAML: {str(wrong).splitlines()[0]}")
    return None


def _document(events: Iterator[Any], problems: Problems) -> Node | None:
    root: Node | None = None
    documents = 0
    for event in events:
        kind = type(event).__name__
        if kind == "DocumentStartEvent":
            documents += 1
            if documents == 2:
                problems.add(_position(event), "a second document ('---'): one file, one document")
        elif kind not in {"StreamStartEvent", "StreamEndEvent", "DocumentEndEvent"}:
            node = _node(event, events, problems, 0)
            root = node if documents == 1 else root
    if isinstance(root, Scalar) and root.text == "" and root.plain:
        return None
    return root


def _position(event: Any) -> tuple[int, int]:
    return event.start_mark.line + 1, event.start_mark.column + 1


def _node(event: Any, events: Iterator[Any], problems: Problems, depth: int) -> Node:
    """The node that begins with this event; consumes the events that belong to it."""
    line, column = _position(event)
    if depth > MAX_DEPTH:
        raise _TooDeepError((line, column))
    kind = type(event).__name__
    if kind == "AliasEvent":
        problems.add((line, column), f"an alias (*{event.anchor}): write the value out")
        return Scalar("", line, column)
    if event.anchor is not None:
        problems.add((line, column), f"an anchor (&{event.anchor}): anchors are not used here")
    if event.tag is not None:
        problems.add((line, column), f"a tag ({event.tag}): tags are not used here")
    if kind == "ScalarEvent":
        return Scalar(event.value, line, column, plain=not event.style)
    if kind == "SequenceStartEvent":
        return Listing(tuple(_items(events, problems, depth)), line, column)
    return _table(events, problems, depth, line, column)


def _items(events: Iterator[Any], problems: Problems, depth: int) -> Iterator[Node]:
    for event in events:
        if type(event).__name__ == "SequenceEndEvent":
            return
        yield _node(event, events, problems, depth + 1)


def _table(events: Iterator[Any], problems: Problems, depth: int, line: int, column: int) -> Table:
    entries: dict[str, tuple[Scalar, Node]] = {}
    for event in events:
        if type(event).__name__ == "MappingEndEvent":
            break
        key = _node(event, events, problems, depth + 1)
        value = _node(next(events), events, problems, depth + 1)
        if not isinstance(key, Scalar):
            problems.add(key, "a key must be plain words")
        elif key.text in entries:
            first = entries[key.text][0].line
            problems.add(key, f"{in_quotes(key.text)} is given twice (first in line {first})")
        else:
            entries[key.text] = (key, value)
    return Table(entries, line, column)
