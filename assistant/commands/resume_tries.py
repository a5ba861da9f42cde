"""How often the last book was gone on with in vain, so that one that hangs is not tried for ever.

A small file beside the journals. Knows nothing of what is in them.
"""

from __future__ import annotations

import contextlib
from pathlib import Path

from assistant.journal.lock import lock_name

MOST_TRIES = 2  # one may have been cut short by the plug. Judgement
SETTLED_S = 120.0  # a run that lasted so long has not failed for its book. Judgement


class ResumeTries:
    """The tries of one engine in one folder. A folder that takes no file costs the count only."""

    def __init__(self, folder: Path, engine_name: str) -> None:
        self._file = folder / (lock_name(engine_name).removesuffix(".lock") + ".tries")

    def objection(self) -> str:
        """Why it is not to be tried once more; empty when it is."""
        tries = self._tries()
        return f"it was tried {tries} times in vain" if tries >= MOST_TRIES else ""

    def begin(self) -> None:
        """Count a try."""
        tries = self._tries() + 1
        with contextlib.suppress(OSError):
            if self._file.parent.is_dir():
                self._file.write_text(f"{tries}\n", encoding="ascii")

    def over(self) -> None:
        """It went well, or is not tried again: forget the count."""
        with contextlib.suppress(OSError):
            self._file.unlink(missing_ok=True)

    def _tries(self) -> int:
        try:
            text = self._file.read_bytes()[:20].decode("ascii").strip()
        except (OSError, ValueError):
            return 0
        return int(text) if text.isdigit() else 0
