"""A browser for the board's page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from board_page import browser


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """A browser of this machine; skipped with a word where there is none."""
    with browser() as started:
        yield started
