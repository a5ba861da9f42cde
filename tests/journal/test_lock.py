"""One writer for each engine at a time."""

from __future__ import annotations

import errno
import fcntl
import os
from pathlib import Path

import pytest
from journal_files import HEADER

from assistant.errors import WorldFailedError
from assistant.journal.header import Header
from assistant.journal.lock import BusyError
from assistant.journal.writer import Journal
from assistant.messages import Tick


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


def test_a_deleted_lock_file_lets_nobody_into_a_book_that_is_written(tmp_path: Path) -> None:
    with Journal.create(tmp_path / "a.jsonl", HEADER) as journal:
        (tmp_path / ".practice-engine.lock").unlink()
        with pytest.raises(BusyError, match="already keeping the book"):
            Journal.reopen(tmp_path / "a.jsonl", "Practice engine")
        journal.event(Tick(1.0))
        journal.sync()


def test_engines_whose_names_have_no_letter_of_ours_are_two(tmp_path: Path) -> None:
    one, other = (Header(name, HEADER.started, 1, 101_325.0, ()) for name in ("Маша", "Даша"))
    with Journal.create(tmp_path / "a.jsonl", one), Journal.create(tmp_path / "b.jsonl", other):
        pass


def test_a_folder_without_locks_is_not_told_as_another_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(descriptor: int, how: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(fcntl, "flock", refuse)
    with pytest.raises(WorldFailedError, match="cannot be locked: No locks available"):
        Journal.create(tmp_path / "a.jsonl", HEADER)
