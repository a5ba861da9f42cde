"""The board's pages and answers over HTTP and WebSocket. Knows the hub and the keys; no session.

Without a key, or from a page of another origin: 403, and nothing is told.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections.abc import Awaitable, Callable
from importlib.resources import files
from urllib.parse import urlsplit

from starlette.applications import Starlette
from starlette.requests import HTTPConnection, Request
from starlette.responses import Response
from starlette.routing import Route, WebSocketRoute
from starlette.websockets import WebSocket, WebSocketDisconnect

from assistant.board.hub import Hub
from assistant.board.keys import Keys

MOST_BYTES = 2000  # of a press
LONGEST = 200  # characters of what is pressed
LEAST_S = 0.2  # between two pictures to one page
STILL_S = 1.0  # a page hears from us so often, and knows by that that it is not lost
SEND_S = 5.0  # a page that takes longer is left out
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
        "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
}
PAGE = {
    "index.html": "text/html; charset=utf-8",
    "board.css": "text/css; charset=utf-8",
    "board.js": "text/javascript; charset=utf-8",
}


def application(hub: Hub, keys: Keys, hosts: frozenset[str]) -> Starlette:
    """The application. hosts: the names under which it may be asked for, without a port."""
    board = _Board(hub, keys, hosts)
    return Starlette(
        routes=[
            Route("/", board.index),
            Route("/board.css", board.asset),
            Route("/board.js", board.asset),
            Route("/picture", board.picture),
            Route("/press", board.press, methods=["POST"]),
            Route("/pair", board.pair, methods=["POST"]),
            WebSocketRoute("/live", board.live),
        ]
    )


class _Board:
    def __init__(self, hub: Hub, keys: Keys, hosts: frozenset[str]) -> None:
        self._hub, self._keys, self._hosts = hub, keys, hosts

    async def index(self, request: Request) -> Response:
        """The page; its own script asks for the rest with the key of the address."""
        if self._screen(request) is None and "code" not in request.query_params:
            return _refused()
        return _file("index.html") if self._from_us(request) else _refused()

    async def asset(self, request: Request) -> Response:
        """Style and script: the same for everybody, and nothing of the engine in them."""
        return _file(request.url.path.removeprefix("/")) if self._from_us(request) else _refused()

    async def picture(self, request: Request) -> Response:
        """The picture as JSON."""
        if not self._from_us(request) or self._screen(request) is None:
            return _refused()
        return Response(self._hub.picture(), media_type="application/json", headers=HEADERS)

    async def press(self, request: Request) -> Response:
        """`{"said": "water half"}`: as if it had been said."""
        screen = self._screen(request)
        if not self._from_us(request) or screen is None:
            return _refused()
        said = await _said(request, "said")
        if said is None:
            return _answer({"taken": False, "why": "no words"}, 400)
        self._hub.press(said, screen)
        return _answer({"taken": True})

    async def pair(self, request: Request) -> Response:
        """`{"code": "..."}`: a key for this screen, once."""
        if not self._from_us(request):
            return _refused()
        code = await _said(request, "code")
        key = None if code is None else self._keys.pair(code)
        return _refused() if key is None else _answer({"key": key})

    async def live(self, socket: WebSocket) -> None:
        """Each new picture, and a sign of life each second; a slow page is left out."""
        if not self._from_us(socket) or self._screen(socket) is None:
            await socket.close(4403)
            return
        await socket.accept()
        changed, running = asyncio.Event(), asyncio.get_running_loop()

        def wake() -> None:
            with contextlib.suppress(RuntimeError):  # the server has ended
                running.call_soon_threadsafe(changed.set)

        end = self._hub.on_change(wake)
        gone = asyncio.create_task(_until_gone(socket))
        try:
            while not gone.done() and self._screen(socket) is not None:
                changed.clear()
                await asyncio.wait_for(socket.send_text(self._hub.picture()), SEND_S)
                await asyncio.sleep(LEAST_S)
                await _first(changed.wait, gone, STILL_S - LEAST_S)
        except (WebSocketDisconnect, RuntimeError, TimeoutError):
            pass
        finally:
            end()
            gone.cancel()

    def _screen(self, asked: HTTPConnection) -> str | None:
        """The screen whose key came with it; None without a key of ours."""
        key = asked.query_params.get("key", "")
        header = asked.headers.get("authorization", "")
        if not key and header.startswith("Bearer "):
            key = header.removeprefix("Bearer ")
        return self._keys.screen_of(key) if key.isascii() and key else None

    def _from_us(self, asked: HTTPConnection) -> bool:
        """Asked for by our own address, and by our own page where a page asked."""
        host = asked.headers.get("host", "")
        if urlsplit(f"//{host}").hostname not in self._hosts:
            return False
        if asked.headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return False
        origin = asked.headers.get("origin")
        return origin is None or urlsplit(origin).netloc == host


async def _first(
    changed: Callable[[], Awaitable[object]], gone: asyncio.Task[None], seconds: float
) -> None:
    """Wait until there is something new, the page is gone, or so long."""
    waiting = asyncio.ensure_future(changed())
    await asyncio.wait((waiting, gone), timeout=seconds, return_when=asyncio.FIRST_COMPLETED)
    waiting.cancel()


async def _until_gone(socket: WebSocket) -> None:
    """What a page sends is not read; that it closes is."""
    while (await socket.receive())["type"] != "websocket.disconnect":
        pass


async def _said(request: Request, name: str) -> str | None:
    """A short text of a small JSON object; None for anything else."""
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > MOST_BYTES:
            return None
    try:
        given = json.loads(body)
    except ValueError:
        return None
    said = given.get(name) if isinstance(given, dict) else None
    if not isinstance(said, str) or not said.isprintable():
        return None
    said = " ".join(said.split())
    return said if 0 < len(said) <= LONGEST else None


def _file(name: str) -> Response:
    content = (files("assistant.board") / "page" / name).read_bytes()
    return Response(content, media_type=PAGE[name], headers=HEADERS)


def _answer(given: dict[str, object], status: int = 200) -> Response:
    return Response(json.dumps(given), status, HEADERS, "application/json")


def _refused() -> Response:
    return Response(status_code=403, headers=HEADERS)
