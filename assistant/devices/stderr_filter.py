"""Keeps what sound libraries write straight to standard error off the person's screen.

They write to the file descriptor, below Python, so it is the descriptor that is turned aside for a
moment; whatever else was written meanwhile, by any thread, is passed on.
"""

from __future__ import annotations

import contextlib
import os
import re
import tempfile
import threading
from collections.abc import Iterator

CHATTER = re.compile(
    rb"^(ALSA lib |Expression '|Cannot connect to server|jack server is not|Jack\w+|\s*$)"
)
_one_at_a_time = threading.Lock()


@contextlib.contextmanager
def filtered_stderr() -> Iterator[None]:
    """Inside, ALSA, PortAudio and JACK are not seen on standard error."""
    with _one_at_a_time, contextlib.ExitStack() as stack:
        try:
            screen = os.dup(2)
        except OSError:  # there is no standard error to keep clean
            yield
            return
        stack.callback(os.close, screen)
        aside = stack.enter_context(tempfile.TemporaryFile())
        os.dup2(aside.fileno(), 2)
        try:
            yield
        finally:
            os.dup2(screen, 2)
            aside.seek(0)
            rest = [line for line in aside.read().splitlines(True) if not CHATTER.match(line)]
            os.write(2, b"".join(rest))


@contextlib.contextmanager
def clean_screen() -> Iterator[None]:
    """For a whole live session: also what the libraries' own threads write, at any moment.

    Standard error goes through a pipe and a thread that leaves their lines out. (`filtered_stderr` cannot do
    this: a card that dies says so in a thread of its own.)
    """
    try:
        screen = os.dup(2)
    except OSError:
        yield
        return
    read, write = os.pipe()
    os.dup2(write, 2)
    os.close(write)
    pump = threading.Thread(target=_pump, args=(read, screen), name="standard error", daemon=True)
    pump.start()
    try:
        yield
    finally:
        os.dup2(screen, 2)  # closes the pipe's last writing end, which ends the pump
        pump.join(2.0)
        os.close(screen)


def _pump(read: int, screen: int) -> None:
    with os.fdopen(read, "rb") as lines:
        for line in lines:
            if not CHATTER.match(line):
                os.write(screen, line)
