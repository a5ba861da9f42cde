"""Who may ask the board for what: keys, origins, hosts, pairing codes, presses."""

from __future__ import annotations

import json
from typing import Any

import pytest
from asgi import ask
from session_story import parts

from assistant.board.hub import Hub
from assistant.board.keys import PAIRS_FOR_S, Keys
from assistant.board.web import LONGEST, MOST_BYTES, application
from assistant.dialogue.session import Session

HOSTS = frozenset({"127.0.0.1", "localhost"})
EVIL = "http://evil.example"


class Board:
    """An application over a session that has not begun."""

    def __init__(self) -> None:
        self.pressed: list[tuple[str, str]] = []
        self.now = 0.0
        self.keys = Keys(lambda: self.now)
        config = parts()
        hub = Hub(config, Session(config), lambda *press: self.pressed.append(press))
        self.app: Any = application(hub, self.keys, HOSTS)
        self.bearer = f"Bearer {self.keys.run_key}"

    def press(self, said: object, **headers: str) -> int:
        body = json.dumps({"said": said}).encode()
        return ask(self.app, "/press", body, authorization=self.bearer, **headers).status


@pytest.fixture
def board() -> Board:
    return Board()


def test_the_picture_wants_the_key_in_the_address_or_the_header(board: Board) -> None:
    key = board.keys.run_key
    assert ask(board.app, f"/picture?key={key}").json["phase"] == "preparation"
    assert ask(board.app, "/picture", authorization=board.bearer).json["phase"] == "preparation"
    for wrong in ("/picture", "/picture?key=", "/picture?key=x", f"/picture?key={key[:-1]}"):
        refused = ask(board.app, wrong)
        assert (refused.status, refused.body) == (403, b"")
    assert ask(board.app, "/picture?key=%C3%A9").status == 403


def test_nothing_is_told_to_a_page_of_another_origin(board: Board) -> None:
    target = f"/picture?key={board.keys.run_key}"
    assert ask(board.app, target, origin="http://127.0.0.1:8747").status == 200
    for headers in (
        {"origin": EVIL},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
        {"sec_fetch_site": "cross-site"},
        {"sec_fetch_site": "same-site"},
        {"host": "evil.example"},  # another name that was made to lead here
    ):
        assert ask(board.app, target, **headers).status == 403
    assert board.press("water half", origin=EVIL) == 403
    assert board.pressed == []


def test_a_form_of_another_site_presses_nothing(board: Board) -> None:
    """Browsers send the origin with every POST that a page of another site makes."""
    target = f"/press?key={board.keys.run_key}"
    form = b'{"said": "water half", "x": "="}'
    refused = ask(board.app, target, form, content_type="text/plain", origin=EVIL)
    assert refused.status == 403
    assert board.pressed == []


def test_a_press_goes_on_with_the_name_of_its_screen(board: Board) -> None:
    assert board.press("  water   half ") == 200
    code = board.keys.pairing_code()
    key = ask(board.app, "/pair", json.dumps({"code": code}).encode()).json["key"]
    said = json.dumps({"said": "what next"}).encode()
    assert ask(board.app, "/press", said, authorization=f"Bearer {key}").status == 200
    assert board.pressed == [("water half", "the board"), ("what next", "screen 1")]


@pytest.mark.parametrize("said", ["", " ", 5, None, ["a"], "a\x00b", "x" * (LONGEST + 1)])
def test_what_is_no_sentence_is_not_taken(board: Board, said: object) -> None:
    assert board.press(said) == 400
    assert board.pressed == []


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"\xff", b'{"said": "' + b"x" * MOST_BYTES])
def test_what_is_no_object_is_not_taken(board: Board, body: bytes) -> None:
    assert ask(board.app, "/press", body, authorization=board.bearer).status == 400


def test_a_pairing_code_works_once_and_not_for_ever(board: Board) -> None:
    body = json.dumps({"code": board.keys.pairing_code()}).encode()
    assert ask(board.app, "/pair", body).status == 200
    assert ask(board.app, "/pair", body).status == 403
    late = json.dumps({"code": board.keys.pairing_code()}).encode()
    board.now = PAIRS_FOR_S + 1.0
    assert ask(board.app, "/pair", late).status == 403
    earlier, later = board.keys.pairing_code(), board.keys.pairing_code()
    assert ask(board.app, "/pair", json.dumps({"code": earlier}).encode()).status == 403
    assert ask(board.app, "/pair", json.dumps({"code": later}).encode()).status == 200


def test_a_key_that_was_taken_back_is_none(board: Board) -> None:
    key = board.keys.pair(board.keys.pairing_code())
    assert key is not None
    assert ask(board.app, f"/picture?key={key}").status == 200
    assert board.keys.take_back("screen 1")
    assert ask(board.app, f"/picture?key={key}").status == 403
    assert not board.keys.take_back("screen 1")
    assert ask(board.app, f"/picture?key={board.keys.run_key}").status == 200


@pytest.mark.parametrize("path", ["/", "/board.css", "/board.js", "/picture"])
def test_every_answer_forbids_what_comes_from_elsewhere(board: Board, path: str) -> None:
    answer = ask(board.app, f"{path}?key={board.keys.run_key}")
    policy = answer.headers["content-security-policy"]
    assert answer.status == 200
    assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy
    assert answer.headers["cache-control"] == "no-store"


def test_the_page_takes_nothing_from_outside(board: Board) -> None:
    key = board.keys.run_key
    for path in ("/", "/board.css", "/board.js"):
        text = ask(board.app, f"{path}?key={key}").body.decode()
        assert "://" not in text.replace("${scheme}://${location.host}", "")
    page = ask(board.app, f"/?key={key}").body.decode()
    assert "<style" not in page and "style=" not in page and "onclick=" not in page
    assert key not in page


def test_the_page_without_a_key_is_refused(board: Board) -> None:
    assert ask(board.app, "/").status == 403
    assert ask(board.app, "/?code=anything").status == 200  # a page that asks to be paired
