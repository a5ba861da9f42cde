"""The page beside a live session: in time, after a reload, on five screens, and for nobody else."""

from __future__ import annotations

import contextlib
import functools
import http.server
import json
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import board_pictures
import pytest
from board_page import Shown, opened, served
from day_story import taken_over

from assistant.board import server as server_module
from assistant.board.hub import Hub
from assistant.board.keys import Keys
from assistant.board.server import Place, Server
from assistant.recogniser.typed_recogniser import hear_typed

pytestmark = [pytest.mark.real, pytest.mark.enable_socket]

MOST_MS = 500.0  # from the event to the page
WHEN_SHOWN = """
() => new MutationObserver(() => { window.shownAt = window.shownAt || Date.now(); })
  .observe(document.getElementById("line"), {childList: true, characterData: true, subtree: true})
"""
SEEN = "[by('far').textContent, by('details').textContent, by('line').textContent]"
LINE = "DANGER: Stop the heat. No water in sight."


def test_an_alarm_is_on_five_pages_in_half_a_second_and_after_a_reload(chromium: Any) -> None:
    day = taken_over("raising steam", "practice", "pressure sixty")
    session = day.session
    hub = Hub(session.config, session, lambda *press: None)
    with contextlib.ExitStack() as stack:
        server = stack.enter_context(served(hub))
        pages = [stack.enter_context(opened(chromium, server)) for _ in range(5)]
        for number, page in enumerate(pages):
            page.keyboard.press("123"[number % 3])  # on whichever page it stands
            page.evaluate(WHEN_SHOWN)
        time.sleep(0.3)
        event = hear_typed("no water in sight", session.expected, day.at + 5.0)
        told_ms = 1000.0 * time.time()
        hub.follow(event, session.handle(event))
        for page in pages:
            page.locator("#line", has_text=LINE).wait_for()
        late = [page.evaluate("shownAt") - told_ms for page in pages]
        assert max(late) < MOST_MS, late
        for page in pages:
            page.reload()
            page.locator("#line", has_text=LINE).wait_for()
        seen = [page.evaluate(SEEN) for page in pages]
        assert seen[0][2].startswith(LINE) and seen == [seen[0]] * 5
        pictures = [page.evaluate("JSON.stringify(picture)") for page in pages]
        assert pictures == [pictures[0]] * 5
        assert json.loads(pictures[0]) == json.loads(hub.picture())


def _status(page: Any, address: str) -> int:
    """What the server answered; of an answer without a body the browser makes a page of its own."""
    with page.expect_response(address) as answer, contextlib.suppress(Exception):
        page.goto(address)
    return int(answer.value.status)


def test_a_page_without_a_good_key_is_shown_nothing(chromium: Any) -> None:
    hub = Shown(board_pictures.usual())
    with served(hub) as server:
        context = chromium.new_context()
        for wrong in ("", "?key=", "?key=wrong", f"?key={server.keys.run_key[:-1]}"):
            page = context.new_page()  # on a refused one Chromium goes on to a page of its own
            assert _status(page, f"{server.address}{wrong}") == 403
            assert page.locator("main").count() == 0
        page = context.new_page()
        code = server.keys.pairing_code()
        page.goto(f"{server.address}?code={code}")
        page.locator("#unit:not(:empty)").wait_for()  # paired
        other = chromium.new_context().new_page()
        with other.expect_response("**/pair") as refused:
            other.goto(f"{server.address}?code={code}")
        assert refused.value.status == 403
        other.locator("#lost").wait_for()
        assert other.locator("#unit").inner_text() == ""
        assert page.locator("#lost").is_hidden()
        assert server.keys.take_back("screen 1")
        page.locator("#lost").wait_for()  # its connection ended
        assert _status(context.new_page(), page.url) == 403
        other.context.close()
        context.close()


@contextlib.contextmanager
def _another_site(folder: Path) -> Iterator[str]:
    """A site of another name on this machine, from a folder."""
    serve = functools.partial(http.server.SimpleHTTPRequestHandler, directory=str(folder))
    serve.func.log_message = lambda *_: None  # type: ignore[method-assign]
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), serve) as site:
        threading.Thread(target=site.serve_forever, daemon=True).start()
        try:
            yield f"http://localhost:{site.server_address[1]}/"
        finally:
            site.shutdown()


def test_a_page_of_another_site_neither_presses_nor_reads(chromium: Any, tmp_path: Path) -> None:
    """It even knows the key: what it asks for reaches the board, and is refused."""
    hub = Shown(board_pictures.usual())
    with served(hub) as server, _another_site(tmp_path) as site:
        key, board = server.keys.run_key, server.address
        form = (
            f"<form method=post enctype=text/plain action='{board}press?key={key}'>"
            '<input name=\'{"said": "water half", "x": "\' value=\'"}\'></form>'
        )
        (tmp_path / "index.html").write_text(f"<!doctype html><body>{form}", encoding="utf-8")
        page = chromium.new_context().new_page()
        page.goto(site)
        read = page.evaluate(
            "(address) => fetch(address).then((a) => a.text(), () => 'refused')",
            f"{board}picture?key={key}",
        )
        assert read == "refused"
        live = page.evaluate(
            "(address) => new Promise((done) => { const s = new WebSocket(address);"
            " s.onmessage = () => done('read'); s.onclose = () => done('closed'); })",
            f"ws://127.0.0.1:{server.port}/live?key={key}",
        )
        assert live == "closed"
        with page.expect_response("**/press?*") as pressed:
            page.evaluate("document.forms[0].submit()")
        assert pressed.value.status == 403
        page.context.close()
    assert hub.pressed == []


def test_a_server_that_ends_and_comes_again_is_told_and_found_again(
    chromium: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    keys = Keys(time.monotonic)
    monkeypatch.setattr(server_module, "Keys", lambda now: keys)
    hub = Shown(board_pictures.usual())
    with served(hub) as first, opened(chromium, first) as page:
        first.close()
        page.locator("#lost").wait_for()
        hub.text = json.dumps(board_pictures.each_alarm()[0])
        again = Server(hub, Place(port=first.port), lambda line: None)
        try:
            page.locator("#lost").wait_for(state="hidden")
            page.locator("#line", has_text="DANGER").wait_for()
            page.locator("#answers button", has_text="Right").click()
            page.locator("#answers button.sent").wait_for()
        finally:
            again.close()
    assert hub.pressed == [("that's right", "the board")]
