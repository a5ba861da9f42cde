"""A journal is created, continued after a cut, sealed; a full or read-only disk is an error."""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest
from journal_files import HEADER, write

from assistant.errors import InputWrongError, WorldFailedError
from assistant.journal import hash_chain, reader
from assistant.journal.header import FORMAT
from assistant.journal.writer import Journal
from assistant.messages import (
    ReadingAccepted,
    ReadingCorrected,
    Report,
    Resumed,
    Tick,
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "one.jsonl"


def test_each_line_is_plain_json_with_number_time_kind_and_hash(path: Path) -> None:
    lines = write(path).decode("utf-8").splitlines()
    for n, line in enumerate(lines):
        body = json.loads(line)
        assert body["n"] == n
        assert {"at", "kind", "before"} <= set(body)
    assert json.loads(lines[0])["format"] == FORMAT


def test_a_cut_journal_is_taken_up_again_and_says_so(path: Path) -> None:
    raw = write(path)
    for less in (1, 2, 40, 150):
        path.write_bytes(raw[:-less])
        before = hash_chain.read_chain(raw[:-less])
        with Journal.reopen(path, "Practice engine") as journal:
            journal.event(Resumed(200.0, 60.0))
            journal.sync()
        kept = reader.read(path)
        assert kept.state == "whole"
        assert kept.records[: len(before.records)] == before.records
        torn = kept.records[len(before.records)]
        assert torn.kind == "torn"
        assert raw[:-less].decode().endswith(str(torn.payload["text"]))
        assert not kept.finished


def test_an_altered_journal_is_not_gone_on_with(path: Path) -> None:
    raw = write(path)
    path.write_bytes(raw.replace(b"Good morning", b"Good evening"))
    with pytest.raises(InputWrongError, match=r"cannot go on with it: record 4 \(effect\) was"):
        Journal.reopen(path, "Practice engine")
    assert b"Good evening" in path.read_bytes()


def test_a_journal_is_never_written_over(path: Path) -> None:
    raw = write(path)
    with pytest.raises(InputWrongError, match="journal already exists"):
        Journal.create(path, HEADER)
    assert path.read_bytes() == raw


def test_killed_at_random_moments_nothing_acted_upon_is_lost(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; "
        "from assistant.lab.benches.crash_test import kill_writers; "
        "tally = kill_writers(Path(sys.argv[1]), kills=60, seed=2);"
        "print(tally.acted, tally.lost, tally.altered)"
    )  # its own process: it forks, and this one may have threads by now
    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True
    )
    acted, lost, altered = map(int, done.stdout.split())
    assert acted > 60
    assert (lost, altered) == (0, 0)


def test_a_correction_points_at_what_it_corrects(path: Path) -> None:
    wrong, right = Report("pressure", 75.0, "psi"), Report("pressure", 65.0, "psi")
    with Journal.create(path, HEADER) as journal:
        journal.event(Tick(1.0))
        journal.effect(1.0, ReadingAccepted(wrong))
        journal.effect(1.0, ReadingAccepted(Report("water", 0.5, "glass")))
    with Journal.reopen(path, "Practice engine") as journal:
        journal.effect(2.0, ReadingCorrected(wrong, right))
        journal.effect(3.0, ReadingCorrected(right, None))
    accepted, _, first, second = reader.read(path).records[-4:]
    assert accepted.payload["effect"]["report"]["value"] == 75.0
    assert first.payload["corrects"] == accepted.n
    assert second.payload["corrects"] == first.n


def test_what_was_read_before_is_trusted_only_while_the_file_is_the_same(path: Path) -> None:
    first, second = Report("pressure", 75.0, "psi"), Report("water", 0.5, "glass")
    with Journal.create(path, HEADER) as journal:
        journal.event(Tick(1.0))
        journal.effect(1.0, ReadingAccepted(first))
    known = reader.read(path, only=reader.READING_EFFECTS)
    with Journal.reopen(path, "Practice engine", known) as journal:
        journal.effect(2.0, ReadingCorrected(first, second))
    with Journal.reopen(path, "Practice engine", known) as journal:
        journal.effect(3.0, ReadingCorrected(second, None))
    kept = reader.read(path)
    assert kept.state == "whole"
    accepted, corrected, taken_back = kept.records[-3:]
    assert corrected.payload["corrects"] == accepted.n
    assert taken_back.payload["corrects"] == corrected.n
    raw = path.read_bytes()
    path.write_bytes(raw.replace(b'"value":75.0', b'"value":76.0', 1))
    with pytest.raises(InputWrongError, match="was changed"):
        Journal.reopen(path, "Practice engine", kept)


FULL = """
import resource, signal, sys
from pathlib import Path
from assistant.errors import WorldFailedError
from assistant.journal.writer import Journal
from assistant.journal.header import Header
from assistant.messages import Tick
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
header = Header("Practice engine", "2026-05-02T08:15:00+01:00", 1, 101325.0, ())
journal = Journal.create(Path(sys.argv[1]), header)
resource.setrlimit(resource.RLIMIT_FSIZE, (5000, resource.RLIM_INFINITY))
failures = 0
for i in range(100):
    if i == 60:
        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY,) * 2)
    try:
        journal.event(Tick(float(i)))
    except WorldFailedError as full:
        failures += 1
        message = str(full)
print(failures, message)
"""


@pytest.mark.skipif(not hasattr(resource, "RLIMIT_FSIZE"), reason="no limit on file sizes here")
def test_a_full_disk_leaves_whole_records_and_room_lets_it_go_on(path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FULL, str(path)], capture_output=True, text=True, check=True
    )
    failures, message = done.stdout.split(maxsplit=1)
    assert 20 < int(failures) < 60
    assert "cannot be written" in message
    kept = reader.read(path)
    assert kept.state == "whole"
    assert len(kept.events()) == 100 - int(failures)
    assert kept.events()[-1] == Tick(99.0)


NO_ROOM = """
import resource, signal, sys
from pathlib import Path
from assistant.errors import WorldFailedError
from assistant.journal.writer import Journal
from assistant.journal.header import Header
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
header = Header("Practice engine", "2026-05-02T08:15:00+01:00", 1, 101325.0, ())
resource.setrlimit(resource.RLIMIT_FSIZE, (100, resource.RLIM_INFINITY))
for _ in range(2):  # the second try finds neither half a book nor a lock in its way
    try:
        Journal.create(Path(sys.argv[1]), header)
    except WorldFailedError as full:
        print(full)
"""


def test_no_room_for_the_first_records_leaves_no_half_book(path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", NO_ROOM, str(path)], capture_output=True, text=True, check=True
    )
    assert done.stdout.count("cannot be written: File too large") == 2
    assert not path.exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_read_only_folder_is_told(path: Path) -> None:
    path.parent.chmod(0o555)
    with pytest.raises(WorldFailedError, match="cannot be written: Permission denied"):
        Journal.create(path, HEADER)


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(WorldFailedError, match="cannot make its folder"):
        Journal.create(tmp_path / "file" / "one.jsonl", HEADER)


def test_a_journal_deleted_while_open_is_reported(tmp_path: Path) -> None:
    with Journal.create(tmp_path / "day.jsonl", HEADER) as journal:
        journal.event(Tick(1.0))
        journal.sync()
        (tmp_path / "day.jsonl").unlink()
        journal.event(Tick(2.0))
        with pytest.raises(WorldFailedError, match="the journal file was deleted while open"):
            journal.sync()


def test_another_hand_in_the_book_is_noticed_at_the_next_write(path: Path) -> None:
    with Journal.create(path, HEADER) as journal:
        journal.event(Tick(1.0))
        journal.sync()
        size = path.stat().st_size
        with path.open("ab") as other:
            other.write(b"a line of another\n")
        with pytest.raises(WorldFailedError, match="was added to by another program"):
            journal.event(Tick(2.0))
        with pytest.raises(WorldFailedError, match="was added to by another program"):
            journal.seal()
        os.truncate(path, size - 10)
        with pytest.raises(WorldFailedError, match="was shortened by another program"):
            journal.sync()


def changed_in_place(path: Path, date_ns: int | None = None) -> None:
    """One letter of it is another; its length stays, and its date where one is given."""
    with path.open("r+b") as other:
        other.write(b"[")
    if date_ns is not None:
        os.utime(path, ns=(date_ns, date_ns))


def test_a_letter_changed_by_another_is_noticed_at_the_next_write(path: Path) -> None:
    Journal.create(path, HEADER).close()
    with Journal.reopen(path, "Practice engine") as journal:
        journal.event(Tick(1.0))
        changed_in_place(path, date_ns=1)
        with pytest.raises(WorldFailedError, match="was changed by another program"):
            journal.event(Tick(2.0))
        with pytest.raises(WorldFailedError, match="was changed by another program"):
            journal.sync()


def test_a_change_with_the_same_date_is_noticed_before_the_seal(path: Path) -> None:
    with Journal.create(path, HEADER) as journal:
        journal.event(Tick(1.0))
        changed_in_place(path, path.stat().st_mtime_ns)
        journal.event(Tick(2.0))
        with pytest.raises(WorldFailedError, match="was changed by another program"):
            journal.seal()
    assert reader.read(path).seal is None


def test_a_date_alone_is_no_other_hand(path: Path) -> None:
    with Journal.create(path, HEADER) as journal:
        journal.event(Tick(1.0))
        os.utime(path, ns=(1, 1))
        journal.event(Tick(2.0))
        os.utime(path, ns=(2, 2))
        journal.seal()
    kept = reader.read(path)
    assert kept.state == "whole"
    assert kept.seal is not None


def test_a_book_is_for_its_owner_only(tmp_path: Path) -> None:
    folder = tmp_path / "kept" / "books"
    path = folder / "one.jsonl"
    Journal.create(path, HEADER).close()
    assert path.stat().st_mode & 0o777 == 0o600
    assert [f.stat().st_mode & 0o777 for f in (folder, folder.parent)] == [0o700, 0o700]
    path.chmod(0o644)
    Journal.reopen(path, "Practice engine").close()
    assert path.stat().st_mode & 0o777 == 0o600
