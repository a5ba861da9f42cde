"""One line of the index of journals."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from assistant.journal.hash_chain import State
from assistant.messages import Report


@dataclass(frozen=True, slots=True)
class IndexEntry:
    """One journal of a folder."""

    path: Path
    engine_name: str
    started: str
    """ISO 8601, as written."""
    length_s: float
    peak: Report | None
    """The highest pressure reading as reported, None without any."""
    alarms: int
    """Number of alarms raised."""
    in_steam_s: float
    """From the first to the last pressure reading above zero."""
    sealed: str | None
    """The digest of its seal, None when it is not sealed."""
    finished: bool
    """Whether its session ended."""
    state: State
