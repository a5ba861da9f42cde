"""A file is written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from assistant.config.atomic_write import write_whole
from assistant.errors import WorldFailedError


def test_new_and_replaced(tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    write_whole(path, b"one")
    path.chmod(0o640)
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [one.name for one in tmp_path.iterdir()] == ["page.html"]


def test_what_fails_leaves_what_was_there(tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    write_whole(path, b"one")
    with pytest.raises(TypeError):
        write_whole(path, "no bytes")  # type: ignore[arg-type]
    assert path.read_bytes() == b"one"
    assert [one.name for one in tmp_path.iterdir()] == ["page.html"]


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(WorldFailedError, match="cannot be written: No such file"):
        write_whole(tmp_path / "no" / "page.html", b"one")


def test_what_is_no_plain_file_is_written_to() -> None:
    write_whole(Path(os.devnull), b"one")
    assert not Path(os.devnull).is_file()


def test_a_pipe_that_nobody_reads_is_told_and_holds_nobody_up(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(WorldFailedError, match="pipe: cannot be written"):
        write_whole(tmp_path / "pipe", b"words")
