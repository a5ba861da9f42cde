"""Any change to a journal is found, and the first bad record is named."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest
from journal_files import write

from assistant.journal import hash_chain


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "one.jsonl"


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


def test_a_time_that_cannot_be_is_told(path: Path) -> None:
    for at in ("1e999", "1" + "0" * 400):
        line = hash_chain.encode_line(0, 0.0, "event", {}, hash_chain.FIRST_BEFORE)
        body = line[: line.rfind(b',"sum"')].replace(b'"at":0.0', b'"at":' + at.encode())
        summed = hash_chain.with_sum(body + b"}")
        found = hash_chain.read_chain(summed)
        assert (found.state, found.where) == ("altered", 0)
