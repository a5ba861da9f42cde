"""Files spoiled at random, and books of others whose chain is right but whose contents are odd."""

from __future__ import annotations

import json
import random
import shutil
import tempfile
from pathlib import Path
from typing import Any

from assistant.journal import hash_chain
from assistant.lab.faults import samples as good
from assistant.lab.faults.tally import Tally

ODD_BYTES = (
    b"\x00", b"\xff\xfe", b"\x1b[2J", b"\n", b"\r", b"\t", b",", b": ", b"- ", b"{", b"}", b"&a *a",
    b"nan", b"inf", b"-1", b"0", b"1e999", b"9" * 400, b"\xed\xa0\x80", "½".encode(), b"'", b'"',
    b"!!python/object:os.system", b"psi", b"bar abs", b" " * 3000, b"#",
)  # fmt: skip
ODD_VALUES: tuple[Any, ...] = (
    None, True, False, -1, 0, 1e300, 10**400, -1e9, "", "\x1b]0;owned\x07", "\ud800", "\u202e",
    "nan", "x" * 200_000, [], {}, [[]], {"is": "Say"}, {"is": "Ended", "reason": "done"},
    "../../etc/passwd", "<script>alert(1)</script>", "=1+1",
)  # fmt: skip


def spoiled_files(times: int, seed: int) -> Tally:
    """Each spoiled file is refused in words, or read; never a traceback, never a hang."""
    tally = Tally()
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        kinds = good.samples(folder)
        for number in range(times):
            sample = kinds[number % len(kinds)]
            content = spoiled(sample.content, rng)
            with tally.trial(f"file {number}, {sample.name}"):
                sample.read_in(folder, content)
            shutil.rmtree(folder / "b", ignore_errors=True)
    return tally


def spoiled(content: bytes, rng: random.Random) -> bytes:
    """One to four changes: bytes changed, cut out, doubled, put in; lines swapped; cut short."""
    for _ in range(rng.randint(1, 4)):
        at, to = sorted((rng.randrange(len(content) + 1), rng.randrange(len(content) + 1)))
        near = min(to, at + rng.randint(1, 60))
        match rng.randrange(6):
            case 0:
                content = content[:at] + bytes([rng.randrange(256)]) + content[at + 1 :]
            case 1:
                content = content[:at] + content[near:]
            case 2:
                content = content[:near] + content[at:near] + content[near:]
            case 3:
                content = content[:at] + rng.choice(ODD_BYTES) + content[near:]
            case 4:
                lines = content.split(b"\n")
                rng.shuffle(lines) if len(lines) < 30 else lines.reverse()
                content = b"\n".join(lines)
            case _:
                content = content[:to]
    return content


def foreign_books(times: int, seed: int) -> Tally:
    """Each book of others is refused in words or read, and writes nothing to the terminal."""
    tally = Tally()
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        raw = good.made_book(folder).read_bytes()
        for number in range(times):
            content = forged(raw, rng)
            sample = good.Sample("f.jsonl", content, (*good.OF_A_BOOK, ("journals", "{folder}")))
            with tally.trial(f"book {number}"):
                sample.read_in(folder, content)
    return tally


def forged(raw: bytes, rng: random.Random) -> bytes:
    """The book with one to five values made odd, and its chain worked out anew."""
    records = [json.loads(line) for line in raw.splitlines()]
    for _ in range(rng.randint(1, 5)):
        _make_odd(records[0] if rng.random() < 0.3 else rng.choice(records), rng)
    lines: list[bytes] = []
    before = hash_chain.FIRST_BEFORE
    for number, record in enumerate(records):
        body = {**record, "n": number, "before": before}
        body.pop("sum", None)
        text = json.dumps(body, separators=(",", ":")).encode("ascii")
        lines.append(hash_chain.with_sum(text))
        before = hash_chain.hash_of(lines[-1][:-1])
    return b"".join(lines)


def _make_odd(record: dict[str, Any], rng: random.Random) -> None:
    """One value, somewhere in the record."""
    place: Any = record
    keys = [key for key in record if key not in ("n", "before", "sum")]
    key: Any = rng.choice(keys)
    while isinstance(place[key], dict | list) and place[key] and rng.random() < 0.9:
        place = place[key]
        key = rng.choice(list(place) if isinstance(place, dict) else range(len(place)))
    place[key] = rng.choice(ODD_VALUES)
