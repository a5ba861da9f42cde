"""The keyboard and the screen. Knows how things are shown, not what they mean.

Typed lines come in as text; events go out line by line, coloured where there is a terminal.
"""

from __future__ import annotations

import os
import selectors
import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Literal, TextIO

from assistant.devices.inbox import Inbox
from assistant.devices.printable import printable
from assistant.messages import Grade, Heard, StopAsked

if TYPE_CHECKING:
    from rich.console import Console

POLL_S = 0.2
LONGEST_LINE = 500  # characters of a typed line; the rest is dropped

Who = Literal["operator", "assistant", "book", "trouble"]
STYLES: dict[Who, str] = {"operator": "bold cyan", "assistant": "bold green", "book": "dim",
                          "trouble": "bold yellow"}  # fmt: skip
GRADE_STYLES = {Grade.CAUTION: "black on yellow", Grade.WARNING: "black on bright_red",
                Grade.DANGER: "bold white on red"}  # fmt: skip


def typed_lines(descriptor: int, stop: threading.Event) -> Iterator[str]:
    """Lines of an open file descriptor until its end or until `stop`.

    Reads without Python's own buffer: a thread that holds its lock when the program ends crashes
    the interpreter.
    """
    partial = b""
    with selectors.SelectSelector() as selector:
        selector.register(descriptor, selectors.EVENT_READ)
        while not stop.is_set():
            if not selector.select(POLL_S):
                continue
            try:
                chunk = os.read(descriptor, 4096)
            except OSError:  # a terminal that was closed
                chunk = b""
            if not chunk:
                break
            *whole, partial = (partial + chunk).split(b"\n")
            partial = partial[: 4 * LONGEST_LINE]
            yield from map(_clean, whole)
        if partial and not stop.is_set():
            yield _clean(partial)


def _clean(line: bytes) -> str:
    text = line.decode("utf-8", errors="replace")
    return "".join(c if c.isprintable() else " " for c in text).strip()[:LONGEST_LINE]


def _stamped(heard: Heard) -> Callable[[float], Heard]:
    return lambda at: replace(heard, at=at)


class Keyboard:
    """Posts a Heard for every typed line, made by `understand`, and StopAsked at the end of input.

    understand: text -> Heard (its `at` is set here), or None to ignore the line.
    blank: called for an empty line; Enter alone is the talk key where there is one (most foot
    switches are keyboards with that one key). ends: whether the end of input ends the session.
    """

    def __init__(
        self,
        descriptor: int,
        understand: Callable[[str], Heard | None],
        inbox: Inbox,
        blank: Callable[[], None] = lambda: None,
        ends: bool = True,
    ) -> None:
        self._descriptor = descriptor
        self._understand = understand
        self._inbox = inbox
        self._blank = blank
        self._ends = ends
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="keyboard", daemon=True)

    def start(self) -> None:
        """Start reading."""
        self._thread.start()

    def close(self) -> None:
        """Stop reading."""
        self._stop.set()
        if self._thread.is_alive():
            self._thread.join(2 * POLL_S + 0.5)

    def _run(self) -> None:
        for line in typed_lines(self._descriptor, self._stop):
            if not line:
                self._blank()
            elif (heard := self._understand(line)) is not None:
                self._inbox.post(_stamped(heard))
        if self._ends and not self._stop.is_set():
            self._inbox.post(StopAsked)


class Screen:
    """Shows events line by line. Use as a context.

    plain: no colours (default: when `out` is not a terminal).
    """

    def __init__(self, out: TextIO, plain: bool | None = None) -> None:
        self._out = out
        self._plain = not out.isatty() if plain is None else plain
        self._console: Console | None = None
        self._lock = threading.Lock()

    def __enter__(self) -> Screen:
        if not self._plain:
            from rich.console import Console

            self._console = Console(file=self._out, highlight=False)
        return self

    def __exit__(self, *_: object) -> None:
        """Nothing to undo: lines may still follow."""

    def line(self, at_s: float, who: Who, text: str, grade: Grade | None = None) -> None:
        """One event: who said it (or the journal, or a fault), and what."""
        text = printable(text)
        with self._lock:
            if self._console is None:
                self._write(f"{clock_text(at_s)}  {_name(who, grade):<9}  {text}")
                return
            from rich.text import Text

            style = STYLES[who] if grade is None else GRADE_STYLES[grade]
            line = Text(f"{clock_text(at_s)}  ", style="dim")
            line.append(f"{_name(who, grade):<9}", style=style)
            line.append(f"  {text}")
            self._console.print(line, soft_wrap=True)

    def _write(self, text: str) -> None:
        try:
            self._out.write(text + "\n")
            self._out.flush()
        except BrokenPipeError:  # nobody reads any more: the session goes on unseen
            null = os.open(os.devnull, os.O_WRONLY)
            os.dup2(null, self._out.fileno())
            os.close(null)


def clock_text(at_s: float) -> str:
    """Time since the session began, as shown.

    >>> clock_text(3725.4)
    '1:02:05'
    """
    minutes, seconds = divmod(int(at_s), 60)
    return f"{minutes // 60}:{minutes % 60:02d}:{seconds:02d}"


def _name(who: Who, grade: Grade | None) -> str:
    if grade is not None:
        return grade.word
    return {"operator": "you", "assistant": "says", "book": "book", "trouble": "trouble"}[who]
