"""A live run that begins anew as another process, with the same book: for what only that mends.

A sound library in which a call never comes back, or many (a device that died while it was started),
opens no device for as long as the process lives.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from assistant.errors import WorldFailedError

COMMAND = "run"
BOOKS = frozenset({"--resume", "--resume-or-begin"})
PHASE = "--from"
HANGS = "the sound library does not come back"


class SoundHangsError(WorldFailedError):
    """Sound goes neither in nor out any more in this process; the book can be gone on with."""


def same_book(words: Sequence[str]) -> list[str]:
    """The words of the command line with which a run goes on with its book; empty: none are known.

    >>> same_book(["run", "--engine", "mine.yaml", "--from", "pumping", "--board"])
    ['run', '--engine', 'mine.yaml', '--board', '--resume']
    """
    if COMMAND not in words:
        return []
    phases = {place + 1 for place, word in enumerate(words) if word == PHASE}
    kept = (
        word
        for place, word in enumerate(words)
        if place not in phases and word not in BOOKS and word.partition("=")[0] != PHASE
    )
    return [*kept, "--resume"]


def begin_anew(words: Sequence[str]) -> None:
    """Take the place of this process. It comes back only where the words are not known."""
    again = same_book(words)
    if again:
        sys.stdout.flush()
        sys.stderr.flush()
        os.execv(sys.executable, [sys.executable, "-m", "assistant.cli", *again])
