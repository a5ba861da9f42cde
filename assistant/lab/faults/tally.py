"""What a part of the bench found: how many were tried, and what failed, in words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

MOST_SHOWN = 10  # failures of a part that are printed


@dataclass
class Tally:
    """Counts of one part."""

    tried: int = 0
    failures: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    """Figures beside the counts, a line each."""

    @contextmanager
    def trial(self, what: str) -> Iterator[None]:
        """One trial; whatever escapes from it is its failure."""
        self.tried += 1
        try:
            yield
        except Exception as trouble:
            self.failures.append(f"{what}: {type(trouble).__name__}: {trouble}"[:500])

    def add(self, other: Tally) -> None:
        """Put another tally to this one."""
        self.tried += other.tried
        self.failures += other.failures
        self.notes += other.notes


class NotKeptError(Exception):
    """A promise was not kept."""


def demand(kept: bool, promise: str) -> None:
    """Raise NotKeptError with the promise unless it was kept."""
    if not kept:
        raise NotKeptError(promise)
