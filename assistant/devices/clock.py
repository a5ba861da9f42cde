"""Where time comes from: seconds since the session began. Knows nothing else of the session."""

from __future__ import annotations

import threading
import time
from typing import Protocol


class Clock(Protocol):
    """A clock that starts at the beginning of the session."""

    def now(self) -> float:
        """Seconds since the session began; never goes back."""

    def sleep(self, seconds: float) -> None:
        """Let this much time pass."""


def _steady_s() -> float:
    """Seconds of a clock that also runs while the computer is suspended: the fire burns on."""
    boot_time = getattr(time, "CLOCK_BOOTTIME", None)
    return time.monotonic() if boot_time is None else time.clock_gettime(boot_time)


class RealClock:
    """Real time. `start_s`: where a resumed session left off."""

    def __init__(self, start_s: float = 0.0) -> None:
        self._zero_s = _steady_s() - start_s

    def now(self) -> float:
        """Seconds since the session began."""
        return _steady_s() - self._zero_s

    def sleep(self, seconds: float) -> None:
        """Wait."""
        time.sleep(max(0.0, seconds))


class FakeClock:
    """Time that passes only when it is moved; sleeping moves it. Safe to read from any thread.

    >>> clock = FakeClock()
    >>> clock.sleep(2.5)
    >>> clock.now()
    2.5
    """

    def __init__(self, start_s: float = 0.0) -> None:
        self._now_s = start_s
        self._lock = threading.Lock()

    def now(self) -> float:
        """Seconds since the session began."""
        with self._lock:
            return self._now_s

    def sleep(self, seconds: float) -> None:
        """Move on by `seconds` without waiting."""
        with self._lock:
            self._now_s += max(0.0, seconds)

    def move_to(self, at_s: float) -> None:
        """Move on to `at_s`; a time already past leaves the clock as it is."""
        with self._lock:
            self._now_s = max(self._now_s, at_s)
