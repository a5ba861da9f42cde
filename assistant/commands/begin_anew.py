"""A live run that begins anew as another process, with the same book: for what only that mends.

A sound library in which a call never comes back, or many (a device that died while it was started),
opens no device for as long as the process lives.
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable, Sequence

from assistant.devices import device_trial
from assistant.devices.device_list import Direction
from assistant.devices.sound_card import SoundCard
from assistant.errors import WorldFailedError

COMMAND = "run"
BOOKS = frozenset({"--resume", "--resume-or-begin"})
PHASE = "--from"
HANGS = "the sound library does not come back"
TRY_S = 2.0  # between trials of the devices


class SoundHangsError(WorldFailedError):
    """Sound goes neither in nor out any more in this process; the book can be gone on with."""


class NewStart:
    """When to begin anew: the sound library hangs here, and a new process would have its devices.

    A start that finds no microphone fails, and one that finds no loudspeaker is silent for good.
    """

    def __init__(
        self,
        devices: Sequence[tuple[Direction, str | None]],
        works: Callable[[Direction, str | None], bool] = device_trial.passes,
    ) -> None:
        self._devices = devices
        self._works = works
        self._all_work = False
        self._trial: threading.Thread | None = None

    def due(self) -> bool:
        """Whether it is time; to be asked again and again. It returns at once."""
        if not SoundCard.hangs():
            self._all_work = False
            return False
        if not self._all_work and (self._trial is None or not self._trial.is_alive()):
            self._trial = threading.Thread(target=self._try, name="trial of devices", daemon=True)
            self._trial.start()
        return self._all_work

    def _try(self) -> None:
        self._all_work = all(self._works(direction, name) for direction, name in self._devices)
        if not self._all_work:
            threading.Event().wait(TRY_S)


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
