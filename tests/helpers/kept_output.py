"""An `Out` that keeps what a command writes."""

from __future__ import annotations

from typing import Any


class KeptOutput:
    """Lines for people, JSON records and messages, each in a list."""

    def __init__(self, json: bool = False) -> None:
        self.json = json
        self.lines: list[str] = []
        self.told: list[str] = []
        self.records: list[dict[str, Any]] = []

    def line(self, text: str = "") -> None:
        self.lines.append(text)

    def record(self, record: dict[str, Any]) -> None:
        if self.json:
            self.records.append(record)

    def tell(self, text: str) -> None:
        self.told.append(text)
