"""What the board costs a live run: processor, memory, and time from a typed line to its answer.

For `footplate bench board`; the whole program is run, so never part of the tests. Pages are
WebSocket connections of this process; one of them may be a page that never reads.
"""

from __future__ import annotations

import base64
import json
import os
import secrets
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import numpy as np

from assistant.errors import WorldFailedError

MOST_CORE, MOST_MB, MOST_LATER_MS = 0.02, 60.0, 5.0
STARTS_WITHIN_S, ANSWERS_WITHIN_S = 60.0, 10.0
SETTLES_S = 3.0
PAUSE_S = 0.4  # between an answer and the next line; a page is told five times a second at most
NARROW = 2048  # bytes that the stalled page's receiver takes
TAKEN_OVER = (
    "water half", "comes back at once", "pressure sixty", "valve agreed today", "fire is built",
    "pump worked today", "regulator shut", "brake on and chocked", "gear is out",
)  # fmt: skip
SPOKEN = ("pressure sixty one", "water half", "pressure sixty two", "water five eighths")


@dataclass(frozen=True, slots=True)
class Case:
    """One way to run it."""

    name: str
    board: bool
    reading: int = 0
    """Pages that read."""
    stalled: int = 0
    """Pages that never do."""


CASES = (
    Case("no board", board=False),
    Case("a board, no page", board=True),
    Case("five pages", board=True, reading=5),
    Case("five pages, one stalled", board=True, reading=4, stalled=1),
)


@dataclass(slots=True)
class Figures:
    """What was measured of one case."""

    core: list[float] = field(default_factory=list)
    """Share of a core at rest, of each run."""
    resident_mb: list[float] = field(default_factory=list)
    """Memory after the reports, of each run."""
    answered_ms: list[float] = field(default_factory=list)
    """From a typed line to the answer that is spoken."""
    shown_ms: list[float] = field(default_factory=list)
    """From a typed line to the picture that shows it, on each page that reads."""
    unsent_kb: list[float] = field(default_factory=list)
    """What waited for the stalled page at the end of each run."""


def bench_lines(runs: int, rest_s: float = 20.0, reports: int = 60) -> Iterator[str]:
    """The lines of the table. rest_s: how long each run is left alone [s].

    Raises WorldFailedError where the program does not start or does not answer.
    """
    found = {case.name: Figures() for case in CASES}
    for _ in range(runs):
        for case in CASES:
            _measure(case, found[case.name], rest_s, reports)
    yield f"`run --typed --mute`, {runs} runs of each: {rest_s:g} s at rest, {reports} reports"
    yield ""
    yield (
        "| | % of a core | MB | answer: median ms | 99 % ms | page: median ms | 99 % ms "
        "| unsent kB |"
    )
    yield "|---|---|---|---|---|---|---|---|"
    for case in CASES:
        yield _row(case.name, found[case.name])
    yield ""
    yield _verdict(found[CASES[0].name], found[CASES[-1].name], found[CASES[-2].name])


def _row(name: str, figures: Figures) -> str:
    def spread(values: list[float]) -> str:
        if not values:
            return "- | -"
        return f"{np.median(values):.1f} | {np.percentile(values, 99):.0f}"

    unsent = f"{max(figures.unsent_kb):.0f}" if figures.unsent_kb else "-"
    return (
        f"| {name} | {100.0 * max(figures.core):.2f} | {np.mean(figures.resident_mb):.1f} | "
        f"{spread(figures.answered_ms)} | {spread(figures.shown_ms)} | {unsent} |"
    )


def _verdict(without: Figures, *beside: Figures) -> str:
    core = max(max(figures.core) for figures in beside)
    more_mb = max(float(np.mean(f.resident_mb)) for f in beside) - float(
        np.mean(without.resident_mb)
    )
    later_ms = max(float(np.median(f.answered_ms)) for f in beside) - float(
        np.median(without.answered_ms)
    )
    good = core < MOST_CORE and more_mb < MOST_MB and later_ms < MOST_LATER_MS
    return (
        f"owed with five pages: under {100.0 * MOST_CORE:.0f} % of a core ({100.0 * core:.2f}), "
        f"under {MOST_MB:.0f} MB more ({more_mb:.1f}), the median answer no more than "
        f"{MOST_LATER_MS:.0f} ms later ({later_ms:+.1f}): {'met' if good else 'NOT MET'}"
    )


def _measure(case: Case, figures: Figures, rest_s: float, reports: int) -> None:
    with ExitStack() as stack:
        folder = stack.enter_context(tempfile.TemporaryDirectory())
        live = _Live(Path(folder), case.board)
        stack.callback(live.close)
        for words in TAKEN_OVER:
            live.tell(words)
        pages = [_Page(live.address, stack) for _ in range(case.reading)]
        stalled = [_stalled_page(live.address, stack) for _ in range(case.stalled)]
        time.sleep(SETTLES_S)
        before, began = live.core_s(), time.perf_counter()
        time.sleep(rest_s)
        figures.core.append((live.core_s() - before) / (time.perf_counter() - began))
        for number in range(reports):
            words = SPOKEN[number % len(SPOKEN)]
            sent = time.perf_counter()
            figures.answered_ms.append(live.answered_ms(words))
            time.sleep(PAUSE_S)
            for page in pages:
                shown = page.shown_at(words, sent)
                if shown is None:
                    raise WorldFailedError(f"a page does not show {words!r}")
                figures.shown_ms.append(1000.0 * (shown - sent))
        figures.resident_mb.append(live.resident_mb())
        figures.unsent_kb += [_unsent_bytes(page) / 1000.0 for page in stalled]


class _Live:
    """The program, by typed lines, with its effects as JSON lines."""

    def __init__(self, folder: Path, board: bool) -> None:
        words = [
            "run", "--engine", "practice", "--typed", "--mute", "--json", "--from",
            "raising steam", "--out", str(folder), *(("--board-port", "0") if board else ()),
        ]  # fmt: skip
        environment = os.environ | {"FOOTPLATE_HOME": str(folder / "home")}
        self._run = subprocess.Popen(
            [sys.executable, "-m", "assistant.cli", *words], env=environment, text=True, bufsize=1,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
        self._decided, self._answered = threading.Semaphore(0), threading.Semaphore(0)
        self._answered_at = 0.0
        self._began = threading.Event()
        self._listens = threading.Event()
        self.address = ""
        for read in (self._read_effects, self._read_told):
            threading.Thread(target=read, daemon=True).start()
        started = self._began.wait(STARTS_WITHIN_S)
        if not started or (board and not self._listens.wait(STARTS_WITHIN_S)):
            self.close()
            raise WorldFailedError("the program does not start")

    def _read_effects(self) -> None:
        assert self._run.stdout is not None
        decided = False
        for line in self._run.stdout:
            now = time.perf_counter()
            self._began.set()
            if '"did": "decided"' in line:
                decided = True
                self._decided.release()
            elif decided and '"did": "say"' in line:
                decided = False
                self._answered_at = now
                self._answered.release()

    def _read_told(self) -> None:
        assert self._run.stderr is not None
        for line in self._run.stderr:
            if line.startswith("board: http"):
                self.address = line.removeprefix("board: ").strip()
                self._listens.set()

    def tell(self, words: str) -> None:
        """Type it, and wait until it is understood."""
        self._type(words, self._decided)

    def answered_ms(self, words: str) -> float:
        """Type it; milliseconds until the first words that are spoken after it."""
        sent = self._type(words, self._answered)
        return 1000.0 * (self._answered_at - sent)

    def _type(self, words: str, awaited: threading.Semaphore) -> float:
        """When it was typed. Raises WorldFailedError where what is awaited does not come."""
        while awaited.acquire(blocking=False):
            pass  # what came of the lines before
        assert self._run.stdin is not None
        sent = time.perf_counter()
        self._run.stdin.write(words + "\n")
        self._run.stdin.flush()
        if not awaited.acquire(timeout=ANSWERS_WITHIN_S):
            raise WorldFailedError(f"no answer to {words!r}")
        return sent

    def core_s(self) -> float:
        """Processor time that all its threads have used [s]."""
        text = Path(f"/proc/{self._run.pid}/stat").read_text(encoding="ascii")
        used = text.rpartition(")")[2].split()[11:13]
        return sum(map(int, used)) / os.sysconf("SC_CLK_TCK")

    def resident_mb(self) -> float:
        """Memory that it holds [10^6 byte]."""
        pages = Path(f"/proc/{self._run.pid}/statm").read_text(encoding="ascii").split()[1]
        return int(pages) * os.sysconf("SC_PAGE_SIZE") / 1e6

    def close(self) -> None:
        """End it in good order, or else at once."""
        if self._run.stdin is not None:
            self._run.stdin.close()
        try:
            self._run.wait(15.0)
        except subprocess.TimeoutExpired:
            self._run.kill()
            self._run.wait()


class _Page:
    """A page that reads, and keeps when it was told which words were heard."""

    def __init__(self, address: str, stack: ExitStack) -> None:
        from websockets.sync.client import connect

        self._told: list[tuple[float, str]] = []
        self._live = stack.enter_context(connect(_live_address(address)))
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        for text in self._live:
            picture: Any = json.loads(text)
            self._told.append((time.perf_counter(), picture["hears"]["last"]))

    def shown_at(self, words: str, since: float) -> float | None:
        """When it first showed these words after a time; None when it does not within seconds."""
        until = time.perf_counter() + ANSWERS_WITHIN_S
        while time.perf_counter() < until:
            for at, heard in self._told:
                if at >= since and heard == words:
                    return at
            time.sleep(0.005)
        return None


def _live_address(address: str) -> str:
    """Where a page of that address listens."""
    split = urlsplit(address)
    return f"ws://{split.netloc}/live?key={parse_qs(split.query)['key'][0]}"


def _stalled_page(address: str, stack: ExitStack) -> socket.socket:
    """A page that has connected and reads nothing from then on."""
    split = urlsplit(_live_address(address))
    page = stack.enter_context(socket.socket())
    page.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, NARROW)
    page.connect((split.hostname, split.port))
    nonce = base64.b64encode(secrets.token_bytes(16)).decode("ascii")
    page.sendall(
        f"GET {split.path}?{split.query} HTTP/1.1\r\nHost: {split.netloc}\r\nUpgrade: websocket\r\n"
        f"Connection: Upgrade\r\nSec-WebSocket-Key: {nonce}\r\nSec-WebSocket-Version: 13\r\n\r\n"
        .encode("ascii")
    )  # fmt: skip
    return page


def _unsent_bytes(page: socket.socket) -> int:
    """What waits in the other end of a connection on this machine for it to read."""
    ours = page.getsockname()[1]
    for line in Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]:
        _, _, remote, _, queues, *_ = line.split()
        if int(remote.rpartition(":")[2], 16) == ours:
            return int(queues.partition(":")[0], 16)
    return 0
