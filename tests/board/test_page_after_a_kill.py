"""A page that was open comes back by itself when a killed program goes on with its book."""

from __future__ import annotations

import json
import queue
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from board_page import SLOW_MS

pytestmark = [pytest.mark.real, pytest.mark.enable_socket]

STARTS_WITHIN_S = 60.0


class Run:
    """`footplate run` by typed lines with a board, in a process of its own."""

    def __init__(self, folder: Path, port: int, *words: str) -> None:
        self.process = subprocess.Popen(
            [
                sys.executable, "-m", "assistant.cli", "run", "--engine", "practice", "--typed",
                "--mute", "--json", "--out", str(folder), "--board-port", str(port), *words,
            ],
            stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip
        self._told: queue.Queue[str] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()
        self.address = self._await("board: http").removeprefix("board: ")

    def _read(self) -> None:
        assert self.process.stderr is not None
        for line in self.process.stderr:
            self._told.put(line.strip())

    def _await(self, begins: str) -> str:
        until = time.monotonic() + STARTS_WITHIN_S
        while not (line := self._told.get(timeout=until - time.monotonic())).startswith(begins):
            pass
        return line

    def tell(self, words: str) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(words + "\n")
        self.process.stdin.flush()

    def kill(self) -> None:
        """As a pulled plug does."""
        self.process.kill()
        self.process.wait()


@contextmanager
def running(folder: Path, port: int, *words: str) -> Iterator[Run]:
    run = Run(folder, port, *words)
    try:
        yield run
    finally:
        run.kill()


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def shown(page: Any) -> Any:
    return page.evaluate("picture")


def until(true: Callable[[], bool], page: Any) -> None:
    for _ in range(SLOW_MS // 50):
        if true():
            return
        page.wait_for_timeout(50)
    raise AssertionError(shown(page))


def test_the_same_page_shows_the_true_state_after_a_kill(chromium: Any, tmp_path: Path) -> None:
    port = free_port()
    context = chromium.new_context(viewport={"width": 1024, "height": 600})
    context.set_default_timeout(SLOW_MS)
    page = context.new_page()
    with running(tmp_path, port, "--from", "raising steam") as before:
        page.goto(before.address)
        before.tell("pressure sixty")
        until(lambda: shown(page) and shown(page)["pressure"]["psi"] == 60.0, page)
        before.tell("no water in sight")
        page.locator("#line", has_text="DANGER: Stop the heat. No water in sight.").wait_for()
        chart = shown(page)["chart"]["pressure"]
        before.kill()
        page.locator("#lost").wait_for()
        page.wait_for_timeout(3000)  # of which nobody knows what became of her
    (book,) = tmp_path.glob("*.jsonl")
    (kept,) = tmp_path.glob(".*.board")
    assert kept.stat().st_mode & 0o777 == 0o600
    key = json.loads(kept.read_text(encoding="ascii"))["run_key"]
    with running(tmp_path, port, "--resume") as after:
        page.locator("#lost").wait_for(state="hidden")
        assert after.address == before.address
        first = shown(page)
        assert first["pressure"]["psi"] == 60.0 and first["pressure"]["age_s"] >= 3.0
        assert first["chart"]["pressure"] == chart and first["water"]["glass"] is None
        page.locator("#line", has_text="DANGER: Stop the heat. No water in sight.").wait_for()
        after.tell("pressure fifty eight")
        until(lambda: shown(page)["pressure"]["psi"] == 58.0, page)
        page.locator("#answers button", has_text="Say again").click()
        page.locator("#answers button.sent").wait_for()
        assert page.evaluate("performance.getEntriesByType('navigation').length") == 1
        assert page.url == before.address  # never loaded anew
    assert key in before.address and key not in book.read_text(encoding="utf-8")
    with running(tmp_path, port) as another:
        assert key not in another.address
        page.wait_for_timeout(3000)
        assert page.locator("#lost").is_visible()
    context.close()
