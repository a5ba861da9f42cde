"""Output that stalls or fails holds nobody up, says so, and goes on when it can again."""

from __future__ import annotations

import contextlib
import os
import pty
import sys
import termios
import threading
import time

import pytest

from assistant.devices.detached_output import MOST_LINES, STALLED, DetachedText, detached_output

pytestmark = pytest.mark.real  # it waits for a terminal


def until(what: object, wanted: object) -> None:
    due_s = time.monotonic() + 8.0
    while what() != wanted:  # type: ignore[operator]
        assert time.monotonic() < due_s, f"{what()!r}"  # type: ignore[operator]
        time.sleep(0.02)


def test_a_stopped_terminal_holds_nobody_up_and_goes_on_when_started() -> None:
    master, slave = pty.openpty()
    out = DetachedText(slave)
    try:
        termios.tcflow(slave, termios.TCOOFF)
        began_s = time.monotonic()
        for number in range(2 * MOST_LINES):
            out.write(f"line {number}\n")
        assert time.monotonic() - began_s < 1.0
        until(lambda: out.trouble, STALLED)
        termios.tcflow(slave, termios.TCOON)
        reader = threading.Thread(target=_read_all, args=(master,), daemon=True)
        reader.start()
        until(lambda: out.trouble, "")
        assert out.stop()
    finally:
        os.close(slave)
        os.close(master)


def _read_all(master: int) -> None:
    with contextlib.suppress(OSError):
        while os.read(master, 65536):
            pass


def test_a_terminal_that_is_gone_is_told_and_costs_no_more() -> None:
    master, slave = pty.openpty()
    out = DetachedText(slave)
    os.close(master)
    out.write("nobody sees this\n")
    until(lambda: out.trouble, "Input/output error")
    out.write("nor this\n")
    assert out.stop()
    os.close(slave)


def test_lines_come_in_order_and_letters_that_do_not_fit_are_escaped() -> None:
    read, write = os.pipe()
    out = DetachedText(write, "ascii")
    print("café", "→", file=out)
    print("half", end="", file=out, flush=True)
    assert out.drain()
    assert os.read(read, 1000) == b"caf\\xe9 \\u2192\nhalf"
    assert out.trouble == ""
    assert out.stop()
    os.close(read)
    os.close(write)


def test_a_full_disk_is_told_until_there_is_room() -> None:
    full = os.open("/dev/full", os.O_WRONLY)
    out = DetachedText(full)
    out.write("does not fit\n")
    until(lambda: out.trouble, "No space left on device")
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, full)
    out.write("fits\n")
    until(lambda: out.trouble, "")
    assert out.stop()
    os.close(null)
    os.close(full)


def test_a_stream_without_a_descriptor_stays_as_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    before = sys.stdout
    with detached_output():
        print("seen")
    assert sys.stdout is before
    assert capsys.readouterr().out == "seen\n"
