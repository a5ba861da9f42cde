"""A file with the keys of one book's board, so that an open page comes back after a resume.

For the owner of the account alone, and never part of the book. It opens nothing but the board of a
run that goes on with that book.
"""

from __future__ import annotations

import json
import os
import stat
from pathlib import Path
from typing import Any

from assistant.board.keys import BYTES, Kept
from assistant.config.atomic_write import write_whole
from assistant.config.private_files import PRIVATE_FILE
from assistant.errors import WorldFailedError

MOST_BYTES = 100_000
SHORTEST = BYTES * 8 // 6  # characters of a key that was made here


class KeyFile:
    """book: the name of the journal that the keys belong to."""

    def __init__(self, path: Path, book: str) -> None:
        self._path, self._book = path, book

    def kept(self) -> Kept | None:
        """What was kept for this book.

        None where there is nothing, or a file that anybody else could have read or put there.
        """
        try:
            descriptor = os.open(self._path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
            with os.fdopen(descriptor, "rb") as file:
                found = os.fstat(file.fileno())
                if not stat.S_ISREG(found.st_mode) or found.st_uid != os.getuid():
                    return None
                if stat.S_IMODE(found.st_mode) & ~PRIVATE_FILE:
                    return None
                given = json.loads(file.read(MOST_BYTES))
        except (OSError, ValueError, RecursionError):
            return None
        return _of(given, self._book)

    def keep(self, kept: Kept) -> None:
        """Keep them in the place of what was there; WorldFailedError where that cannot be.

        What was there goes first: a key that was taken back is never left behind.
        """
        try:
            self._path.unlink(missing_ok=True)
        except OSError as trouble:
            why = trouble.strerror or trouble
            raise WorldFailedError(f"{self._path}: cannot be written: {why}") from trouble
        given = {
            "book": self._book, "run_key": kept.run_key, "screens": dict(kept.screens),
            "count": kept.count,
        }  # fmt: skip
        write_whole(self._path, json.dumps(given).encode("ascii"), PRIVATE_FILE)


def _of(given: Any, book: str) -> Kept | None:
    """The keys in the form that `keep` writes, None for any other."""
    if not isinstance(given, dict) or given.get("book") != book:
        return None
    run_key, screens, count = (given.get(name) for name in ("run_key", "screens", "count"))
    if not isinstance(screens, dict) or not isinstance(count, int) or count < len(screens):
        return None
    if not all(_is_key(key) for key in (run_key, *screens)):
        return None
    if not all(isinstance(name, str) for name in screens.values()):
        return None
    return Kept(str(run_key), tuple(screens.items()), count)


def _is_key(key: object) -> bool:
    return isinstance(key, str) and key.isascii() and len(key) >= SHORTEST
