"""What goes wrong around a live run: killed, disk full, terminal stopped or gone, nothing to open.

Each in a process of its own, by the real clock.
"""

from __future__ import annotations

import contextlib
import os
import pty
import random
import resource
import shutil
import signal
import tempfile
import termios
import time
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

from assistant.journal import reader
from assistant.lab.faults.live_run import HURT, PROGRAM, RAISED, LiveRun
from assistant.lab.faults.tally import Tally, demand

Program = tuple[str, ...]
LINES = ("that's right", "water half", "correct", "fire lit", "pressure sixty", "where are we")
ASKED = "what can i say"
ANSWERED = "In trouble: "
ROOM_BYTES = 60_000  # more than the session of a full disk writes behind its first records
LONGEST_LIFE_S = 1.0  # of a run, after the first line was typed
FEW_FILES = (4, 60)  # descriptors that a start is given, from few to enough
TOLD_LOST = "The book cannot be written"


def killed_runs(times: int, seed: int, program: Program = PROGRAM) -> Tally:
    """What was shown before a SIGKILL is in the book."""
    tally, rng = Tally(), random.Random(seed)
    for number in range(times):
        with tally.trial(f"kill {number}"), LiveRun(program) as run:
            run.until_begun()
            run.types(*LINES[: rng.randrange(len(LINES)) + 1])
            time.sleep(rng.uniform(0.0, LONGEST_LIFE_S))
            run.process.kill()
            run.process.wait()
            told = [line for line in run.shown.splitlines() if "  says " in line]
            assert run.book is not None
            kept = reader.read(run.book)
            demand(kept.state != "altered", "its chain is broken")
            said = sum(b'{"is":"Say"' in line for line in run.book.read_bytes().split(b"\n"))
            demand(said >= len(told), f"{len(told)} were told, {said} are in the book")
    return tally


def full_disks(times: int, seed: int, program: Program = PROGRAM) -> Tally:
    """A disk full at a random byte: told, no seal that lacks a record; with room again whole.

    The system bounds the book's size: it refuses more in the middle of a write, as a disk does.
    """
    tally, rng = Tally(), random.Random(seed)
    head = _head_bytes(program)
    for number in range(times):
        room = rng.randrange(ROOM_BYTES // 4 if number % 3 else head + ROOM_BYTES)
        limit = room if number % 3 == 0 else head + room
        with (
            tally.trial(f"disk {number}, full at {limit} bytes"),
            LiveRun(program, limits={resource.RLIMIT_FSIZE: limit}) as run,
        ):
            _fill(run, limit < head, room_again=number % 2 == 0)
    return tally


def _head_bytes(program: Program) -> int:
    with LiveRun(program) as run:
        run.until_begun()
        assert run.book is not None
        lines = run.book.read_bytes().splitlines(keepends=True)
        count = 1 + len(reader.require_header(reader.read(run.book)).kept)
        return sum(len(line) for line in lines[:count])


def _fill(run: LiveRun, too_small: bool, room_again: bool) -> None:
    if too_small:
        demand(run.ended() == 3, f"without a book it ended with {run.process.returncode}")
        demand(run.book is None, "half of a first record is left behind")
        return
    run.types(*LINES, ASKED)
    run.until(lambda: ANSWERED in run.shown, "the answer to what was asked")
    if room_again:
        resource.prlimit(run.process.pid, resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY,) * 2)
    run.types(*LINES[1:3])
    code = run.stop()
    assert run.book is not None
    kept = reader.read(run.book)
    demand(kept.state != "altered", "its chain is broken")
    if code == 0:
        run.demand_good_end(code)
        return
    demand(not room_again, f"there was room again, and it ended with {code}")
    demand(code == 3, f"it ended with {code}")
    demand(kept.seal is None, "it is sealed and lacks records")
    demand("not sealed" in run.shown, "it is not told that nothing was sealed")
    demand(TOLD_LOST in run.shown, "it was not said that the book cannot be written")


@contextlib.contextmanager
def _terminal(trouble: str) -> Iterator[tuple[int, Callable[[], None]]]:
    """A descriptor for the output, and what makes it fail."""
    if trouble == "full":
        descriptor = os.open("/dev/full", os.O_WRONLY)
        yield descriptor, lambda: None
        os.close(descriptor)
        return
    inner, outer = pty.openpty() if trouble != "unread" else os.pipe()
    state = {"open": True}

    def spoil() -> None:
        if trouble == "stopped":
            termios.tcflow(outer, termios.TCOOFF)
        elif trouble == "gone":
            os.close(inner)
            state["open"] = False

    try:
        yield outer, spoil
    finally:
        with contextlib.suppress(OSError):
            os.close(outer)
        if state["open"]:
            os.close(inner)


TERMINALS = ("stopped", "gone", "full", "unread", "hung up")


def lost_terminals(times: int, seed: int, program: Program = PROGRAM) -> Tally:
    """Whatever the terminal does, a danger is in the book and the first signal ends it in order."""
    tally, rng = Tally(), random.Random(seed)
    for number in range(times):
        trouble = TERMINALS[number % len(TERMINALS)]
        with (
            tally.trial(f"terminal {number}, {trouble}"),
            _terminal(trouble) as (output, spoil),
            LiveRun(program, output=output) as run,
        ):
            run.until_begun()
            run.types(*LINES[: rng.randrange(len(LINES))])
            spoil()
            run.demand_watch()
            number_of = signal.SIGHUP if trouble == "hung up" else signal.SIGTERM
            run.demand_good_end(run.stop(number_of))
    return tally


def lost_folders(times: int, seed: int, program: Program = PROGRAM) -> Tally:
    """No folder for temporary files, from the start or from some moment on."""
    tally, rng = Tally(), random.Random(seed)
    for number in range(times):
        folder = Path(tempfile.mkdtemp())
        environment = {"TMPDIR": str(folder), "XDG_CACHE_HOME": str(folder)}
        if at_start := number % 2 == 0:
            shutil.rmtree(folder)
        with (
            tally.trial(f"temporary folder {number}"),
            LiveRun(program, environment=environment, mute=False) as run,
        ):
            run.until_begun()
            run.types(*LINES[: rng.randrange(len(LINES))])
            if not at_start:
                shutil.rmtree(folder, ignore_errors=True)
            run.demand_watch()
            run.demand_good_end(run.stop())
        shutil.rmtree(folder, ignore_errors=True)
    return tally


def no_descriptors(times: int, seed: int, program: Program = PROGRAM) -> Tally:
    """No file can be opened: from some moment on it goes on; at a start it is told in words."""
    tally, rng = Tally(), random.Random(seed)
    for number in range(times):
        if number % 2:
            files = rng.randint(*FEW_FILES)
            with (
                tally.trial(f"descriptors {number}, {files} at the start"),
                LiveRun(program, limits={resource.RLIMIT_NOFILE: files}) as run,
            ):
                _start_with_few(run)
            continue
        with tally.trial(f"descriptors {number}, used up"), LiveRun(program, mute=False) as run:
            run.until_begun()
            used = min(_free_at_times(run.process.pid))
            hard = resource.prlimit(run.process.pid, resource.RLIMIT_NOFILE)[1]
            resource.prlimit(run.process.pid, resource.RLIMIT_NOFILE, (used, hard))
            run.types(*LINES[: rng.randrange(len(LINES))])
            run.demand_watch()
            run.demand_good_end(run.stop())
    return tally


def _free_at_times(pid: int) -> Iterator[int]:
    """The same some times within half a second: what is open for a moment counts as free."""
    for _ in range(5):
        yield _first_free(pid)
        time.sleep(0.1)


def _first_free(pid: int) -> int:
    """The lowest descriptor that a process has not open: below it nothing more can be opened."""
    taken = {int(path.name) for path in Path(f"/proc/{pid}/fd").iterdir()}
    return next(number for number in count() if number not in taken)


def _start_with_few(run: LiveRun) -> None:
    run.types(HURT)
    run.until(lambda: run.process.poll() is not None or run.has(RAISED), "a start or its refusal")
    if run.process.poll() is None:
        run.demand_good_end(run.stop())
        return
    demand("Traceback" not in run.shown, "a traceback")
    demand(run.process.returncode == 3, f"it ended with {run.process.returncode}: {run.shown!r}")
