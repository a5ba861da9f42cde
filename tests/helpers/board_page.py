"""A board in a real browser: a served page, and the pictures it is given to show."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from assistant.board.server import Place, Server

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
SIZES = ((1024, 600), (390, 844), (844, 390), (1920, 1080))
SLOW_MS = 30_000


@contextmanager
def browser() -> Iterator[Any]:
    """A browser of this machine; the test is skipped with a word where there is none."""
    sync_api = pytest.importorskip("playwright.sync_api", reason="no Playwright here")
    found = next(filter(None, map(shutil.which, NAMES)), None)
    if found is None:
        pytest.skip(f"no browser here: none of {', '.join(NAMES)}")
    with sync_api.sync_playwright() as driver:
        opened = driver.chromium.launch(
            executable_path=found, args=["--no-sandbox", "--disable-dev-shm-usage"]
        )
        try:
            yield opened
        finally:
            opened.close()


class Shown:
    """In the place of the hub: a picture that a test sets, and what was pressed."""

    def __init__(self, picture: dict[str, Any]) -> None:
        self.text = json.dumps(picture)
        self.pressed: list[tuple[str, str]] = []

    def press(self, said: str, screen: str) -> None:
        self.pressed.append((said, screen))

    def picture(self) -> str:
        return self.text

    def on_change(self, wake: Callable[[], None]) -> Callable[[], None]:
        return lambda: None


@contextmanager
def served(hub: Any) -> Iterator[Server]:
    """A server on a free port of this machine."""
    server = Server(hub, Place(port=0), lambda line: None)
    try:
        yield server
    finally:
        server.close()


@contextmanager
def opened(
    chromium: Any, server: Server, size: tuple[int, int] = SIZES[0], **context: Any
) -> Iterator[Any]:
    """A page in a context of its own, with the key of the run, that shows its first picture."""
    made = chromium.new_context(viewport={"width": size[0], "height": size[1]}, **context)
    made.set_default_timeout(SLOW_MS)
    try:
        page = made.new_page()
        page.goto(f"{server.address}?key={server.keys.run_key}")
        page.locator("#unit:not(:empty)").wait_for()
        yield page
    finally:
        made.close()
