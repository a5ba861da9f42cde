"""One writer for each engine at a time."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from journal_files import HEADER

from assistant.errors import WorldFailedError
from assistant.journal.header import Header
from assistant.journal.writer import Journal


def test_a_second_writer_on_the_same_engine_is_refused(tmp_path: Path) -> None:
    with Journal.create(tmp_path / "a.jsonl", HEADER):
        with pytest.raises(WorldFailedError, match=rf"\(process {os.getpid()}\).*Practice engine"):
            Journal.create(tmp_path / "b.jsonl", HEADER)
        with pytest.raises(WorldFailedError, match="already keeping the book"):
            Journal.reopen(tmp_path / "a.jsonl", "Practice engine")
    assert not (tmp_path / "b.jsonl").exists()
    Journal.create(tmp_path / "c.jsonl", HEADER).close()


def test_two_engines_may_be_in_steam_at_once(tmp_path: Path) -> None:
    other = Header("Other", HEADER.started, 1, 101_325.0, ())
    with (
        Journal.create(tmp_path / "a.jsonl", HEADER),
        Journal.create(tmp_path / "b.jsonl", other),
    ):
        pass
