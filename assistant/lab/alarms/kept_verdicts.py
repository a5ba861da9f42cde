"""Verdicts in a file, one a line as they come, so that a long bench can be gone on with.

Knows the file and the commit; plays nothing. A verdict of another commit counts for nothing.
"""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path
from typing import Any

from assistant.errors import InputWrongError
from assistant.lab.alarms.verdict import Verdict

Which = tuple[str, str, int]  # fault, operator, seed


class KeptVerdicts:
    """The verdicts of one commit in a file."""

    def __init__(self, file: Path, commit: str) -> None:
        self._file, self._commit = file, commit
        self._found: dict[Which, Verdict] = {}
        if file.exists():
            for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
                self._read(line, number)

    def _read(self, line: str, number: int) -> None:
        try:
            kept = json.loads(line)
            if kept["commit"] == self._commit:
                self._keep(Verdict(**{key: _frozen(v) for key, v in kept["verdict"].items()}))
        except (ValueError, KeyError, TypeError) as wrong:
            raise InputWrongError(f"{self._file}:{number}: not a kept verdict") from wrong

    def _keep(self, verdict: Verdict) -> None:
        self._found[verdict.fault, verdict.operator, verdict.seed] = verdict

    def get(self, fault: str, operator: str, seed: int) -> Verdict | None:
        """The verdict on a practice, if it was played."""
        return self._found.get((fault, operator, seed))

    def add(self, verdict: Verdict) -> None:
        """One more, on the disk before it counts."""
        line = {"commit": self._commit, "verdict": dataclasses.asdict(verdict)}
        with self._file.open("a", encoding="utf-8") as out:
            out.write(json.dumps(line) + "\n")
        self._keep(verdict)


def _frozen(value: Any) -> Any:
    """Lists were tuples."""
    return tuple(map(_frozen, value)) if isinstance(value, list) else value
