"""Where a command writes: lines for people, JSON for programs, messages beside the result."""

from __future__ import annotations

from typing import Any, Protocol


class Out(Protocol):
    """Standard output and standard error, as the command line was asked to use them."""

    json: bool

    def line(self, text: str = "") -> None:
        """A line for a person; with --json it goes to standard error instead."""

    def record(self, record: dict[str, Any]) -> None:
        """One JSON object on a line of its own, only with --json."""

    def tell(self, text: str) -> None:
        """A message beside the result, always on standard error."""
