"""The keyboard and the screen. Knows how things are shown, not what they mean.

Lines that were typed come in as text; what happened goes out, with a board below it that says what
is believed now. Without a terminal the same goes out as plain lines.
"""

from __future__ import annotations

import os
import selectors
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Literal, TextIO

from assistant.devices.inbox import Inbox
from assistant.messages import Grade, Heard, StopAsked

if TYPE_CHECKING:
    from rich.console import Console, RenderableType
    from rich.live import Live

POLL_S = 0.2
LONGEST_LINE = 500  # characters of a typed line; what follows is dropped

Who = Literal["operator", "assistant", "book", "trouble"]
STYLES: dict[Who, str] = {"operator": "bold cyan", "assistant": "bold green", "book": "dim",
                          "trouble": "bold yellow"}  # fmt: skip
GRADE_STYLES = {Grade.CAUTION: "black on yellow", Grade.WARNING: "black on bright_red",
                Grade.DANGER: "bold white on red"}  # fmt: skip


def typed_lines(descriptor: int, stop: threading.Event) -> Iterator[str]:
    """Lines of an open file descriptor until its end or until `stop`.

    Reads without Python's own buffer: a thread that sits in its lock when the program ends makes
    the interpreter die with a fatal error.
    """
    kept = b""
    with selectors.SelectSelector() as selector:
        selector.register(descriptor, selectors.EVENT_READ)
        while not stop.is_set():
            if not selector.select(POLL_S):
                continue
            try:
                got = os.read(descriptor, 4096)
            except OSError:  # a terminal that was closed
                got = b""
            if not got:
                break
            *whole, kept = (kept + got).split(b"\n")
            kept = kept[: 4 * LONGEST_LINE]
            yield from map(_clean, whole)
        if kept and not stop.is_set():
            yield _clean(kept)


def _clean(line: bytes) -> str:
    text = line.decode("utf-8", errors="replace")
    return "".join(c if c.isprintable() else " " for c in text).strip()[:LONGEST_LINE]


def _stamped(heard: Heard) -> Callable[[float], Heard]:
    return lambda at: replace(heard, at=at)


class Keyboard:
    """Posts a Heard for every typed line, made by `understand`, and StopAsked at the end of input.

    understand: text -> Heard (its `at` is set here), or None for a line that is to be ignored.
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
        """Begin to read."""
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


@dataclass(frozen=True, slots=True)
class Board:
    """What stands on the screen all the time, each a short text; empty ones are left out."""

    phase: str = ""
    pressure: str = ""
    water: str = ""
    forecast: str = ""
    next: str = ""
    listening: str = ""
    alarms: tuple[tuple[Grade, str], ...] = ()


class Screen:
    """Shows what happens line by line, and a board below. Use as a context.

    out: where to. plain: no colours, no board that redraws itself (default: when not a terminal).
    """

    def __init__(self, out: TextIO, plain: bool | None = None) -> None:
        self._out = out
        self._plain = not out.isatty() if plain is None else plain
        self._board = Board()
        self._shown: dict[str, str] = {}
        self._console: Console | None = None
        self._live: Live | None = None
        self._lock = threading.Lock()

    def __enter__(self) -> Screen:
        if not self._plain:
            from rich.console import Console
            from rich.live import Live

            self._console = Console(file=self._out, highlight=False)
            self._live = Live(console=self._console, auto_refresh=False)
            self._live.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self._live is not None:
            self._live.stop()

    def line(self, at_s: float, who: Who, text: str, grade: Grade | None = None) -> None:
        """One thing that happened: who said it (or the book, or trouble), and what."""
        with self._lock:
            if self._console is None:
                self._write(f"{clock_text(at_s)}  {_name(who, grade):<9}  {text}")
                return
            from rich.text import Text

            style = STYLES[who] if grade is None else GRADE_STYLES[grade]
            shown = Text(f"{clock_text(at_s)}  ", style="dim")
            shown.append(f"{_name(who, grade):<9}", style=style)
            shown.append(f"  {text}")
            self._console.print(shown, soft_wrap=True)

    def show(self, at_s: float, board: Board) -> None:
        """Change the board. Plain: each part is written when it differs from what was written."""
        with self._lock:
            self._board = board
            if self._live is not None:
                self._live.update(board_panel(at_s, board), refresh=True)
                return
            for name, text in board_rows(board):
                if self._shown.get(name) != text:
                    self._write(f"{clock_text(at_s)}  {name:<9}  {text}")
            self._shown = dict(board_rows(board))

    def _write(self, text: str) -> None:
        try:
            self._out.write(text + "\n")
            self._out.flush()
        except BrokenPipeError:  # nobody reads any more: the session goes on, into nothing
            null = os.open(os.devnull, os.O_WRONLY)
            os.dup2(null, self._out.fileno())
            os.close(null)


def clock_text(at_s: float) -> str:
    """Time since the session began.

    >>> clock_text(3725.4)
    '1:02:05'
    """
    minutes, seconds = divmod(int(at_s), 60)
    return f"{minutes // 60}:{minutes % 60:02d}:{seconds:02d}"


def board_rows(board: Board) -> list[tuple[str, str]]:
    """The parts of a board that say something, with their names.

    >>> board_rows(Board(water="0.63 of the glass", alarms=((Grade.DANGER, "water low"),)))
    [('danger', 'water low'), ('water', '0.63 of the glass')]
    """
    rows = [(grade.word, text) for grade, text in sorted(board.alarms, reverse=True)]
    named = ((field.name, getattr(board, field.name)) for field in fields(board))
    return rows + [(name, text) for name, text in named if name != "alarms" and text]


def board_panel(at_s: float, board: Board) -> RenderableType:
    """The board in a frame, for a terminal."""
    from rich.panel import Panel
    from rich.table import Table
    from rich.text import Text

    table = Table.grid(padding=(0, 2))
    styles = {grade.word: style for grade, style in GRADE_STYLES.items()}
    for name, text in board_rows(board):
        style = styles.get(name, "")
        table.add_row(Text(name, style=style or "dim"), Text(text, style=style))
    return Panel(table, title=clock_text(at_s), title_align="left", border_style="dim")


def _name(who: Who, grade: Grade | None) -> str:
    if grade is not None:
        return grade.word
    return {"operator": "you", "assistant": "says", "book": "book", "trouble": "trouble"}[who]
