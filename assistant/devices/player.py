"""Where sound is played: the sound card, or a list in a test. Knows nothing of words."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from typing import Literal, Protocol

from assistant.devices import device_trial
from assistant.devices.sound import Clip
from assistant.devices.sound_card import SoundCard
from assistant.errors import FootplateError, WorldFailedError

HowEnded = Literal["said", "cut", "failed"]


class Playing(Protocol):
    """A sound being played."""

    def wait(self) -> HowEnded:
        """Return when it has ended, with how it ended."""

    def hush(self) -> None:
        """End it at once, from any thread."""


class Player(Protocol):
    """Something that plays one sound at a time."""

    def play(self, clip: Clip) -> Playing:
        """Begin to play; WorldFailedError when that is impossible now."""

    def ready(self) -> bool:
        """Whether a speaker that failed would play now, found out without a sound.

        It may take some seconds. For one thread at a time, and not while a sound is played.
        """


class CardPlayer:
    """Plays on a speaker of the sound card; after a failure the devices are listed again.

    trial: whether a speaker plays, tried where it harms nobody.
    """

    def __init__(
        self,
        card: SoundCard,
        name: str | None = None,
        trial: Callable[[device_trial.How, str | None], bool] = device_trial.passes,
    ) -> None:
        self._card = card
        self._name = name
        self._trial = trial

    def play(self, clip: Clip) -> Playing:
        """Begin to play; WorldFailedError when the speaker is not there."""
        try:
            return self._card.play(clip, self._card.find(self._name, "speaker"))
        except FootplateError as error:
            with contextlib.suppress(WorldFailedError):  # the first reason is the one to tell
                self._card.refresh()
            raise WorldFailedError(str(error)) from error

    def ready(self) -> bool:
        """Try it with silence in a process of its own.

        Opened just when it comes or goes it may hang, and a process can be ended. True if this
        process has it in its list as well and can open devices.
        """
        if not self._card.can_open() or not self._trial("plays", self._name):
            return False
        return self._listed() or self._listed_anew()

    def _listed(self) -> bool:
        try:
            self._card.find(self._name, "speaker")
        except FootplateError:
            return False
        return True

    def _listed_anew(self) -> bool:
        try:
            return self._card.refresh() and self._listed()
        except WorldFailedError:
            return False


class NoPlayer:
    """No speaker on this machine: every sound fails at once, with the reason."""

    def __init__(self, reason: str) -> None:
        self._reason = reason

    def play(self, clip: Clip) -> Playing:
        """Refuse."""
        raise WorldFailedError(self._reason)

    def ready(self) -> bool:
        """Never."""
        return False


class FakePlaying:
    """Ends when hushed, or when the test says so; at once if it was made `ended`."""

    def __init__(self, ended: bool) -> None:
        self._done = threading.Event()
        self._how: HowEnded = "said"
        if ended:
            self._done.set()

    def wait(self) -> HowEnded:
        """How it ended, as soon as it has; a test that never ends it fails after 5 s."""
        return self._how if self._done.wait(5.0) else "failed"

    def hush(self) -> None:
        """End as cut."""
        if not self._done.is_set():
            self._how = "cut"
            self._done.set()

    def end(self) -> None:
        """End as said."""
        self._done.set()


class FakePlayer:
    """Keeps what was played. `at_once` False: each sound lasts until the test ends it.

    `began` is released with each sound that begins, for a test to wait on.
    """

    def __init__(self, at_once: bool = True, broken: bool = False) -> None:
        self._at_once = at_once
        self.broken = broken
        self.played: list[Clip] = []
        self.playing: list[FakePlaying] = []
        self.began = threading.Semaphore(0)

    def play(self, clip: Clip) -> Playing:
        """Keep it, or refuse while `broken`."""
        if self.broken:
            raise WorldFailedError("no speaker")
        self.played.append(clip)
        self.playing.append(FakePlaying(self._at_once))
        self.began.release()
        return self.playing[-1]

    def ready(self) -> bool:
        """Unless it is `broken`."""
        return not self.broken
