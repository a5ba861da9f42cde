"""The board's server in a thread of its own. Knows sockets and certificates; no picture."""

from __future__ import annotations

import contextlib
import socket
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from assistant.board.certificate import Certificate
from assistant.board.hub import Hub
from assistant.board.keys import Keys
from assistant.board.web import application
from assistant.errors import WorldFailedError

LOOPBACK = "127.0.0.1"
USUAL_PORT = 8747
STARTS_WITHIN_S = 15.0
STOPS_WITHIN_S = 3.0
AGAIN_S = 1.0  # after a server that ended by itself


@dataclass(frozen=True, slots=True)
class Place:
    """Where the board is to be seen."""

    host: str = LOOPBACK
    port: int = USUAL_PORT
    certificate: Certificate | None = None
    """For https; None on this machine alone."""


class Server:
    """Serves until it is closed; one that ends by itself is told and started again. Raises
    WorldFailedError where no port is to be had.

    keys: who may ask; new ones where none are given.
    """

    def __init__(
        self, hub: Hub, place: Place, tell: Callable[[str], None], keys: Keys | None = None
    ) -> None:
        self.keys = Keys(time.monotonic) if keys is None else keys
        self._socket = _listening(place, tell)
        self.port = int(self._socket.getsockname()[1])
        self._hub, self._tell, self._closing = hub, tell, threading.Event()
        self._place, self._server = place, self._made(hub, place)
        self._thread = threading.Thread(target=self._serve, name="board", daemon=True)
        self._thread.start()
        self._wait_until_started()

    @property
    def address(self) -> str:
        """Its address, without a key."""
        scheme = "http" if self._place.certificate is None else "https"
        return f"{scheme}://{self._place.host}:{self.port}/"

    def close(self) -> None:
        """Stop serving; pages learn it by the closed connection."""
        self._closing.set()
        self._server.should_exit = True
        self._thread.join(STOPS_WITHIN_S)
        self._socket.close()

    def _made(self, hub: Hub, place: Place) -> Any:
        import uvicorn

        hosts = frozenset({place.host, "localhost"} if place.host == LOOPBACK else {place.host})
        config = uvicorn.Config(
            application(hub, self.keys, hosts), log_config=None, access_log=False, lifespan="off",
            ws="websockets-sansio", ws_max_size=4096, timeout_graceful_shutdown=1,
            server_header=False, h11_max_incomplete_event_size=16_384, limit_concurrency=64,
        )  # fmt: skip
        if place.certificate is not None:
            with tempfile.TemporaryDirectory(prefix="footplate-") as folder:
                place.certificate.into(config, Path(folder))
        return uvicorn.Server(config)

    def _serve(self) -> None:
        """Serve on one port, as often as the server ends by itself; pages come again to it."""
        while True:
            with contextlib.suppress(Exception):  # its end is what counts, and is told
                self._server.run(sockets=[self._socket])
            started = self._server.started
            if not started or self._closing.wait(AGAIN_S):
                return
            self._tell("board: its server has ended; it is started again")
            place = replace(self._place, port=self.port)
            try:
                self._socket = _listening(place, self._tell)
                self._server = self._made(self._hub, place)
            except WorldFailedError as why:
                self._tell(f"board: not started again: {why}")
                return
            if self._closing.is_set():  # closed meanwhile, which met the server before
                self._socket.close()
                return
            if self._socket.getsockname()[1] != self.port:
                self.port = int(self._socket.getsockname()[1])
                self._tell(f"board: {self.address}")

    def _wait_until_started(self) -> None:
        until = time.monotonic() + STARTS_WITHIN_S
        while not self._server.started:
            if not self._thread.is_alive() or time.monotonic() > until:
                self.close()
                raise WorldFailedError("the board's server does not start")
            time.sleep(0.02)


def _listening(place: Place, tell: Callable[[str], None]) -> socket.socket:
    """A socket on the port wanted, or on another, which is told."""
    for port in (place.port, 0):
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind((place.host, port))
            made.listen(64)
        except OSError as trouble:
            made.close()
            if port == 0:
                why = trouble.strerror or trouble
                raise WorldFailedError(f"the board: no port on {place.host}: {why}") from trouble
            tell(f"board: port {port} is in use; another is taken")
            continue
        return made
    raise AssertionError  # the loop returns or raises
