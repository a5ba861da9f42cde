"""A typed run in a process of its own, with whatever is to go wrong around it."""

from __future__ import annotations

import contextlib
import os
import resource
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from assistant.journal import reader
from assistant.lab.faults.tally import demand

PROGRAM = (sys.executable, "-m", "assistant.cli")
RUN = ("run", "--typed", "--engine", "practice")
WAIT_S = 60.0  # for anything that must come; a busy machine
HURT = "someone is hurt"
RAISED = b'"grade":"DANGER","state":"raised"'


class LiveRun:
    """The run, its folder and its book. Use as a context: it is killed at the end if it lives.

    words: the command line behind the program. folder: where it keeps its book, which then stays.
    """

    def __init__(
        self,
        program: tuple[str, ...] = PROGRAM,
        output: int | None = None,
        environment: Mapping[str, str] | None = None,
        limits: Mapping[int, int] | None = None,
        mute: bool = True,
        words: tuple[str, ...] = RUN,
        folder: Path | None = None,
    ) -> None:
        self._own = None
        if folder is None:
            self._own = tempfile.TemporaryDirectory(prefix="footplate-faults-")
            folder = Path(self._own.name)
        self.folder = folder
        self._words = words
        self.books = self.folder / "books"
        self._shown = self.folder / "shown"
        self._program, self._output, self._mute = program, output, mute
        self._environment = {**os.environ, "PYTHONUNBUFFERED": "1", **(environment or {})}
        self._limits = dict(limits or {})

    def __enter__(self) -> LiveRun:
        with self._shown.open("wb") as shown:
            self.process = subprocess.Popen(
                [
                    *self._program,
                    *self._words,
                    *(["--mute"] * self._mute),
                    "--out",
                    str(self.books),
                ],
                stdin=subprocess.PIPE,
                stdout=shown if self._output is None else self._output,
                stderr=shown if self._output is None else self._output,
                env=self._environment,
                start_new_session=True,
                preexec_fn=self._prepare,
            )
        return self

    def _prepare(self) -> None:
        """In the new process: as a login gives it, also where the bench runs under nohup."""
        signal.signal(signal.SIGHUP, signal.SIG_DFL)
        for what, soft in self._limits.items():
            resource.setrlimit(what, (soft, resource.getrlimit(what)[1]))

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        with contextlib.suppress(OSError):
            assert self.process.stdin is not None
            self.process.stdin.close()
        if self._own is not None:
            self._own.cleanup()

    @property
    def shown(self) -> str:
        """What it wrote so far, where its output was not given away."""
        return self._shown.read_text(encoding="utf-8", errors="replace")

    @property
    def book(self) -> Path | None:
        """The book it keeps."""
        return next(iter(self.books.glob("*.jsonl")), None)

    def types(self, *lines: str) -> None:
        """Type these lines."""
        assert self.process.stdin is not None
        with contextlib.suppress(BrokenPipeError):
            self.process.stdin.write("".join(f"{line}\n" for line in lines).encode())
            self.process.stdin.flush()

    def until(self, found: Callable[[], bool], what: str) -> None:
        """Wait for it; NotKeptError when it does not come."""
        due_s = time.monotonic() + WAIT_S
        while not found():
            demand(time.monotonic() < due_s, f"{what} did not come in {WAIT_S:.0f} s")
            time.sleep(0.02)

    def until_begun(self) -> None:
        """Wait for the first question to be in the book."""
        self.until(lambda: self.has(b"Is that her plate?"), "the first question")

    def has(self, mark: bytes) -> bool:
        """Whether the book holds these bytes."""
        book = self.book
        return book is not None and mark in book.read_bytes()

    def stop(self, number: int = signal.SIGTERM) -> int:
        """Send a signal; the code it ends with."""
        self.process.send_signal(number)
        return self.ended()

    def ended(self) -> int:
        """The code it ends with."""
        with contextlib.suppress(subprocess.TimeoutExpired):
            return self.process.wait(WAIT_S)
        demand(False, f"it did not end in {WAIT_S:.0f} s")
        return -1

    def demand_good_end(self, code: int) -> None:
        """It ended in order: a whole book, sealed, that replays the same."""
        from assistant.commands.replay import replay

        demand(code == 0, f"it ended with {code}: {self.shown[-200:]!r}")
        demand(self.book is not None, "there is no book")
        assert self.book is not None
        kept = reader.read(self.book)
        demand(kept.state == "whole" and kept.finished, "the book is not whole to its end")
        demand(kept.seal is not None and kept.seal.holds, "the book is not sealed")
        replayed = replay(self.book)
        demand(not replayed.differing and not replayed.interrupted, "it replays otherwise")

    def demand_watch(self) -> None:
        """A danger that is typed comes into the book."""
        self.types(HURT)
        self.until(lambda: self.has(RAISED), "the danger in the book")
