"""Who may see the board and press on it: keys, compared in constant time. Knows no network.

The key of the run is printed. A pairing code works once, for ten minutes, and gives a screen a key
of its own, which can be taken back. A run that goes on with a book goes on with its keys.
"""

from __future__ import annotations

import contextlib
import secrets
from collections.abc import Callable
from dataclasses import dataclass

from assistant.errors import WorldFailedError

PAIRS_FOR_S = 600.0
BYTES = 18  # of a key: 144 bits


@dataclass(frozen=True, slots=True)
class Kept:
    """What outlives a run, for one that goes on with its book."""

    run_key: str
    """The key that was printed."""
    screens: tuple[tuple[str, str], ...] = ()
    """Each paired screen's key and name."""
    count: int = 0
    """How many screens were paired, with those whose keys were taken back."""


class Keys:
    """The keys of one run.

    now: seconds of a clock that never goes back. kept: those to go on with, None for new ones.
    keep: called with what is to outlive the run, at each change; WorldFailedError where it cannot.
    """

    def __init__(
        self,
        now: Callable[[], float],
        kept: Kept | None = None,
        keep: Callable[[Kept], None] = lambda kept: None,
    ) -> None:
        self._now, self._keep = now, keep
        kept = kept or Kept(secrets.token_urlsafe(BYTES))
        self.run_key = kept.run_key
        self._screens = dict(kept.screens)  # key to the screen's name
        self._code: tuple[str, float] | None = None
        self._count = kept.count

    @property
    def kept(self) -> Kept:
        """What is to outlive the run now."""
        return Kept(self.run_key, tuple(self._screens.items()), self._count)

    def pairing_code(self) -> str:
        """A new code; the one before it ends."""
        code = secrets.token_urlsafe(BYTES)
        self._code = code, self._now() + PAIRS_FOR_S
        return code

    def pair(self, code: str) -> str | None:
        """A key for one screen; None for a code that is wrong, used or too old."""
        if self._code is None:
            return None
        wanted, until = self._code
        if not secrets.compare_digest(code.encode(), wanted.encode()) or self._now() > until:
            return None
        self._code = None
        self._count += 1
        key = secrets.token_urlsafe(BYTES)
        self._screens[key] = f"screen {self._count}"
        with contextlib.suppress(WorldFailedError):  # it is good until the run ends
            self._keep(self.kept)
        return key

    def screen_of(self, key: str) -> str | None:
        """The name of the screen with this key; None for no key of ours."""
        found = "the board" if secrets.compare_digest(key.encode(), self.run_key.encode()) else None
        for known, name in self._screens.items():
            if secrets.compare_digest(key.encode(), known.encode()):
                found = name
        return found

    def take_back(self, screen: str) -> bool:
        """End the key of a paired screen; False where there is none of that name.

        WorldFailedError where it has ended, but may come back with a run that goes on.
        """
        keys = [key for key, name in self._screens.items() if name == screen]
        for key in keys:
            del self._screens[key]
        if keys:
            self._keep(self.kept)
        return bool(keys)
