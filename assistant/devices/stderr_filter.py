"""Keeps the messages that sound libraries write to standard error off the operator's screen.

They write to the file descriptor, below Python, so the descriptor itself is redirected for a
moment; whatever else was written meanwhile, by any thread, is passed on.
"""

from __future__ import annotations

import contextlib
import os
import re
import select
import tempfile
import threading
from collections.abc import Iterator
from typing import IO

CHATTER = re.compile(
    rb"^(ALSA lib |Expression '|Cannot connect to server|jack server is not|Jack\w+|\s*$)"
)
_redirecting = threading.Lock()


@contextlib.contextmanager
def filtered_stderr() -> Iterator[None]:
    """While inside, messages of ALSA, PortAudio and JACK do not reach standard error."""
    with _redirecting, contextlib.ExitStack() as stack:
        try:
            screen = os.dup(2)
        except OSError:  # there is no standard error to keep clean
            yield
            return
        stack.callback(os.close, screen)
        try:
            captured = stack.enter_context(_unnamed_file())
        except OSError:  # no room anywhere: the chatter is the lesser trouble
            yield
            return
        os.dup2(captured.fileno(), 2)
        try:
            yield
        finally:
            os.dup2(screen, 2)
            captured.seek(0)
            others = [line for line in captured.read().splitlines(True) if not CHATTER.match(line)]
            if others:
                _write_if_taken(2, b"".join(others))


def _unnamed_file() -> IO[bytes]:
    """A file in memory where that exists: no folder for temporary files is needed."""
    if hasattr(os, "memfd_create"):
        return os.fdopen(os.memfd_create("stderr"), "w+b")
    return tempfile.TemporaryFile()


def _write_if_taken(screen: int, line: bytes) -> None:
    """Write, unless the terminal is stopped or gone: a message of a library is not worth a wait."""
    with contextlib.suppress(OSError):
        if select.select([], [screen], [], 0.1)[1]:
            os.write(screen, line)


@contextlib.contextmanager
def filtered_stderr_throughout() -> Iterator[None]:
    """For a whole live session: also what the libraries' own threads write, at any moment.

    Standard error goes through a pipe and a thread that leaves their lines out. `filtered_stderr`
    is not enough: a card that dies says so in a thread of its own.
    """
    try:
        screen = os.dup(2)
    except OSError:
        yield
        return
    read, write = os.pipe()
    os.dup2(write, 2)
    os.close(write)
    filtering = threading.Thread(
        target=_filter, args=(read, screen), name="standard error", daemon=True
    )
    filtering.start()
    try:
        yield
    finally:
        os.dup2(screen, 2)  # closes the pipe's last writing end, which ends the thread
        filtering.join(2.0)
        os.close(screen)


def _filter(read: int, screen: int) -> None:
    with os.fdopen(read, "rb") as lines:
        for line in lines:
            if not CHATTER.match(line):
                _write_if_taken(screen, line)
