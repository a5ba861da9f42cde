"""What the tests of the commands share."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test reads or writes the user's own files."""
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path / "home"))
