"""Who may see the board and press on it: keys, compared in constant time. Knows no network.

The key of the run is printed. A pairing code works once, for ten minutes, and gives a screen a key
of its own, which can be taken back.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable

PAIRS_FOR_S = 600.0
BYTES = 18  # of a key: 144 bits


class Keys:
    """The keys of one run. now: seconds of a clock that never goes back."""

    def __init__(self, now: Callable[[], float]) -> None:
        self._now = now
        self.run_key = secrets.token_urlsafe(BYTES)
        self._screens: dict[str, str] = {}  # key to the screen's name
        self._code: tuple[str, float] | None = None
        self._count = 0

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
        return key

    def screen_of(self, key: str) -> str | None:
        """The name of the screen with this key; None for no key of ours."""
        found = "the board" if secrets.compare_digest(key.encode(), self.run_key.encode()) else None
        for known, name in self._screens.items():
            if secrets.compare_digest(key.encode(), known.encode()):
                found = name
        return found

    def take_back(self, screen: str) -> bool:
        """End the key of a paired screen; False where there is none of that name."""
        keys = [key for key, name in self._screens.items() if name == screen]
        for key in keys:
            del self._screens[key]
        return bool(keys)
