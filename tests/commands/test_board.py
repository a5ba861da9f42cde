"""The board beside a run: presses go the way of words, and into the book as pressed."""

from __future__ import annotations

import json
import socket
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

import pytest
from session_story import parts

from assistant.board.hub import Hub
from assistant.board.server import LOOPBACK, Place, Server
from assistant.cli import main
from assistant.commands import board
from assistant.dialogue.session import Session
from assistant.messages import Report, Started


def test_a_press_is_understood_as_typed_words_are_and_told_apart() -> None:
    session = Session(parts())
    session.handle(Started(0.0))
    heard = board.pressed("water half", "screen 2", session, 5.0)
    assert heard.typed and heard.ear == "pressed on screen 2"
    session.handle(heard)
    assert session.state.latest("water") is not None
    assert session.state.reports[-1].report == Report("water", 0.5, "glass")


@pytest.mark.parametrize("port", ["-1", "70000"])
def test_a_port_that_is_none_is_refused_and_leaves_no_book(port: str, tmp_path: Path) -> None:
    words = ["rehearse", "--silent", "--board", "--board-port", port, "--out", str(tmp_path)]
    assert main(words) == 2
    assert list(tmp_path.iterdir()) == []


@pytest.mark.real
@pytest.mark.enable_socket
def test_a_served_board_from_its_line_to_its_end() -> None:
    config, told, pressed = parts(), [], []
    session = Session(config)
    session.handle(Started(0.0))
    hub = Hub(config, session, lambda *press: pressed.append(press))
    with socket.socket() as taken:
        taken.bind((LOOPBACK, 0))
        taken.listen()
        port = taken.getsockname()[1]
        server = Server(hub, Place(port=port), told.append)
        assert server.port != port and told == [f"board: port {port} is in use; another is taken"]
    try:
        key = server.keys.run_key
        with urllib.request.urlopen(f"{server.address}picture?key={key}", timeout=5) as answer:
            assert json.load(answer)["phase"] == "preparation"
        asked = urllib.request.Request(
            f"{server.address}press",
            json.dumps({"said": "water half"}).encode(),
            {"Authorization": f"Bearer {key}"},
        )
        with urllib.request.urlopen(asked, timeout=5) as answer:
            assert json.load(answer) == {"taken": True}
        assert pressed == [("water half", "the board")]
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(f"{server.address}picture", timeout=5)
        assert refused.value.code == 403
        assert _live(server, key)["phase"] == "preparation"
    finally:
        server.close()
    with pytest.raises(OSError):
        urllib.request.urlopen(f"{server.address}picture?key={key}", timeout=5)
    assert len(told) == 1, "nothing ended by itself"


def _live(server: Server, key: str) -> Any:
    """The first picture that comes by itself."""
    from websockets.sync.client import connect

    with connect(f"ws://{LOOPBACK}:{server.port}/live?key={key}") as page:
        return json.loads(page.recv(timeout=5))


def test_the_first_picture_after_a_break_counts_the_break() -> None:
    session = Session(parts())
    session.handle(Started(0.0))
    session.handle(board.pressed("water half", "the board", session, 10.0))
    ages = [
        json.loads(Hub(session.config, session, lambda *_: None, at).picture())["water"]["age_s"]
        for at in (None, 610.0)
    ]
    assert ages == [0.0, 600.0]
