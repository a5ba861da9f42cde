"""The program beside its board, for `footplate bench board`: by typed lines, and pages of it.

Pages are WebSocket connections of this process; one of them may be a page that never reads.
"""

from __future__ import annotations

import base64
import json
import os
import secrets
import socket
import subprocess
import sys
import threading
import time
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

from assistant.errors import WorldFailedError

STARTS_WITHIN_S, ANSWERS_WITHIN_S = 60.0, 10.0
NARROW = 2048  # bytes that the stalled page's receiver takes
TAKEN_OVER = (
    "water half", "comes back at once", "pressure sixty", "valve agreed today", "fire is built",
    "pump worked today", "regulator shut", "brake on and chocked", "gear is out",
)  # fmt: skip


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


class Live:
    """The program, by typed lines, with its effects as JSON lines.

    speaker: the loudspeaker it speaks from; "" for none.
    """

    def __init__(self, folder: Path, board: bool, speaker: str = "") -> None:
        words = [
            "run", "--engine", "practice", "--typed", "--json", "--from", "raising steam",
            "--out", str(folder), *(("--speaker", speaker) if speaker else ("--mute",)),
            *(("--board-port", "0") if board else ()),
        ]  # fmt: skip
        own = {"FOOTPLATE_HOME": str(folder / "home"), "XDG_CACHE_HOME": str(folder / "cache")}
        self._run = subprocess.Popen(
            [sys.executable, "-m", "assistant.cli", *words], env=os.environ | own, text=True,
            bufsize=1,
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

    def open_pages(self, case: Case, stack: ExitStack) -> tuple[list[Page], list[socket.socket]]:
        """The pages of a case: those that read, and those that never do."""
        reading = [Page(self.address, stack) for _ in range(case.reading)]
        return reading, [stalled_page(self.address, stack) for _ in range(case.stalled)]

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


class Page:
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


def stalled_page(address: str, stack: ExitStack) -> socket.socket:
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


def unsent_bytes(page: socket.socket) -> int:
    """What waits in the other end of a connection on this machine for it to read."""
    ours = page.getsockname()[1]
    for line in Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]:
        _, _, remote, _, queues, *_ = line.split()
        if int(remote.rpartition(":")[2], 16) == ours:
            return int(queues.partition(":")[0], 16)
    return 0
