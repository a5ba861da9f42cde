"""Asks an ASGI application without a socket."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlsplit

HOST = "127.0.0.1:8747"


@dataclass(frozen=True)
class Answer:
    """What came back."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def json(self) -> Any:
        """The body as JSON."""
        return json.loads(self.body)


def ask(
    application: Any,
    target: str,
    body: bytes | None = None,
    host: str = HOST,
    **headers: str,
) -> Answer:
    """GET, or POST with a body. headers: underscores stand for hyphens."""
    return asyncio.run(_ask(application, target, body, {"host": host, **headers}))


async def _ask(
    application: Any, target: str, body: bytes | None, headers: Mapping[str, str]
) -> Answer:
    parts, sent = urlsplit(target), []
    scope = {
        "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "scheme": "http",
        "method": "GET" if body is None else "POST", "path": parts.path, "root_path": "",
        "raw_path": parts.path.encode(), "query_string": parts.query.encode(),
        "headers": [(k.replace("_", "-").lower().encode(), v.encode()) for k, v in headers.items()],
        "client": ("127.0.0.1", 1), "server": ("127.0.0.1", 8747),
    }  # fmt: skip
    waiting = [{"type": "http.request", "body": body or b"", "more_body": False}]

    async def receive() -> dict[str, Any]:
        return waiting.pop(0) if waiting else {"type": "http.disconnect"}

    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    await application(scope, receive, send)
    start = sent[0]
    found = {name.decode(): value.decode() for name, value in start["headers"]}
    whole = b"".join(message.get("body", b"") for message in sent[1:])
    return Answer(start["status"], found, whole)
