"""Atomic writes: a file is replaced as a whole, or the old one stays."""

from __future__ import annotations

import contextlib
import os
import secrets
from pathlib import Path

from assistant.errors import WorldFailedError


def write_whole(path: Path, content: bytes, mode: int = 0o666) -> None:
    """Write a file atomically and sync it; an interrupted write leaves nothing behind.

    mode: the permissions of a new file, before the user's mask; a file that is there keeps its own.
    A device or a pipe is written to directly. Raises WorldFailedError with the reason.
    """
    try:
        if path.exists() and not path.is_file():
            _write_through(path, content)
        else:
            _replace(path, content, mode)
    except OSError as trouble:
        why = trouble.strerror or trouble
        raise WorldFailedError(f"{path}: cannot be written: {why}") from trouble


def _write_through(path: Path, content: bytes) -> None:
    """Write to a device or a pipe; a pipe that nobody reads is an error and no wait."""
    descriptor = os.open(path, os.O_WRONLY | os.O_NONBLOCK)
    with os.fdopen(descriptor, "wb") as file:
        os.set_blocking(descriptor, True)
        file.write(content)


def _replace(path: Path, content: bytes, mode: int) -> None:
    target = path.resolve()
    unfinished = target.with_name(f".{target.name[:100]}.{secrets.token_hex(6)}")
    descriptor = os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            unfinished.chmod(target.stat().st_mode & 0o777)
        unfinished.replace(target)
    except BaseException:  # also KeyboardInterrupt
        with contextlib.suppress(OSError):
            unfinished.unlink()
        raise
