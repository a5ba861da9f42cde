"""How often the last book was gone on with in vain, so that one that hangs is not tried for ever.

A small file beside the journals. A try that was not ended well counts as hung where the next
start, within one run of the machine, comes so late that the watchdog must have ended it; otherwise
it was cut short, as by a plug that is pulled, and that may be often. Knows nothing of the books.
"""

from __future__ import annotations

import contextlib
import time
from dataclasses import dataclass
from pathlib import Path

from assistant.journal.lock import lock_name

MOST_HUNG = 2  # of a book that hangs. Judgement
MOST_CUT_SHORT = 12  # before it took an event: the plug flickers, or it dies of the book. Judgement
SETTLED_S = 10.0  # a run whose loop went round so long does not hang for its book. Judgement
HUNG_S = 25.0  # less than the watchdog's 30 s, more than SETTLED_S with a start before it
_BOOT = Path("/proc/sys/kernel/random/boot_id")


@dataclass(frozen=True, slots=True)
class _Kept:
    """What is in the file."""

    hung: int
    cut_short: int
    boot: str
    """Which run of the machine the last try was begun in."""
    began_s: float
    """When, by a clock that runs from the machine's start."""


class ResumeTries:
    """The tries of one engine in one folder. A folder that takes no file costs the count only."""

    def __init__(self, folder: Path, engine_name: str) -> None:
        self._file = folder / (lock_name(engine_name).removesuffix(".lock") + ".tries")

    def objection(self) -> str:
        """Why it is not to be tried once more; empty when it is."""
        hung, cut_short = self._counts()
        if hung >= MOST_HUNG or cut_short >= MOST_CUT_SHORT:
            return f"it was tried {hung + cut_short} times in vain"
        return ""

    def begin(self) -> None:
        """Count a try."""
        self._write(*self._counts())

    def goes_round(self) -> None:
        """The session was rebuilt and takes events: the book cuts no try short, and if it ends now
        the next start counts none.
        """
        kept = self._kept()
        self._write(0 if kept is None else kept.hung, -1)

    def over(self) -> None:
        """It went well, or is not tried again: forget the count."""
        with contextlib.suppress(OSError):
            self._file.unlink(missing_ok=True)

    def _write(self, hung: int, cut_short: int) -> None:
        with contextlib.suppress(OSError):
            if self._file.parent.is_dir():
                words = f"{hung} {cut_short} {_boot()} {_now_s():.1f}\n"
                self._file.write_text(words, encoding="ascii")

    def _counts(self) -> tuple[int, int]:
        """How many tries hung, and were cut short, with the last, which nobody ended well."""
        kept = self._kept()
        if kept is None:
            return 0, 0
        if kept.boot == _boot() and _now_s() - kept.began_s >= HUNG_S:
            return kept.hung + 1, kept.cut_short
        return kept.hung, kept.cut_short + 1

    def _kept(self) -> _Kept | None:
        try:
            hung, cut_short, boot, began = self._file.read_bytes()[:200].decode("ascii").split()
            return _Kept(int(hung), int(cut_short), boot, float(began))
        except (OSError, ValueError):
            return None


def _boot() -> str:
    """Which run of the machine this is."""
    try:
        return _BOOT.read_text(encoding="ascii").strip() or "unknown"
    except (OSError, ValueError):
        return "unknown"


def _now_s() -> float:
    """Seconds of a clock that no one sets."""
    return time.monotonic()
