"""One writer for each engine at a time, by a file lock: the system releases it with the process."""

from __future__ import annotations

import contextlib
import os
import re
from pathlib import Path

from assistant.errors import WorldFailedError


class BusyError(WorldFailedError):
    """Another process is writing a journal of this engine."""


class Lock:
    """The right to write the journals of one engine in one folder."""

    def __init__(self, descriptor: int) -> None:
        self._descriptor = descriptor

    def release(self) -> None:
        """Release the lock. A second call does nothing."""
        if self._descriptor >= 0:
            with contextlib.suppress(OSError):
                os.close(self._descriptor)
            self._descriptor = -1


def slug(name: str) -> str:
    """A name as part of a file name.

    >>> slug("Practice engine"), slug("№ 4")
    ('practice-engine', '4')
    """
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "engine"


def lock_engine(folder: Path, engine_name: str) -> Lock:
    """Take the lock of an engine in a folder.

    Raises BusyError when another process holds it, WorldFailedError when the folder cannot be
    written.
    """
    import fcntl

    path = folder / f".{slug(engine_name)}.lock"
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
    except OSError as trouble:
        reason = trouble.strerror or trouble
        raise WorldFailedError(f"{folder}: cannot be written: {reason}") from trouble
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as held:
        holder = os.pread(descriptor, 20, 0).decode("ascii", errors="replace").strip()
        os.close(descriptor)
        who = f" (process {holder})" if holder.isdigit() else ""
        raise BusyError(
            f"another run{who} is already keeping the book of {engine_name}; stop that one first"
        ) from held
    with contextlib.suppress(OSError):  # the process id is only for the message above
        os.ftruncate(descriptor, 0)
        os.pwrite(descriptor, f"{os.getpid()}\n".encode(), 0)
    return Lock(descriptor)
