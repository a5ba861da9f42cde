"""A page that does not read holds up no other, and is left out after a while."""

from __future__ import annotations

import json
import socket
import time
from collections.abc import Callable

import board_pictures
import pytest
from board_page import Shown, served
from websockets.sync.client import connect

from assistant.board import web

pytestmark = [pytest.mark.real, pytest.mark.enable_socket]

MORE_THAN_WAITS = 8_000_000  # characters: more than the system keeps for a page that does not read
HELLO = (
    "GET /live?key={key} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nUpgrade: websocket\r\n"
    "Connection: Upgrade\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n"
    "Sec-WebSocket-Version: 13\r\n\r\n"
)


class Counted(Shown):
    """Counts the pages that are told of each picture."""

    pages = 0

    def on_change(self, wake: Callable[[], None]) -> Callable[[], None]:
        self.pages += 1

        def end() -> None:
            self.pages -= 1

        return end


def test_a_page_that_stalls_is_left_out_and_holds_up_nobody(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(web, "SEND_S", 1.5)
    hub = Counted(board_pictures.usual())
    with (
        served(hub) as server,
        socket.socket() as stalled,
        connect(
            f"ws://127.0.0.1:{server.port}/live?key={server.keys.run_key}", max_size=None
        ) as reads,
    ):
        reads.recv(timeout=5)
        small, hub.text = hub.text, json.dumps("x" * MORE_THAN_WAITS)
        stalled.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
        stalled.connect(("127.0.0.1", server.port))
        stalled.sendall(HELLO.format(key=server.keys.run_key, port=server.port).encode())
        until = time.monotonic() + 5.0
        while hub.pages < 2 and time.monotonic() < until:
            time.sleep(0.01)
        time.sleep(0.1)  # the large picture is on its way to the page that stalls
        hub.text, began, longest, last = small, time.monotonic(), 0.0, time.monotonic()
        assert hub.pages == 2
        while hub.pages == 2 and time.monotonic() - began < 8.0:
            reads.recv(timeout=5)
            longest, last = max(longest, time.monotonic() - last), time.monotonic()
        assert 0.5 < time.monotonic() - began < 8.0  # left out, and not before it stalled
        assert longest < web.STILL_S + 0.5
        assert hub.pages == 1
        reads.recv(timeout=5)
