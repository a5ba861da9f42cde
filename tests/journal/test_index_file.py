"""The kept index saves time and is never trusted: what does not fit is read again."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from journal_files import write

from assistant.journal import index, reader
from assistant.journal.index_entry import IndexEntry
from assistant.journal.index_file import NAME

BOOKS = 6


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for number in range(BOOKS):
        write(tmp_path / f"2026-05-0{number + 1}.jsonl", exchanges=number)
    return tmp_path


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the journals that were read."""
    names: list[str] = []
    real = index.entry_of

    def counted(path: Path) -> IndexEntry:
        names.append(path.name)
        return real(path)

    monkeypatch.setattr(index, "entry_of", counted)
    return names


def test_a_journal_that_is_as_it_was_is_not_read_again(folder: Path, read: list[str]) -> None:
    first = index.index_of(folder)
    assert len(read) == BOOKS
    assert (folder / NAME).stat().st_mode & 0o777 == 0o600
    assert index.index_of(folder) == first
    assert len(read) == BOOKS


def test_one_that_was_touched_altered_or_put_there_is_read_again(
    folder: Path, read: list[str]
) -> None:
    index.index_of(folder)
    read.clear()
    altered, touched = folder / "2026-05-03.jsonl", folder / "2026-05-04.jsonl"
    raw, before = altered.read_bytes(), altered.stat()
    altered.write_bytes(raw.replace(b"Good morning", b"Good evening"))
    os.utime(altered, ns=(before.st_atime_ns, before.st_mtime_ns))  # size and date as they were
    os.utime(touched)
    write(folder / "2026-05-09.jsonl")
    (folder / "2026-05-01.jsonl").unlink()
    found, _ = index.index_of(folder)
    assert read == ["2026-05-03.jsonl", "2026-05-04.jsonl", "2026-05-09.jsonl"]
    assert len(found) == BOOKS
    assert [entry.path.name for entry in found if entry.state == "altered"] == [altered.name]


@pytest.mark.parametrize("spoilt", ["", "{", "changed", "old", "not a table"])
def test_an_index_that_is_wrong_is_made_anew(folder: Path, read: list[str], spoilt: str) -> None:
    right = index.index_of(folder)
    file = folder / NAME
    head, _, text = file.read_text().partition("\n")
    file.write_text(
        {
            "changed": f"{head}\n{text.replace('45.0', '99.0').replace('null', 'false')}",
            "old": f"{json.dumps({**json.loads(head), 'program': '0.0.1'})}\n{text}",
            "not a table": "[]\n[]",
        }.get(spoilt, spoilt)
    )
    read.clear()
    assert index.index_of(folder) == right
    assert len(read) == BOOKS
    read.clear()
    assert index.index_of(folder) == right
    assert read == []


def test_a_pipe_in_its_place_holds_nobody_up(folder: Path) -> None:
    os.mkfifo(folder / NAME)
    assert len(index.index_of(folder)[0]) == BOOKS


def test_the_last_unfinished_is_found_without_reading_those_that_ended(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(folder / "2026-04-01.jsonl")
    raw = (folder / "2026-04-01.jsonl").read_bytes()
    (folder / "2026-04-01.jsonl").write_bytes(b"".join(raw.splitlines(True)[:-1]))
    names: list[str] = []
    real = reader.read

    def counted(path: Path, *given: object, **named: object) -> reader.JournalRecords:
        names.append(path.name)
        return real(path, *given, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(reader, "read", counted)
    found = reader.last_unfinished(folder, "Practice engine")
    assert found is not None and found.path.name == "2026-04-01.jsonl"
    assert names == ["2026-04-01.jsonl"]
