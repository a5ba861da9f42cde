"""Kill writers of a journal at random moments and count what is lost. For tests and the bench.

What a writer has acted upon (reported through a pipe after `sync`) must be in the journal.
"""

from __future__ import annotations

import os
import random
import signal
import time
from dataclasses import dataclass
from pathlib import Path

from assistant.journal import reader
from assistant.journal.header import Header
from assistant.journal.writer import Journal
from assistant.messages import ReadingAccepted, Report, Tick

_HEADER = Header("Killed engine", "2026-05-02T08:15:00+01:00", 1, 101_325.0, ())
LONGEST_LIFE_S = 0.02
WRITERS_A_JOURNAL = 40


@dataclass(frozen=True, slots=True)
class _Tally:
    """What a number of kills did."""

    kills: int
    acted: int  # turns acted upon
    lost: int  # of these, not in the journal afterwards
    torn: int  # times that the last record was cut
    altered: int  # times that the hash chain was broken


def kill_writers(folder: Path, kills: int, seed: int) -> _Tally:
    """Kill so many writers, each going on with the journal of the one before it."""
    rng = random.Random(seed)
    acted = lost = torn = altered = 0
    for first in range(0, kills, WRITERS_A_JOURNAL):
        path = folder / f"killed-{first}{reader.SUFFIX}"
        reported: set[int] = set()
        for _ in range(min(WRITERS_A_JOURNAL, kills - first)):
            reported |= _killed_writer(
                path, rng.uniform(0.0, LONGEST_LIFE_S), young=rng.random() < 0.3
            )
            state = reader.read(path).state if path.exists() else "whole"
            torn += state == "cut"
            altered += state == "altered"
        acted += len(reported)
        lost += len(reported - _written(path))
    return _Tally(kills, acted, lost, torn, altered)


def _written(path: Path) -> set[int]:
    """The turns that a journal holds with their effects."""
    if not path.exists():
        return set()
    return {int(turn.event.at) for turn in reader.read(path).exchanges() if turn.effects}


def _killed_writer(path: Path, life_s: float, young: bool) -> set[int]:
    """One writer; the turns it reported as acted upon. young: may be killed before its first."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        _write_forever(path, writing)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        first = b"" if young else pipe.readline()
        time.sleep(life_s)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        lines = [first, *pipe.readlines()]
    return {int(line) for line in lines if line.endswith(b"\n")}


def _write_forever(path: Path, pipe: int) -> None:
    """The writer: turns written, synced and reported until it is killed. Never returns."""
    try:
        if path.exists() and path.stat().st_size and reader.read(path).header is not None:
            turns = [int(event.at) for event in reader.read(path).events()]
            journal = Journal.reopen(path, _HEADER.engine_name)
        else:
            path.unlink(missing_ok=True)
            turns = []
            journal = Journal.create(path, _HEADER)
        turn = max(turns, default=0)
        while True:
            turn += 1
            journal.event(Tick(float(turn)))
            journal.effect(float(turn), ReadingAccepted(Report("pressure", float(turn), "psi")))
            journal.sync()
            os.write(pipe, f"{turn}\n".encode())
    finally:
        os._exit(1)
