"""Standard output and error that can hold nobody up: lines go out from a thread of their own.

A terminal stopped by Ctrl-S, a reader that reads no more or a full disk costs lines, never time.
Knows no meaning of what is written.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import threading
import time
from collections import deque
from collections.abc import Iterator
from typing import TextIO

MOST_LINES = 10_000  # waiting to be written; of more the oldest are dropped
STALLED_S = 2.0  # a line that takes longer has met a stopped terminal. Judgement
CHUNK = 4096  # bytes in one write, so that progress is seen
STALLED = "it takes no more"


class DetachedText(io.TextIOBase):
    """A text stream on an open descriptor. Writing returns at once and never raises."""

    def __init__(self, descriptor: int, encoding: str = "utf-8") -> None:
        self._descriptor = descriptor
        self._encoding = encoding
        self._terminal = os.isatty(descriptor)
        self._partial = ""
        self._lines: deque[bytes] = deque(maxlen=MOST_LINES)
        self._writing_since_s: float | None = None
        self._failure = ""
        self._closing = False
        self._change = threading.Condition()
        self._thread = threading.Thread(target=self._run, name="output", daemon=True)
        self._thread.start()

    @property
    def trouble(self) -> str:
        """Why nothing comes out now; empty while it does. The next line tries again."""
        since_s = self._writing_since_s
        if since_s is not None and time.monotonic() - since_s > STALLED_S:
            return STALLED
        return self._failure

    @property
    def encoding(self) -> str:  # type: ignore[override]
        """As the stream that it stands for."""
        return self._encoding

    def writable(self) -> bool:
        """Always."""
        return True

    def isatty(self) -> bool:
        """Whether it is a terminal."""
        return self._terminal

    def fileno(self) -> int:
        """The descriptor."""
        return self._descriptor

    def write(self, text: str) -> int:
        """Take the text; whole lines go out."""
        with self._change:
            *lines, self._partial = (self._partial + text).split("\n")
            self._lines.extend(self._encoded(line + "\n") for line in lines)
            self._change.notify_all()
        return len(text)

    def flush(self) -> None:
        """Let what is not a whole line out, too; it may come later."""
        with self._change:
            if self._partial:
                self._lines.append(self._encoded(self._partial))
                self._partial = ""
                self._change.notify_all()

    def drain(self) -> bool:
        """Wait while lines go out; False when they stopped doing so before all were out."""
        self.flush()
        with self._change:
            while self._lines or self._writing_since_s is not None:
                before = len(self._lines), self._writing_since_s
                moved = self._change.wait(STALLED_S)
                if not moved and before == (len(self._lines), self._writing_since_s):
                    return False
        return True

    def stop(self) -> bool:
        """Write what waits and end the thread; False when it hangs in a write."""
        drained = self.drain()
        with self._change:
            self._closing = True
            self._change.notify_all()
        if drained:
            self._thread.join(STALLED_S)
        return drained

    def _encoded(self, text: str) -> bytes:
        return text.encode(self._encoding, errors="backslashreplace")

    def _run(self) -> None:
        while True:
            with self._change:
                self._writing_since_s = None
                self._change.notify_all()
                self._change.wait_for(lambda: self._lines or self._closing)
                if not self._lines:
                    return
                line = self._lines.popleft()
                self._writing_since_s = time.monotonic()
            self._failure = self._written(line)

    def _written(self, line: bytes) -> str:
        """Write a line; why that failed, empty when it did not."""
        left = line
        try:
            while left:
                left = left[os.write(self._descriptor, left[:CHUNK]) :]
                self._writing_since_s = time.monotonic()
        except OSError as trouble:
            return trouble.strerror or str(trouble)
        return ""


@contextlib.contextmanager
def detached_output() -> Iterator[tuple[DetachedText, ...]]:
    """While inside, sys.stdout and sys.stderr hold nobody up; yields those that were detached.

    A stream without a descriptor stays as it is. On the way out, one that hangs is pointed at
    nothing, so that the program can end.
    """
    before = sys.stdout, sys.stderr
    detached: list[DetachedText] = []
    try:
        sys.stdout, sys.stderr = (_detached(stream, detached) for stream in before)
        yield tuple(detached)
    finally:
        sys.stdout, sys.stderr = before
        for stream in detached:
            if not stream.stop() or stream.trouble:
                _point_at_nothing(stream.fileno())


def _detached(stream: TextIO, kept: list[DetachedText]) -> TextIO:
    try:
        stream.flush()
        descriptor = stream.fileno()
    except (OSError, ValueError, AttributeError):
        return stream
    kept.append(DetachedText(descriptor, stream.encoding or "utf-8"))
    return kept[-1]  # type: ignore[return-value]


def _point_at_nothing(descriptor: int) -> None:
    with contextlib.suppress(OSError):
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, descriptor)
        os.close(null)
