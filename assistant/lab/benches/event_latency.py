"""How long the session takes over one event, in an invented day that is written to a book.

For `footplate bench events`; slow, so never part of the tests.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from assistant.app import Loop
from assistant.commands.session_build import checked_session_config, header_of
from assistant.config import engine_file
from assistant.dialogue.session import Session
from assistant.journal.writer import Journal
from assistant.lab.benches import journal_day
from assistant.messages import Effect, Event, Heard

MOST_AT_99_MS, MOST_MS = 100.0, 500.0
_RAISED_MIN = journal_day.FIRST_ROUND + journal_day.STAND_MIN + 60  # of the day, but its rounds


class _Clocked:
    """Handles events and keeps how long each took [ms]."""

    def __init__(self, loop: Loop) -> None:
        self._loop = loop
        self.heard_ms: list[float] = []
        self.other_ms: list[float] = []

    def turn(self, event: Event) -> list[Effect]:
        """Handle one event: book, session, book, performers."""
        began = time.perf_counter()
        effects = self._loop.process(event)
        took_ms = 1000.0 * (time.perf_counter() - began)
        (self.heard_ms if isinstance(event, Heard) else self.other_ms).append(took_ms)
        return effects


def bench_lines(engine: str, hours: float) -> Iterator[str]:
    """The lines of the table: how long events took, those with a report first."""
    clocked = _day(engine, hours)
    yield f"a day of {hours:g} hours on the {engine} engine, every event written to the book"
    yield ""
    yield "| event | count | median ms | 99 % ms | most ms |"
    yield "|---|---|---|---|---|"
    for name, took_ms in (("utterance", clocked.heard_ms), ("time and sound", clocked.other_ms)):
        median, high = np.percentile(took_ms, (50, 99))
        yield f"| {name} | {len(took_ms)} | {median:.2f} | {high:.1f} | {max(took_ms):.1f} |"
    high, most = np.percentile(clocked.heard_ms, 99), max(clocked.heard_ms)
    good = high < MOST_AT_99_MS and most < MOST_MS
    yield ""
    yield (
        f"owed: under {MOST_AT_99_MS:.0f} ms at 99 %, {MOST_MS:.0f} ms at most: "
        f"{'met' if good else 'NOT MET'}"
    )


def _day(engine: str, hours: float) -> _Clocked:
    header = header_of(engine_file.find_engine(engine), journal_day.STARTED, 0, "live")
    session = Session(checked_session_config(header))
    rounds = max(int((60.0 * hours - _RAISED_MIN) / journal_day.ROUND_MIN), 1)
    with (
        tempfile.TemporaryDirectory() as folder,
        Journal.create(Path(folder) / "day.jsonl", header) as journal,
    ):
        clocked = _Clocked(Loop(session, journal))
        for _ in journal_day.day_events(session, clocked.turn, rounds, 3600.0 * hours):
            pass
    return clocked
