"""Typed lines in, and what happened out: with and without a terminal."""

from __future__ import annotations

import io
import os
import threading
from collections.abc import Iterator

import pytest

from assistant.devices.clock import FakeClock
from assistant.devices.console import Keyboard, Screen, typed_lines
from assistant.devices.inbox import Inbox
from assistant.messages import Grade, Heard, StopAsked


@pytest.fixture
def pipe() -> Iterator[tuple[int, int]]:
    read, write = os.pipe()
    yield read, write
    os.close(read)


def all_lines(read: int) -> list[str]:
    return list(typed_lines(read, threading.Event()))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        (b"pressure five\nwater half\n", ["pressure five", "water half"]),
        (b"no newline at the end", ["no newline at the end"]),
        (b"\n\n", ["", ""]),
        (b"", []),
        (b"caf\xe9 \xff\n", ["caf\ufffd \ufffd"]),
        (b"\x1b[31mred\x07\n", ["[31mred"]),
        (b"\x00\n", [""]),
    ],
)
def test_lines_as_typed(pipe: tuple[int, int], typed: bytes, expected: list[str]) -> None:
    os.write(pipe[1], typed)
    os.close(pipe[1])
    assert all_lines(pipe[0]) == expected


def test_a_line_without_end_does_not_fill_the_memory(pipe: tuple[int, int]) -> None:
    def endless() -> None:
        for _ in range(100):
            os.write(pipe[1], b"a" * 4096)
        os.write(pipe[1], b"\nnext\n")
        os.close(pipe[1])

    threading.Thread(target=endless).start()
    long, following = all_lines(pipe[0])
    assert len(long) == 500
    assert following == "next"


def test_keyboard_posts_what_was_understood_and_the_end(pipe: tuple[int, int]) -> None:
    inbox = Inbox(FakeClock(100.0))
    keyboard = Keyboard(
        pipe[0], lambda text: None if text == "??" else Heard(0.0, "typed", (), text=text), inbox
    )
    keyboard.start()
    os.write(pipe[1], b"pressure five\n\n??\nwhat next\n")
    os.close(pipe[1])
    first, second, last = inbox.get(5.0), inbox.get(5.0), inbox.get(5.0)
    assert isinstance(first, Heard) and isinstance(second, Heard)
    assert (first.text, second.text) == ("pressure five", "what next")
    assert first.at == 100.0
    assert isinstance(last, StopAsked)
    keyboard.close()


def test_enter_alone_is_the_talk_key_and_the_end_of_input_need_not_end(
    pipe: tuple[int, int],
) -> None:
    inbox = Inbox(FakeClock())
    pressed = threading.Semaphore(0)
    keyboard = Keyboard(pipe[0], lambda text: None, inbox, blank=pressed.release, ends=False)
    keyboard.start()
    os.write(pipe[1], b"\n\n")
    os.close(pipe[1])
    assert pressed.acquire(timeout=5.0) and pressed.acquire(timeout=5.0)
    keyboard.close()
    assert inbox.get(0) is None


def test_a_keyboard_that_is_closed_says_nothing_more(pipe: tuple[int, int]) -> None:
    inbox = Inbox(FakeClock())
    keyboard = Keyboard(pipe[0], lambda text: Heard(0.0, "typed", (), text=text), inbox)
    keyboard.start()
    keyboard.close()
    os.close(pipe[1])
    assert inbox.get(0) is None


def test_plain_lines_where_there_is_no_terminal() -> None:
    out = io.StringIO()
    with Screen(out) as screen:
        screen.line(61, "operator", "pressure seventy five")
        screen.line(62, "assistant", "Danger. Water low.", Grade.DANGER)
    assert out.getvalue().splitlines() == [
        "0:01:01  you        pressure seventy five",
        "0:01:02  danger     Danger. Water low.",
    ]


def test_a_terminal_gets_colours_and_words_as_they_are() -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    out = Terminal()
    with Screen(out) as screen:
        screen.line(64, "operator", "say again [bold]this[/bold]")
    shown = out.getvalue()
    assert "\x1b[" in shown
    assert "say again [bold]this[/bold]" in shown


def test_a_reader_that_went_away_does_not_end_the_session() -> None:
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "w", buffering=1) as out, Screen(out) as screen:
        screen.line(0, "book", "nobody reads this")
        screen.line(1, "book", "nor this")
        assert os.fstat(out.fileno()).st_rdev == os.stat(os.devnull).st_rdev  # noqa: PTH116
