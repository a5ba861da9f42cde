"""A journal is written, cut, altered, taken up again; what it says of itself is always true."""

from __future__ import annotations

import json
import os
import random
import resource
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import InputWrongError, WorldFailedError
from assistant.journal import hash_chain, reader
from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import (
    Alternative,
    Ended,
    Heard,
    ReadingAccepted,
    ReadingCorrected,
    Report,
    Resumed,
    Say,
    Started,
    Tick,
)

HEADER = Header(
    engine_name="Practice engine",
    started="2026-05-02T08:15:00+01:00",
    seed=7,
    atmosphere_pa=101_325.0,
    kept=(
        KeptText("engine", "practice.yaml", "name: Practice engine\n"),
        KeptText("checklist", "firing.yaml", "name: firing\ntitle: Firing – “first”\n"),
    ),
    how="typed",
)


def write(path: Path, exchanges: int = 10) -> bytes:
    """A journal of so many turns, ended; its bytes."""
    with Journal.create(path, HEADER) as journal:
        journal.event(Started(0.0, None, 7))
        journal.effect(0.0, Say("Good morning."))
        for i in range(exchanges):
            report = Report("pressure", 5.0 * i, "psi")
            heard = Alternative(report, f"pressure {i}", 0.75)
            journal.event(Heard(10.0 + i / 3, "typed", (heard,), text=f"pressure {i}"))
            journal.effect(10.0 + i / 3, ReadingAccepted(report))
            journal.sync()
        journal.event(Tick(100.0))
        journal.effect(100.0, Ended("done"))
        journal.sync()
    return path.read_bytes()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "one.jsonl"


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


def test_each_line_is_plain_json_with_number_time_kind_and_hash(path: Path) -> None:
    lines = write(path).decode("utf-8").splitlines()
    for n, line in enumerate(lines):
        body = json.loads(line)
        assert body["n"] == n
        assert {"at", "kind", "before"} <= set(body)
    assert json.loads(lines[0])["format"] == 1


def changed(raw: bytes, place: int, rng: random.Random) -> bytes:
    byte = rng.choice([b for b in range(256) if b != raw[place]])
    return raw[:place] + bytes([byte]) + raw[place + 1 :]


def record_at(raw: bytes, place: int) -> int:
    return raw[:place].count(b"\n")


def test_any_byte_changed_is_named(path: Path) -> None:
    raw, rng = write(path), random.Random(1)
    for place in [*range(0, len(raw), 7), len(raw) - 1, len(raw) - 2]:
        found = hash_chain.read_chain(changed(raw, place, rng))
        assert found.state == "altered", place
        assert found.where == record_at(raw, place), (place, found.why)
        assert found.why


def test_a_record_removed_swapped_or_put_in_is_named(path: Path) -> None:
    lines = write(path, 60).splitlines(keepends=True)
    for i in range(len(lines) - 1):  # without a follower nothing can tell that the last is gone
        found = hash_chain.read_chain(b"".join(lines[:i] + lines[i + 1 :]))
        assert (found.state, found.where) == ("altered", i), i
    for i in range(len(lines) - 1):
        swapped = [*lines[:i], lines[i + 1], lines[i], *lines[i + 2 :]]
        found = hash_chain.read_chain(b"".join(swapped))
        assert (found.state, found.where) == ("altered", i), i
    for i in range(len(lines) + 1):
        put_in = lines[(i * 7) % len(lines)]
        found = hash_chain.read_chain(b"".join([*lines[:i], put_in, *lines[i:]]))
        at = i + 1 if i < len(lines) and put_in == lines[i] else i
        assert (found.state, found.where) == ("altered", at), i


def test_a_record_rewritten_with_its_own_sum_is_found_by_its_follower(path: Path) -> None:
    lines = write(path).splitlines(keepends=True)
    body = json.loads(lines[7])
    payload = {k: v for k, v in body.items() if k not in hash_chain.RESERVED_KEYS}
    lines[7] = hash_chain.encode_line(7, body["at"] + 1.0, body["kind"], payload, body["before"])
    found = hash_chain.read_chain(b"".join(lines))
    assert (found.state, found.where) == ("altered", 8)
    assert "record 7 or 8" in found.why


def test_cut_at_every_byte_of_its_last_three_records(path: Path) -> None:
    raw = write(path)
    lines = raw.splitlines(keepends=True)
    first = len(raw) - sum(len(line) for line in lines[-3:])
    for end in range(first, len(raw)):
        found = hash_chain.read_chain(raw[:end])
        whole = raw[:end].count(b"\n")
        assert len(found.records) == whole
        at_a_line_end = raw[:end].endswith(b"\n")
        assert found.state == ("whole" if at_a_line_end else "cut")
        assert at_a_line_end or f"record {whole} " in found.why


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


def test_a_journal_is_never_written_over(path: Path) -> None:
    raw = write(path)
    with pytest.raises(InputWrongError, match="journal already exists"):
        Journal.create(path, HEADER)
    assert path.read_bytes() == raw


def test_a_newer_journal_is_refused_in_words(path: Path) -> None:
    newer = Header("Practice engine", HEADER.started, 1, 101_325.0, (), program="9.1", format=2)
    Journal.create(path, newer).close()
    with pytest.raises(InputWrongError, match=r"newer program \(version 9\.1, format 2\)"):
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


def test_what_is_read_in_part_is_proved_as_a_whole(path: Path) -> None:
    raw, rng = write(path), random.Random(3)
    whole, part = hash_chain.read_chain(raw), hash_chain.read_chain(raw, (b'"ReadingAccepted"',))
    assert part.count == whole.count == len(whole.records)
    assert part.last == whole.last
    kinds = [record.payload.get("effect", {}).get("is") for record in part.records[1:-1]]
    assert kinds == ["ReadingAccepted"] * 10
    assert (part.records[0], part.records[-1]) == (whole.records[0], whole.records[-1])
    for place in range(0, len(raw), 11):
        damaged = changed(raw, place, rng)
        full, quick = (
            hash_chain.read_chain(damaged),
            hash_chain.read_chain(damaged, (b'"ReadingAccepted"',)),
        )
        assert (quick.state, quick.where, quick.why) == (full.state, full.where, full.why)


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


def test_a_time_that_cannot_be_is_told(path: Path) -> None:
    for at in ("1e999", "1" + "0" * 400):
        line = hash_chain.encode_line(0, 0.0, "event", {}, hash_chain.FIRST_BEFORE)
        body = line[: line.rfind(b',"sum"')].replace(b'"at":0.0', b'"at":' + at.encode())
        summed = hash_chain.with_sum(body + b"}")
        found = hash_chain.read_chain(summed)
        assert (found.state, found.where) == ("altered", 0)


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(WorldFailedError, match="cannot make its folder"):
        Journal.create(tmp_path / "file" / "one.jsonl", HEADER)


def test_a_journal_that_somebody_takes_away_is_missed(tmp_path: Path) -> None:
    with Journal.create(tmp_path / "day.jsonl", HEADER) as journal:
        journal.event(Tick(1.0))
        journal.sync()
        (tmp_path / "day.jsonl").unlink()
        journal.event(Tick(2.0))
        with pytest.raises(WorldFailedError, match="the journal file was deleted while open"):
            journal.sync()
