"""What a journal promises, measured: damage located, cuts and kills survived, a long day in time.

For `footplate bench journal`; slow, so never part of the tests.
"""

from __future__ import annotations

import random
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from assistant.journal import hash_chain, reader
from assistant.journal.header import Header
from assistant.journal.writer import Journal
from assistant.lab.benches.crash_test import kill_writers
from assistant.messages import (
    Alternative,
    Ended,
    Expected,
    Heard,
    Listen,
    ReadingAccepted,
    Report,
    Say,
    Started,
    Tick,
)

TRIALS = 100  # of each kind of damage
_DAY_S = 12 * 3600
_HEADER = Header("Bench engine", "2026-05-02T08:15:00+01:00", 1, 101_325.0, ())


def bench_lines(kills: int = 1000, seed: int = 1) -> Iterator[str]:
    """The lines of the table, as they are found."""
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        day = folder / f"day{reader.SUFFIX}"
        yield f"a day of 12 hours written in {_timed(lambda: write_day(day, _DAY_S)):.2f} s"
        size_mb = day.stat().st_size / 1e6
        yield f"its {size_mb:.1f} MB read back in {_timed(lambda: _read(day)):.2f} s"
        short = folder / f"short{reader.SUFFIX}"
        write_day(short, 1200)
        raw = short.read_bytes()
        for kind, damage in DAMAGES.items():
            located = sum(_is_located(raw, *damage(raw, rng)) for _ in range(TRIALS))
            yield f"{kind}: the place named in {located} of {TRIALS}"
        survived, cuts = cuts_survived(raw)
        yield (
            "cut at every byte of the last three records: "
            f"whole records kept in {survived} of {cuts}"
        )
        yield f"one record brought to this disk: {_sync_ms(folder):.1f} ms (median of 50)"
        began = time.perf_counter()
        tally = kill_writers(folder, kills, seed)
        yield (
            f"{tally.kills} kills in {time.perf_counter() - began:.0f} s: {tally.acted} turns acted"
            f" upon, {tally.lost} lost, {tally.torn} books cut, {tally.altered} broken"
        )


def write_day(path: Path, length_s: int) -> None:
    """A journal of so many seconds: a tick each second, a reading each minute."""
    with Journal.create(path, _HEADER) as journal:
        journal.event(Started(0.0))
        for second in range(length_s):
            journal.event(Tick(second + 0.125))
            if second % 60 == 0:
                _reading(journal, second + 0.5, Report("pressure", second // 60 % 120, "psi"))
        journal.effect(float(length_s), Ended("done"))
        journal.sync()


def _reading(journal: Journal, at: float, report: Report) -> None:
    best = Alternative(report, "pressure seventy five", 0.93)
    journal.event(Heard(at, "held", (best,), 1.2, -0.4, 1.5, "pressure seventy five"))
    journal.effect(at, ReadingAccepted(report))
    journal.effect(at, Say("Seven five. Seventy five."))
    journal.effect(at, Listen(Expected()))


def _timed(job: Callable[[], object]) -> float:
    began = time.perf_counter()
    job()
    return time.perf_counter() - began


def _read(path: Path) -> int:
    return sum(1 for _ in reader.read(path).exchanges())


Damaged = tuple[bytes, int]  # the bytes, and the number of the first bad record


def _changed(raw: bytes, rng: random.Random) -> Damaged:
    place = rng.randrange(len(raw))
    byte = rng.choice([b for b in range(256) if b != raw[place]])
    return raw[:place] + bytes([byte]) + raw[place + 1 :], raw[:place].count(b"\n")


def _removed(raw: bytes, rng: random.Random) -> Damaged:
    lines = raw.splitlines(keepends=True)
    n = rng.randrange(len(lines) - 1)  # only a seal can show that the last is missing
    return b"".join(lines[:n] + lines[n + 1 :]), n


def _swapped(raw: bytes, rng: random.Random) -> Damaged:
    lines = raw.splitlines(keepends=True)
    first, second = sorted(rng.sample(range(len(lines)), 2))
    lines[first], lines[second] = lines[second], lines[first]
    return b"".join(lines), first


def _inserted(raw: bytes, rng: random.Random) -> Damaged:
    lines = raw.splitlines(keepends=True)
    n, copied = rng.randrange(len(lines)), rng.randrange(len(lines))
    bad = n + 1 if copied == n else n  # a copy before its original shows at the original
    return b"".join([*lines[:n], lines[copied], *lines[n:]]), bad


DAMAGES: dict[str, Callable[[bytes, random.Random], Damaged]] = {
    "one byte changed": _changed,
    "a record removed": _removed,
    "two records swapped": _swapped,
    "a record inserted": _inserted,
}


def _is_located(raw: bytes, damaged: bytes, bad: int) -> bool:
    chain = hash_chain.read_chain(damaged)
    return damaged != raw and chain.state == "altered" and chain.where == bad


def cuts_survived(raw: bytes) -> tuple[int, int]:
    """How often every whole record was kept when the journal was cut, and the number of cuts."""
    whole = hash_chain.read_chain(raw).records
    lines = raw.splitlines(keepends=True)
    first = len(raw) - sum(len(line) for line in lines[-3:])
    ends = range(first, len(raw))
    survived = sum(
        hash_chain.read_chain(raw[:end]).records == whole[: raw.count(b"\n", 0, end)]
        for end in ends
    )
    return survived, len(ends)


def _sync_ms(folder: Path) -> float:
    times = []
    with Journal.create(folder / f"sync{reader.SUFFIX}", _HEADER) as journal:
        for turn in range(50):
            journal.event(Tick(float(turn)))
            times.append(_timed(journal.sync) * 1000.0)
    return sorted(times)[25]
