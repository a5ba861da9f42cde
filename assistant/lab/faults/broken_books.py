"""Books cut at random bytes and gone on with, and writers killed."""

from __future__ import annotations

import random
import shutil
import tempfile
from pathlib import Path

from assistant.commands.replay import replay
from assistant.commands.resume import resume
from assistant.journal import reader
from assistant.journal.hash_chain import Record
from assistant.lab.benches.crash_test import kill_writers
from assistant.lab.faults import samples as good
from assistant.lab.faults.tally import Tally, demand

RESUMED_EVERY = 50  # one cut in so many is gone on with and replayed
RECENT_BYTES = 20_000  # half of the cuts are made in so much of the end


def cut_books(times: int, seed: int) -> Tally:
    """Of a cut book every whole record is kept; gone on with, it replays the same."""
    tally = Tally()
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        made = good.made_book(folder)
        raw, whole = made.read_bytes(), reader.read(made)
        head = sum(len(line) for line in raw.splitlines(keepends=True)[: _head(whole)])
        path = folder / "cut" / made.name
        path.parent.mkdir()
        for number in range(times):
            least = max(0, len(raw) - RECENT_BYTES) if number % 2 else 0
            end = rng.randrange(least, len(raw))
            path.write_bytes(raw[:end])
            with tally.trial(f"cut {number} at byte {end}"):
                _judge(path, raw[:end], whole.records)
                if number % RESUMED_EVERY == 0 and end > head:
                    _go_on(path, str(whole.start_record and whole.start_record["engine_name"]))
    return tally


def _head(whole: reader.JournalRecords) -> int:
    """The number of the first records, of which a session is made."""
    return 1 + len(reader.require_header(whole).kept)


def _judge(path: Path, raw: bytes, records: tuple[Record, ...]) -> None:
    found = reader.read(path)
    kept = raw.count(b"\n")
    demand(found.records == records[:kept], "a whole record is lost")
    expected = "whole" if raw.endswith(b"\n") or not raw else "cut"
    demand(found.state == expected, f"it is told {found.state}, and is {expected}")


def _go_on(path: Path, engine_name: str) -> None:
    if reader.read(path).finished:
        return
    start = resume(path.parent, engine_name)
    with start.journal as journal:
        journal.event(start.first)
        for effect in start.session.handle(start.first):
            journal.effect(start.first.at, effect)
        journal.sync()
    demand(reader.read(path).state == "whole", "gone on with, it is not whole")
    demand(not replay(path).differing, "gone on with, it replays otherwise")


def killed_writers(times: int, seed: int) -> Tally:
    """What a killed writer had acted upon is in the book; no chain is broken."""
    tally = Tally()
    folder = Path(tempfile.mkdtemp())
    try:
        found = kill_writers(folder, times, seed)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    tally.tried = found.kills
    tally.failures += [f"a turn acted upon is not in the book (seed {seed})"] * found.lost
    tally.failures += [f"a chain is broken by a kill (seed {seed})"] * found.altered
    return tally
