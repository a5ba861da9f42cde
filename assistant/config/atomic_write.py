"""Atomic writes: a file is replaced as a whole, or the old one stays."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from assistant.errors import WorldFailedError


def write_whole(path: Path, content: bytes) -> None:
    """Write a file atomically and sync it; an interrupted write leaves nothing behind.

    A device or a pipe is written to directly. Raises WorldFailedError with the reason.
    """
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(content)
        else:
            _replace(path, content)
    except OSError as trouble:
        why = trouble.strerror or trouble
        raise WorldFailedError(f"{path}: cannot be written: {why}") from trouble


def _replace(path: Path, content: bytes) -> None:
    target = path.resolve()
    descriptor, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(_mode(target))
        Path(name).replace(target)
    except BaseException:  # also KeyboardInterrupt
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise


def _mode(target: Path) -> int:
    """The permissions of the file that is replaced, or those that a new one would get."""
    if target.exists():
        return target.stat().st_mode & 0o777
    umask = os.umask(0)
    os.umask(umask)
    return 0o666 & ~umask
