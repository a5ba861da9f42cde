"""What is long and what is many, in time: a day of 24 hours, 1,000 journals, 10,000 mistakes.

Commands run in processes of their own, as a person starts them. For `footplate bench journal`;
slow, so never part of the tests.
"""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from assistant.app import Loop
from assistant.commands.session_build import checked_session_config, header_of
from assistant.config import engine_file
from assistant.dialogue.session import Session
from assistant.journal import reader
from assistant.journal.index_file import NAME as INDEX
from assistant.journal.writer import Journal
from assistant.messages import Started, Tick
from assistant.recogniser.typed_recogniser import hear_typed

ENGINE, STARTED = "practice", "2026-05-02T08:15:00+01:00"
DAY_S = 24 * 3600.0
CALL_S = 300.0  # between two calls of the pressure
LOW_PSI, HIGH_PSI = 20, 118  # between which it wanders
ASKED = ("how long", "where are we", "why", "what next")
SOME_KB = 488  # of one of many journals: a steam-up of some hours
MISTAKES = 10_000
LONGEST_S = 600.0
DUE = "due: {washout: {every_in_steam: 50 hours}}\n"

OWED_S = {
    "resumed": 5.0,
    "replayed": 20.0,
    "a start": 2.0,
    "journals": 3.0,
    "mistakes": 2.0,
}


def day_lines(hours: float, seed: int = 1) -> list[tuple[float, str]]:
    """What is said, and when [s]: a pressure that wanders, a question after each, the water.

    >>> [words for _, words in day_lines(0.4)][:5]
    ["that's right", 'fire lit', 'water half', 'pressure 59', 'how long']
    """
    rng, psi = random.Random(seed), 60
    lines = [(20.0, "that's right"), (40.0, "fire lit"), (50.0, "water half")]
    for number in range(1, int(hours * 3600.0 / CALL_S)):
        psi = min(max(psi + rng.choice((-2, -1, 1, 2)), LOW_PSI), HIGH_PSI)
        at = number * CALL_S
        lines += [(at, f"pressure {psi}"), (at + 30.0, ASKED[(number - 1) % len(ASKED)])]
        lines.append((at + 60.0, "water half"))
    return lines


def write_day(path: Path, hours: float, tick_s: float = 1.0) -> int:
    """A journal of such a day, left without an end; how many events are in it."""
    header = header_of(engine_file.find_engine(ENGINE), STARTED, 0, "live")
    session = Session(checked_session_config(header))
    count = 1
    with Journal.create(path, header) as journal:
        loop = Loop(session, journal)
        loop.process(Started(0.0))
        now = 0.0
        for at, words in day_lines(hours):
            while now + tick_s < at:
                now, count = now + tick_s, count + 1
                loop.process(Tick(now))
            loop.process(hear_typed(words, session.expected, at))
            now, count = at, count + 1
    return count


def bench_lines(hours: float = 24.0, journals: int = 1000) -> Iterator[str]:
    """The lines of the table, as they are found."""
    yield "commands in processes of their own, one at a time"
    with tempfile.TemporaryDirectory() as name:
        yield from _long_day(Path(name), hours)
    with tempfile.TemporaryDirectory() as name:
        yield from _many_journals(Path(name), journals)
    with tempfile.TemporaryDirectory() as name:
        yield from _many_mistakes(Path(name))


def _long_day(folder: Path, hours: float) -> Iterator[str]:
    path = reader.new_path(folder, engine_file.find_engine(ENGINE).engine.name, STARTED)
    events = write_day(path, hours)
    size_mb = path.stat().st_size / 1e6
    yield (
        f"a day of {hours:g} hours, a wandering pressure and as many questions: "
        f"{events} events, {size_mb:.1f} MB"
    )
    yield _timed("replayed", "replayed", "replay", path)
    yield _timed("resumed, to its end", "resumed", *_typed(folder), "--resume")


def _many_journals(folder: Path, journals: int) -> Iterator[str]:
    one = folder / "one.jsonl"
    hours = 0.25
    while True:
        write_day(one, hours)
        if one.stat().st_size > 1000 * SOME_KB:
            break
        one.unlink()
        hours += 0.25
    _ended(one)
    size_kb = one.stat().st_size / 1e3
    books = folder / "books"
    books.mkdir()
    for number in range(journals):
        started = (
            f"2026-{1 + number // 84:02d}-{1 + number // 3 % 28:02d}T{6 + number % 3:02d}:00:00"
        )
        shutil.copyfile(one, reader.new_path(books, "Practice engine", started))
    yield f"{journals} journals of {size_kb:.0f} kB"
    yield _timed("journals, no index there", "", "journals", books)
    yield _timed("journals", "journals", "journals", books)
    (books / INDEX).write_text("{}\n")
    yield _timed("journals, a wrong index there", "", "journals", books)
    engine = folder / "engine.yaml"
    engine.write_text(engine_file.find_engine(ENGINE).path.read_text(encoding="utf-8") + DUE)
    yield _timed("a start", "a start", *_typed(books))
    yield _timed("a start with a due date by hours", "a start", *_typed(books, engine))
    (books / INDEX).unlink()
    yield _timed("a start with it, no index there", "", *_typed(books, engine))
    _end_all(books)
    yield _timed("--resume with nothing to resume", "a start", *_typed(books), "--resume")


def _many_mistakes(folder: Path) -> Iterator[str]:
    readings = folder / "readings.csv"
    rows = (f"00:{i // 60 % 60:02d}:{i % 60:02d},pressure,{i},furlong\n" for i in range(MISTAKES))
    readings.write_text("time,what,value,unit\n" + "".join(rows))
    engine = folder / "engine.yaml"
    engine.write_text("".join(f"nonsense{i}: x\n" for i in range(MISTAKES)))
    script = folder / "script.txt"
    script.write_text("no line of a script\n" * MISTAKES)
    yield f"{MISTAKES} mistakes"
    yield _timed("of a readings file", "mistakes", "check", readings)
    yield _timed("of an engine file", "mistakes", "check", engine)
    yield _timed("of a script", "mistakes", "run", "--script", script, "--out", folder)


def _typed(folder: Path, engine: Path | str = ENGINE) -> tuple[object, ...]:
    """A run by typed lines, which ends at once."""
    return ("run", "--typed", "--mute", "--engine", engine, "--out", folder)


def _ended(path: Path) -> None:
    """Bring a journal to its end."""
    _run("run", "--typed", "--mute", "--engine", ENGINE, "--out", path.parent, "--resume")


def _end_all(folder: Path) -> None:
    """Take away what the starts left behind, so that every journal has ended."""
    for path in folder.glob(f"*{reader.SUFFIX}"):
        if not reader.read(path).finished:
            path.unlink()


def _run(*words: object) -> tuple[float, float]:
    """Run a command to its end: seconds by the clock, and of the processor."""
    before, began = os.times(), time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "assistant.cli", *map(str, words)],
        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        timeout=LONGEST_S, check=False,
    )  # fmt: skip
    took_s, after = time.perf_counter() - began, os.times()
    busy_s = after.children_user + after.children_system
    return took_s, busy_s - before.children_user - before.children_system


def _timed(label: str, owed: str, *words: object) -> str:
    """A line for a command. owed: which bound it is held to; empty for none."""
    took_s, busy_s = _run(*words)
    line = f"{label}: {took_s:.2f} s ({busy_s:.2f} s of a processor)"
    if not owed:
        return line
    met = "met" if busy_s < OWED_S[owed] else "NOT MET"
    return f"{line}; owed: under {OWED_S[owed]:g} s: {met}"
