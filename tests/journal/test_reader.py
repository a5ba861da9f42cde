"""A journal is read as far as it is good; what it says of itself is always true."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from journal_files import HEADER, write

from assistant.errors import InputWrongError
from assistant.journal import reader
from assistant.journal.header import Header
from assistant.journal.writer import Journal
from assistant.messages import (
    Ended,
    Say,
    Started,
    Tick,
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "one.jsonl"


def record_at(raw: bytes, place: int) -> int:
    return raw[:place].count(b"\n")


def test_what_was_written_is_read(path: Path) -> None:
    write(path)
    kept = reader.read(path)
    assert (kept.state, kept.where, kept.lost) == ("whole", None, 0)
    assert kept.header == HEADER
    assert kept.finished
    exchanges = list(kept.exchanges())
    assert exchanges[0].event == Started(0.0, None, 7)
    assert exchanges[0].effects == (Say("Good morning."),)
    assert exchanges[2].event.at == 10.0 + 1 / 3  # to the last bit
    assert exchanges[-1].effects == (Ended("done"),)
    assert [record.n for record in kept.records] == list(range(len(kept.records)))


def test_a_newer_journal_is_refused_in_words(path: Path) -> None:
    newer = Header("Practice engine", HEADER.started, 1, 101_325.0, (), program="9.1", format=3)
    Journal.create(path, newer).close()
    with pytest.raises(InputWrongError, match=r"newer program \(version 9\.1, format 3\)"):
        reader.read(path)


def test_the_newest_unfinished_journal_of_the_engine(tmp_path: Path) -> None:
    assert reader.last_unfinished(tmp_path, "Practice engine") is None
    for day in (1, 2, 3):
        started = f"2026-05-0{day}T08:00:00+01:00"
        header = Header("Practice engine", started, 1, 101_325.0, ())
        with Journal.create(
            reader.new_path(tmp_path, "Practice engine", started), header
        ) as journal:
            journal.event(Started(0.0))
            if day == 3:
                journal.effect(0.0, Ended("done"))
    found = reader.last_unfinished(tmp_path, "Practice engine")
    assert found is not None
    assert found.path.name == "2026-05-02T08-00-00_practice-engine.jsonl"
    assert reader.last_unfinished(tmp_path, "Other") is None


def test_a_seal_holds_until_the_book_is_written_anew(path: Path) -> None:
    with Journal.create(path, HEADER) as journal:
        journal.event(Tick(1.0))
        digest = journal.seal()
    sealed = reader.read(path)
    assert sealed.seal is not None
    assert (sealed.seal.digest, sealed.seal.holds) == (digest, True)
    assert sealed.has_digest(digest)
    assert sealed.has_digest(digest.replace(" ", ""))
    assert not sealed.has_digest("0000 0000 0000 0000")
    assert not sealed.has_digest("")
    path.unlink()
    with Journal.create(path, HEADER) as journal:  # another past, a whole chain
        journal.event(Tick(2.0))
        journal.append("sealed", {"digest": digest})
    forged = reader.read(path)
    assert forged.state == "whole"
    assert forged.seal is not None
    assert not forged.seal.holds
    assert not forged.has_digest(digest)


@given(st.binary(max_size=200), st.integers(0, 4000), st.integers(0, 400))
def test_any_damage_is_told_and_what_stands_before_it_is_kept(
    tmp_path_factory: pytest.TempPathFactory, put: bytes, place: int, cut: int
) -> None:
    path = tmp_path_factory.mktemp("damaged") / "one.jsonl"
    raw = write(path, 3)
    whole = reader.read(path)
    place %= len(raw)
    damaged = raw[:place] + put + raw[place + cut :]
    path.write_bytes(damaged)
    kept = reader.read(path)
    before = record_at(raw, place)
    assert kept.records[:before] == whole.records[:before]
    same = raw.startswith(damaged) and (damaged.endswith(b"\n") or not damaged)
    assert (kept.state == "whole") == same
    assert kept.state == "whole" or kept.where is not None


def test_a_pipe_named_like_a_book_holds_nobody_up(tmp_path: Path) -> None:
    write(tmp_path / "a.jsonl")
    os.mkfifo(tmp_path / "b.jsonl")
    assert [path.name for path in reader.newest_first(tmp_path, "Practice engine")] == ["a.jsonl"]
