"""One writer for each engine at a time, by a file lock: the system releases it with the process."""

from __future__ import annotations

import contextlib
import errno
import hashlib
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


def lock_name(engine_name: str) -> str:
    """The name of an engine's lock file: its slug, and a hash where the slug leaves letters out.

    >>> lock_name("Practice engine"), lock_name("Маша") == lock_name("Даша")
    ('.practice-engine.lock', False)
    """
    stem = slug(engine_name)
    if stem != engine_name.lower().replace(" ", "-"):
        stem += "-" + hashlib.sha256(engine_name.encode("utf-8", "replace")).hexdigest()[:8]
    return f".{stem}.lock"


def lock_engine(folder: Path, engine_name: str) -> Lock:
    """Take the lock of an engine in a folder.

    Raises BusyError when another process holds it, WorldFailedError when the folder cannot be
    written.
    """
    path = folder / lock_name(engine_name)
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW, 0o600)
    except OSError as trouble:
        reason = trouble.strerror or trouble
        raise WorldFailedError(f"{folder}: cannot be written: {reason}") from trouble
    try:
        lock_descriptor(descriptor, engine_name, path)
    except WorldFailedError:
        os.close(descriptor)
        raise
    with contextlib.suppress(OSError):  # the process id is only for the message above
        os.ftruncate(descriptor, 0)
        os.pwrite(descriptor, f"{os.getpid()}\n".encode(), 0)
    return Lock(descriptor)


def lock_descriptor(descriptor: int, engine_name: str, path: Path) -> None:
    """Lock an open file for this process. BusyError when another holds it."""
    import fcntl

    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as trouble:
        if trouble.errno not in (errno.EWOULDBLOCK, errno.EACCES):
            why = trouble.strerror or trouble
            raise WorldFailedError(f"{path}: cannot be locked: {why}") from trouble
        holder = _holder(descriptor)
        who = f" (process {holder})" if holder.isdigit() else ""
        raise BusyError(
            f"another run{who} is already keeping the book of {engine_name}; stop that one first"
        ) from trouble


def _holder(descriptor: int) -> str:
    """The process id in a lock file; of a book that is open for writing only, nothing."""
    try:
        return os.pread(descriptor, 20, 0).decode("ascii", errors="replace").strip()
    except OSError:
        return ""
