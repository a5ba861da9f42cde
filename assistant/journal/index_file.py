"""The index of a folder, kept in a file so that a thousand journals need not be read each time.

It saves time and proves nothing: an entry counts only while its journal's file is the same by size,
dates and number, and a file that is missing or not as it was written is made anew.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

from assistant import __version__
from assistant.config.atomic_write import write_whole
from assistant.config.positioned_yaml import read_bytes
from assistant.config.private_files import PRIVATE_FILE
from assistant.errors import FootplateError, WorldFailedError
from assistant.journal.index_entry import IndexEntry
from assistant.messages import Report

NAME = ".journals.index"
_MAX_BYTES = 100_000_000
_LEAST_NEW = 5  # so few journals are read again sooner than the file is written

Stamp = tuple[int, int, int, int]


def stamp_of(path: Path) -> Stamp | None:
    """What changes with the file: its size, its two dates and its number; None without a file."""
    try:
        now = path.stat()
    except OSError:
        return None
    return now.st_size, now.st_mtime_ns, now.st_ctime_ns, now.st_ino


class KeptIndex:
    """The entries of one folder as they were kept, and those that are new."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._kept = _read(folder / NAME)
        self._new: dict[str, tuple[Stamp, IndexEntry]] = {}

    def entry(self, path: Path) -> IndexEntry | None:
        """The entry of a journal that is as it was when it was kept."""
        stamp, values = self._kept.get(path.name, (None, None))
        if stamp is None or stamp_of(path) != tuple(stamp):
            return None
        return _entry(path, values)

    def add(self, stamp: Stamp | None, entry: IndexEntry) -> None:
        """Keep an entry; stamp: of the file before it was read."""
        if stamp is not None and entry.state == "whole":
            self._new[entry.path.name] = stamp, entry

    def write(self, names: Iterable[str]) -> None:
        """Write the entries of the journals of these names. A folder that takes none costs time."""
        file = self._folder / NAME
        if len(self._new) < _LEAST_NEW or (os.path.lexists(file) and not file.is_file()):
            return
        books = {name: self._kept[name] for name in names if name in self._kept}
        for name, (stamp, entry) in self._new.items():
            values = asdict(entry) | {"path": None}
            books[name] = [list(stamp), values]
        text = json.dumps(books, separators=(",", ":"))
        head = json.dumps({"program": __version__, "sum": _sum(text)})
        with suppress(WorldFailedError):
            write_whole(file, f"{head}\n{text}".encode(), PRIVATE_FILE)


def _sum(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _read(file: Path) -> dict[str, Any]:
    """The entries of the file by name; none when it is not as this version wrote it."""
    if not os.path.lexists(file):
        return {}
    try:
        head, _, text = read_bytes(file, _MAX_BYTES).decode("utf-8").partition("\n")
        first = json.loads(head)
        if first != {"program": __version__, "sum": _sum(text)}:
            return {}
        books = json.loads(text)
    except (FootplateError, ValueError, RecursionError):
        return {}
    return books if isinstance(books, dict) else {}


def _entry(path: Path, values: Any) -> IndexEntry | None:
    try:
        peak = None if values["peak"] is None else Report(**values["peak"])
        return IndexEntry(**{**values, "path": path, "peak": peak})
    except (KeyError, TypeError):
        return None
