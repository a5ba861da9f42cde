"""A small journal for the tests of the journal: every kind of first record, turns, an end."""

from __future__ import annotations

from pathlib import Path

from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import (
    Alternative,
    Ended,
    Heard,
    ReadingAccepted,
    Report,
    Say,
    Started,
    Tick,
)

HEADER = Header(
    engine_name="Practice engine",
    started="2026-05-02T08:15:00+01:00",
    seed=7,
    atmosphere_pa=101_325.0,
    kept=(
        KeptText("engine", "practice.yaml", "name: Practice engine\n"),
        KeptText("checklist", "firing.yaml", "name: firing\ntitle: Firing – “first”\n"),
    ),
    how="typed",
)


def write(path: Path, exchanges: int = 10) -> bytes:
    """A journal of so many readings, ended; its bytes."""
    with Journal.create(path, HEADER) as journal:
        journal.event(Started(0.0, None, 7))
        journal.effect(0.0, Say("Good morning."))
        for i in range(exchanges):
            report = Report("pressure", 5.0 * i, "psi")
            heard = Alternative(report, f"pressure {i}", 0.75)
            journal.event(Heard(10.0 + i / 3, "typed", (heard,), text=f"pressure {i}"))
            journal.effect(10.0 + i / 3, ReadingAccepted(report))
            journal.sync()
        journal.event(Tick(100.0))
        journal.effect(100.0, Ended("done"))
        journal.sync()
    return path.read_bytes()
