"""The board's server: it ends by no fault of its own for good."""

from __future__ import annotations

import time
import urllib.error
import urllib.request

import pytest
from day_story import taken_over

from assistant.board.hub import Hub
from assistant.board.server import Place, Server

pytestmark = [pytest.mark.real, pytest.mark.enable_socket]


def answers(port: int) -> bool:
    try:
        urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=2.0)
    except urllib.error.HTTPError:
        return True  # refused without a key, and that by a server
    except OSError:
        return False
    return True


def within(seconds: float, port: int) -> bool:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if answers(port):
            return True
        time.sleep(0.05)
    return False


def test_a_server_that_ends_by_itself_is_told_and_started_again() -> None:
    session = taken_over("standing by", "practice", "pressure sixty").session
    hub, told = Hub(session.config, session, lambda *press: None), list[str]()
    server = Server(hub, Place(port=0), told.append)
    try:
        assert within(5.0, server.port)
        server._server.should_exit = True  # as one does that fails
        until = time.monotonic() + 10.0
        while not told and time.monotonic() < until:
            time.sleep(0.05)
        assert told == ["board: its server has ended; it is started again"]
        assert within(10.0, server.port)
    finally:
        server.close()
    assert not answers(server.port)
    assert len(told) == 1, "one that is closed is not started again"
